"""A heavier load in a vehicle that is wired already: what must come out, and what would do."""

from __future__ import annotations

from circuitplan.planfile import read_text
from circuitplan.planner import study
from circuitplan.planner.mending import cheapest
from circuitplan.planner.standing import standing

HEAD = """
circuitplan: 1
system: 12 V
wire: {gauge: metric, insulation: 105 °C PVC}
supply: {battery: {type: agm, capacity: 95 Ah, cranking: 850 A, place: shed}}
places: {shed: 30 °C}
"""
SIZED = """
panels: {main: {place: shed, fed_from: battery, length: 1 m%s}}
accessories:
  - {name: Heater, current: %d A, load: resistance, place: shed, length: 3 m, fed_from: main%s}
"""
OPEN = HEAD + SIZED % ("", 12, "")


def test_what_the_old_wire_and_fuse_bear_is_told_from_both_results() -> None:
    before, after = (study(read_text(HEAD + SIZED % ("", amps, ""))) for amps in (12, 100))
    found = standing(before, after, ["heater"])
    assert found is not None
    was, now = (next(c for c in r.circuits if c.accessories) for r in (before, after))
    parts = {o.part: o for o in found.outgrown}
    wire, fuse = parts["wire"], parts["fuse"]
    assert (wire.has, wire.needs) == (was.runs[0].size, now.runs[0].size)
    assert (wire.flows_a, wire.bears_a) == (now.runs[0].thermal_a, was.runs[0].ampacity_a)
    assert wire.flows_a > wire.bears_a
    assert fuse.has == f"{was.fuses[0].rating_a:g} A fuse"
    assert fuse.flows_a is not None


def test_what_stays_as_it_is_and_what_is_new() -> None:
    before = study(read_text(OPEN))
    same = standing(before, before, ["Heater"])
    assert same is not None
    assert (same.same, same.outgrown) == (True, ())
    assert standing(before, before, ["Fridge"]) is None


TWO = HEAD + """
switches: {S1: {rating: 30 A}, S2: {rating: 30 A, motor: 20 A}}
accessories:
  - {name: Heater, current: 12 A, inrush: 12 A, length: 1 m, switch: S2}
  - {name: Lamp, kind: work lamp, power: 10 W, length: 3 m, inrush: 2 A, switch: S1, fuse: 3 A}
"""


def test_what_moves_to_a_switch_is_held_against_the_fuse_and_lead_of_that_switch() -> None:
    """The 3 A fuse of the lamp alone, and its 1 mm², now carry the heater too."""
    before = study(read_text(TWO))
    after = study(read_text(TWO.replace("length: 1 m, switch: S2", "length: 1 m, switch: S1")))
    found = standing(before, after, ["Heater", "S1"])
    assert found is not None
    fuse = next(o for o in found.outgrown if o.part == "fuse")
    assert fuse.has == "3 A fuse"
    assert fuse.flows_a is not None
    lamp = next(c for c in before.circuits if c.label == "Lamp").runs[0].size
    assert any(o.part == "wire" and o.has == lamp for o in found.outgrown)


def test_wires_of_a_motor_that_is_made_to_reverse_are_new() -> None:
    pump = TWO.replace("Heater, current: 12 A", "Pump, current: 4 A")
    after = study(read_text(pump.replace("length: 1 m", "length: 1 m, motor: reversing")))
    found = standing(study(read_text(pump)), after, ["Pump"])
    assert found is not None
    assert not found.same
    assert any(o.part == "wire" and not o.has and "Pump" in o.needs for o in found.outgrown)


def test_a_kept_plan_is_mended_by_choosing_again_all_that_became_too_small() -> None:
    """Wire, fuse and feeder are fixed for 12 A: no single change makes 60 A possible."""
    text = HEAD + SIZED % (", size: 4 mm2, fuse: 30 A", 60, ", size: 2.5 mm2, fuse: 20 A")
    plan = read_text(text)
    result = study(plan)
    assert result.answer == "not ok"
    search = cheapest(text, plan, result)
    assert search.fix is not None
    assert search.fix.whole
    assert {"Heater size chosen", "main size chosen"} <= set(search.fix.changes)
    assert any(words.startswith("Heater ") and "mm²" in words for words in search.fix.gives)
