"""The key ``stock``: the wire sizes on the shelf, the only ones that are chosen."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.library import conductors
from circuitplan.planfile.tree import Node
from circuitplan.planfile.values import Context
from circuitplan.units import UnitError, parse_wire

ALLOWED = "wire sizes: [1.5 mm2, 2.5 mm2, 6 mm2]"


def sizes(root: Node, context: Context) -> tuple[tuple[str, str], ...]:
    """(gauge, size) of each; empty: every size of the tables may be chosen."""
    node = root.get("stock")
    if node is None or node.is_empty:
        return ()
    found: list[tuple[str, str]] = []
    for spot, words in _words(node):
        try:
            wire = parse_wire(words, context.gauge)
        except UnitError as wrong:
            context.troubles.add(spot.spot, f"stock: {wrong.found}", wrong.allowed, wrong.remedy)
            continue
        if wire.size is None or conductors.get(wire.gauge, wire.size) is None:
            context.troubles.add(
                spot.spot, f"stock: '{words[:60]}', which is no size of the tables", ALLOWED,
                "see circuitplan tables conductors",
            )
            continue
        found.append((wire.gauge, wire.size))
    if found and all(gauge != context.gauge for gauge, _ in found):
        context.troubles.add(
            node.spot, f"stock holds no size of gauge {context.gauge}, which the plan's wires are",
            ALLOWED, "add sizes of that gauge, or change wire: gauge",
        )
    return tuple(dict.fromkeys(found))


def _words(node: Node) -> Iterator[tuple[Node, str]]:
    """Each size with where it stands: entries of a list, or one text with commas."""
    if node.items is not None:
        yield from ((item, item.text or "") for item in node.items)
        return
    for part in (node.text or "").split(", "):
        if part.strip():
            yield node, part.strip()
