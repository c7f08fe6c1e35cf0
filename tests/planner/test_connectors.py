"""Connectors in trials: the cheapest fix, and the least copper that its contacts take."""

from __future__ import annotations

from pathlib import Path

from circuitplan.planfile import read_text
from circuitplan.planner import study
from circuitplan.planner.copper import least
from circuitplan.planner.mending import cheapest

TRUCK = Path(__file__).parents[2] / "examples" / "service-truck.yaml"
HEAD = """circuitplan: 1
system: 12 V
supply: {battery: {type: agm, capacity: 95 Ah, cranking: 850 A, place: bay}}
places: {bay: 40 °C, bed: 40 °C}
legs: [[bay, bed, 6 m]]
panels: {main: {place: bay, fed_from: battery}}
"""
CAMERA = HEAD + """accessories:
  - {name: Camera, current: 3 A, place: bed, fed_from: main, return: wire, fuse: 15 A,
     connector: {ways: 2, contact: 2.8 mm, rating: 6 A, rated_at: 60 °C}}
"""


def test_the_cheapest_fix_of_a_fuse_over_its_connector_is_a_smaller_fuse() -> None:
    plan = read_text(CAMERA)
    result = study(plan)
    assert {f.rule for f in result.findings if f.fails} == {"S09"}
    fix = cheapest(CAMERA, plan, result).fix
    assert fix is not None
    assert fix.whole
    assert fix.changes == ("Camera fuse 5 A",)


def test_copper_chooses_no_size_that_a_connector_refuses() -> None:
    """4 mm2 to the work lamps saves in their feeder, on 6.3 mm blades; 2.8 mm take 2.5 mm2."""
    text = TRUCK.read_text(encoding="utf-8")
    held = text.replace("{ways: 2, contact: 6.3 mm", "{ways: 2, contact: 2.8 mm")
    assert held != text
    sizes = []
    for one in (text, held):
        answer = least(read_text(one), one, "plan.yaml")
        assert answer.answer == "ok"
        lamps = next(c for c in answer.after.circuits if c.label == "Work lamps")
        sizes.append({r.size for r in lamps.runs})
    assert sizes == [{"4 mm²"}, {"2.5 mm²"}]
