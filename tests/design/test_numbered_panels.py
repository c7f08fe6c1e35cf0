"""What shares a number and names no panel hangs on one panel, so that its circuit stays one."""

from __future__ import annotations

from itertools import permutations

import pytest
from small_plans import circuit, studied

from circuitplan.model.result import Result

VAN = """circuitplan: 1
system: 12 V
supply: {battery: {type: agm, capacity: 95 Ah, cranking: 850 A, place: cab}}
places: {cab: 30 °C, bed: 30 °C, tail: 30 °C}
legs: [[cab, bed, 3 m], [bed, tail, 2 m]]
panels:
  front: {place: cab, fed_from: battery, length: 1 m}
  rear: {place: tail, fed_from: battery, length: 6 m}
switches: {S1: {type: relay, rating: 2 A, place: cab}}
circuits: {4: {split: bed, size: 6 mm2, fuse: 20 A}}
accessories:
"""
A = "  - {name: A, number: 4, current: 3 A, place: cab%s}\n"
B = "  - {name: B, number: 4, current: 3 A, place: tail%s}\n"
C = "  - {name: C, number: 4, current: 3 A, place: bed%s}\n"


def shared(result: Result, panel: str) -> None:
    """One circuit of number 4 from this panel, with the wire and fuse that the plan gives."""
    found = circuit(result, "A")
    assert (found.number, found.panel) == (4, panel)
    assert {a.name for a in found.accessories} >= {"A", "B"}
    assert [(f.rating_a, f.given) for f in found.fuses][:1] == [(20.0, True)]
    trunk = next(r for r in found.runs if r.to == "splice of circuit 4")
    assert (trunk.from_, trunk.size) == (panel, "6 mm²")


@pytest.mark.parametrize("works", ["", ", switch: S1"])
def test_one_number_takes_one_panel_whatever_the_order(works: str) -> None:
    """front: 0 + 5 + 3 = 8 m; rear: 5 + 0 + 2 = 7 m. Each alone would take the one beside it."""
    for order in permutations((A, B, C)):
        shared(studied(VAN, "".join(order) % (works, works, works)), "rear")


def test_the_panel_that_one_of_them_names_serves_them_all() -> None:
    named = A % ", fed_from: front"
    for order in ((named, B % "", C % ""), (C % "", B % "", named)):
        shared(studied(VAN, "".join(order)), "front")


def test_where_nothing_tells_them_apart_the_name_does() -> None:
    """A and B alone: 5 m from either panel."""
    shared(studied(VAN, A % "", B % ""), "front")


def test_without_a_number_each_takes_the_nearest() -> None:
    plain = (A % "" + B % "").replace("number: 4, ", "")
    result = studied("\n".join(x for x in VAN.splitlines() if "circuits" not in x), plain)
    assert (circuit(result, "A").panel, circuit(result, "B").panel) == ("front", "rear")
