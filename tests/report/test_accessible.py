"""What PDF/UA-1 (ISO 14289-1) and PDF/A-3 (ISO 19005-3) ask of a file, read by another program.

Clauses are from memory or as restated in the notes on print; no validator is at hand that checks
either standard whole, so these are the parts that a program can judge.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from circuitplan.cli import main

pypdf = pytest.importorskip("pypdf")
pytestmark = pytest.mark.slow
EXAMPLES = Path(__file__).parents[2] / "examples"
PAPERS = ("", "card", "analysis", "labels", "cuts", "parts", "drawings", "panels", "test", "faults")
INSIDE = {
    "/L": {"/LI", "/Caption"},
    "/LI": {"/Lbl", "/LBody"},
    "/Table": {"/Caption", "/THead", "/TBody", "/TFoot", "/TR"},
    "/THead": {"/TR"}, "/TBody": {"/TR"}, "/TR": {"/TH", "/TD"},
}
"""Element -> what may stand right in it (ISO 32000-1, 14.8.4.3; from memory)."""
SHOWS = {b"Tj", b"TJ", b"'", b'"', b"S", b"s", b"f", b"F", b"f*", b"B", b"B*", b"b", b"b*", b"Do",
         b"sh", b"BI"}


@pytest.fixture(scope="module", params=PAPERS, ids=lambda word: word or "summary")
def pdf(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Any:
    path = tmp_path_factory.mktemp("pdf") / "paper.pdf"
    only = ["--only", request.param] if request.param else []
    main(["print", str(EXAMPLES / "workboat.yaml"), *only, "-o", str(path)])
    return pypdf.PdfReader(path)


def kids(element: Any) -> list[Any]:
    found = element.get("/K", [])
    found = found.get_object() if hasattr(found, "get_object") else found
    return [k.get_object() for k in (found if isinstance(found, list) else [found])]


def elements(element: Any) -> Iterator[Any]:
    """The element and all under it, in reading order."""
    yield element
    for kid in kids(element):
        if isinstance(kid, dict) and "/S" in kid:
            yield from elements(kid)


def tree(pdf: Any) -> list[Any]:
    return [e for top in kids(pdf.trailer["/Root"]["/StructTreeRoot"]) for e in elements(top)]


def owners(pdf: Any) -> dict[int, Any]:
    nums = pdf.trailer["/Root"]["/StructTreeRoot"]["/ParentTree"]["/Nums"]
    return {int(nums[i]): nums[i + 1].get_object() for i in range(0, len(nums), 2)}


def key(element: Any) -> Any:
    """Two readings of one object are the same object."""
    return element.indirect_reference.idnum


def test_named_titled_and_in_a_language(pdf: Any) -> None:
    root = pdf.trailer["/Root"]
    assert root["/Lang"] == "en"
    assert root["/MarkInfo"]["/Marked"]
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert pdf.metadata.title
    xmp = root["/Metadata"].get_data().decode()
    assert re.search(r"pdfuaid:part>1<", xmp)
    assert re.search(r'pdfaid:part(>|=")3', xmp)
    assert re.search(r'pdfaid:conformance(>|=")A', xmp)
    assert pdf.metadata.title in re.sub(r"&amp;", "&", xmp)
    assert not pdf.is_encrypted
    assert pdf.trailer["/ID"]


def test_output_intent(pdf: Any) -> None:
    """Colours are told by a profile inside the file (ISO 19005-3, 6.2.3)."""
    (intent,) = pdf.trailer["/Root"]["/OutputIntents"]
    assert intent["/S"] == "/GTS_PDFA1"
    profile = intent["/DestOutputProfile"]
    assert profile["/N"] == 3
    assert profile.get_data()[36:40] == b"acsp"  # the mark of every ICC profile, ICC.1 7.2


def test_files_inside_say_what_they_are(pdf: Any) -> None:
    root = pdf.trailer["/Root"]
    inside = {f["/UF"]: f for f in (r.get_object() for r in root["/AF"])}
    assert {f["/AFRelationship"] for f in inside.values()} == {"/Source", "/Data"}
    names = root["/Names"]["/EmbeddedFiles"]["/Names"]
    assert len(names) == 2 * len(inside)
    source = inside["workboat.yaml"]
    assert source["/AFRelationship"] == "/Source"
    assert source["/Desc"]
    file = source["/EF"]["/F"]
    assert file["/Subtype"]
    assert file.get_data() == (EXAMPLES / "workboat.yaml").read_bytes()


def _fonts(resources: Any) -> Iterator[Any]:
    yield from (f.get_object() for f in resources.get("/Font", {}).values())
    for form in resources.get("/XObject", {}).values():
        if "/Resources" in form.get_object():
            yield from _fonts(form.get_object()["/Resources"])


def test_every_font_is_inside_and_maps_to_letters(pdf: Any) -> None:
    found = {key(f): f for page in pdf.pages for f in _fonts(page["/Resources"])}
    assert found
    for font in found.values():
        assert "/ToUnicode" in font
        below = [d.get_object() for d in font.get("/DescendantFonts", [font])]
        for d in below:
            assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(d["/FontDescriptor"])


def test_every_figure_is_told_in_words(pdf: Any) -> None:
    for figure in (e for e in tree(pdf) if e["/S"] == "/Figure"):
        assert len(figure.get("/Alt", "").split()) >= 2, figure


def test_lists_and_tables_nest_as_they_must(pdf: Any) -> None:
    found = tree(pdf)
    assert found[0]["/S"] == "/Document"
    for e in found:
        allowed = INSIDE.get(e["/S"])
        if allowed is not None:
            inner = [k["/S"] for k in kids(e) if isinstance(k, dict) and "/S" in k]
            assert set(inner) <= allowed, (e["/S"], inner)
        if e["/S"] == "/Table":
            assert "/Caption" not in inner[1:]
            assert "/TBody" in inner or "/TR" in inner, inner
        if e["/S"] == "/TH":
            assert e["/A"]["/Scope"] in ("/Column", "/Row")


def test_headings_skip_no_level(pdf: Any) -> None:
    levels = [int(e["/S"][2:]) for e in tree(pdf) if re.fullmatch(r"/H[1-6]", e["/S"])]
    assert all(b <= a + 1 for a, b in pairwise([0, *levels])), levels


def test_every_link_is_one(pdf: Any) -> None:
    owner = owners(pdf)
    links = [a.get_object() for p in pdf.pages for a in p.get("/Annots", [])]
    for link in links:
        element = owner[int(link["/StructParent"])]
        assert element["/S"] == "/Link"
        assert key(link) in {key(k["/Obj"]) for k in kids(element)
                             if isinstance(k, dict) and "/Obj" in k}


def test_everything_shown_is_text_of_the_document_or_an_artifact(pdf: Any) -> None:
    """ISO 14289-1, 7.1: no mark on a page that is neither; running lines are artifacts (7.8)."""
    reached = {key(e) for e in tree(pdf)}
    owner = owners(pdf)
    running = 0
    for page in pdf.pages:
        mine = owner[int(page["/StructParents"])]
        stack: list[str] = []
        content = pypdf.generic.ContentStream(page.get_contents(), pdf)
        for operands, operator in content.operations:
            if operator in (b"BMC", b"BDC"):
                mark = operands[0]
                if len(operands) > 1 and "/MCID" in operands[1]:
                    mark = "/Tagged"
                    assert key(mine[int(operands[1]["/MCID"])].get_object()) in reached
                running += len(operands) > 1 and operands[1].get("/Type") == "/Pagination"
                stack.append(mark)
            elif operator == b"EMC":
                stack.pop()
            elif operator in SHOWS:
                assert stack, (operator, operands)
                assert {"/Tagged", "/Artifact"} & set(stack)
    first = pdf.pages[0].extract_text()
    lined = re.search(r"sheet 1 of", first) is not None  # the foot of the card's face is its text
    assert (running > 0) == lined
