"""What the tags of a PDF lack for PDF/UA-1, mended before the file is written.

The layout program tags the document, but two independent checkers found: running lines tagged as if
they were text (ISO 14289-1, 7.8), header cells without scope (7.5), tables inside tables where a
table wraps, boxes between a list and its items (7.6), and links announced several times (7.18.5).
Clauses from memory and as the checkers name them.
"""

from __future__ import annotations

from typing import Any

PASSED_THROUGH = {
    "/L": ("/Div", "/NonStruct", "/L"), "/Table": ("/Table",), "/TR": ("/NonStruct",),
}
"""Element -> kinds of its children that give way to their own children."""


def mend(pdf: Any) -> None:
    """Mend the structure tree of a finished pydyf document in place."""
    if "StructTreeRoot" not in pdf.catalog:
        return
    elements: dict[bytes, Any] = {o.reference: o for o in pdf.objects if hasattr(o, "get")}
    root = elements[pdf.catalog["StructTreeRoot"]]
    parents = elements[root["ParentTree"]]["Nums"]
    tree = _Tree(elements)
    for top in root["K"]:
        tree.visit(top, None, in_head=False)
    for link, annotation in tree.links:
        number = elements[annotation].get("StructParent")
        if number is not None:
            parents[parents.index(number) + 1] = link
    _running_lines(pdf, elements, parents, tree.reached)


class _Tree:
    """Walks down once; ``reached`` are the elements that are part of the document."""

    def __init__(self, elements: dict[bytes, Any]) -> None:
        self.elements = elements
        self.reached: set[bytes] = set()
        self.links: list[tuple[bytes, bytes]] = []

    def visit(self, reference: bytes, link: bytes | None, *, in_head: bool) -> None:
        element = self.elements[reference]
        self.reached.add(reference)
        kind = element["S"]
        if kind in PASSED_THROUGH:
            kids = self._kids(reference, element, PASSED_THROUGH[kind])
            kids.sort(key=lambda k: not self._is(k, "/Caption"))  # first, the rest as it was
            element["K"][:] = kids
        elif kind == "/TH":
            element["A"]["Scope"] = "/Column" if in_head else "/Row"
        elif kind == "/Link" and link is not None:
            element["S"] = "/Span"
        elif kind == "/Link":
            link = reference
        for kid in list(element["K"]):
            if not isinstance(kid, bytes):
                continue  # marked content of the page
            if self.elements[kid].get("Type") == "/OBJR":
                if link is not None:
                    element["K"].remove(kid)
                    self.elements[link]["K"].append(kid)
                    self.links.append((link, self.elements[kid]["Obj"]))
                continue
            self.visit(kid, link, in_head=in_head or kind == "/THead")

    def _is(self, kid: Any, kind: str) -> bool:
        return isinstance(kid, bytes) and self.elements[kid].get("S") == kind

    def _kids(self, reference: bytes, element: Any, through: tuple[str, ...]) -> list[Any]:
        found: list[Any] = []
        for kid in element["K"]:
            inner = self.elements.get(kid) if isinstance(kid, bytes) else None
            if inner is not None and inner.get("S") in through:
                found += self._kids(reference, inner, through)
                continue
            if inner is not None and inner.get("Type") == "/StructElem":
                inner["P"] = reference
            found.append(kid)
        return found


def _running_lines(
    pdf: Any, elements: dict[bytes, Any], parents: list[Any], reached: set[bytes]
) -> None:
    """Heads and feet of pages stand in no element of the document: artifacts of pagination."""
    for page, reference in enumerate(pdf.page_references):
        owners = parents[parents.index(page) + 1]
        loose = {i for i, owner in enumerate(owners) if owner not in reached}
        for i in loose:
            owners[i] = "null"
        contents = elements[reference]["Contents"]
        stream = next(o for o in pdf.objects if o.reference == contents).stream
        for at, token in enumerate(stream):
            if isinstance(token, dict) and token.get("MCID") in loose:
                stream[at - 1] = "/Artifact"
                stream[at] = type(token)({"Type": "/Pagination"})
