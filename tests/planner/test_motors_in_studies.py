"""The searching commands on a plan with motors worked in two ways: they hold, or say why not."""

from __future__ import annotations

from pathlib import Path

import pytest

from circuitplan.design.assigning.gather import Wishes
from circuitplan.errors import InputError
from circuitplan.model.plan import Plan
from circuitplan.planfile import changes, edits, read_plan, read_text
from circuitplan.planner import study
from circuitplan.planner.assigning import assign
from circuitplan.planner.copper import least

EXAMPLE = Path(__file__).parents[2] / "examples" / "market-van.yaml"
MOTORS = ("Blind", "Counter fan", "Roof fan", "Sales hatch")


def plan_of(*changed: str, more: str = "") -> Plan:
    """The example with changes in words, and further accessories."""
    text = EXAMPLE.read_text(encoding="utf-8").replace("\nscenarios:", f"\n{more}\nscenarios:")
    for words in changed:
        text = edits.apply(text, changes.change(read_text(text), words))
    return read_text(text)


def test_the_example_holds() -> None:
    result = study(read_plan(EXAMPLE))
    assert result.answer == "ok"
    found = {a.name: (a.motor, len(c.relays)) for c in result.circuits for a in c.accessories}
    assert {found[name] for name in MOTORS} == {
        ("reversing", 0), ("two-speed", 0), ("two-speed", 2), ("reversing", 2),
    }


def test_assign_keeps_motors_on_their_switches_and_puts_nothing_beside_them() -> None:
    lamps = "  - {name: Lamps, kind: led lamp, power: 9 W, place: roof, return: wire}"
    plan = plan_of(more=lamps)
    for wishes in (Wishes(), Wishes(free=True)):
        (best,) = assign(plan, wishes).proposals
        chosen = {a.accessory: (a.switch, a.relay, a.decided) for a in best.assignments}
        assert chosen["Lamps"][0] == "S5"  # the only one that no motor takes
        assert chosen["Sales hatch"] == ("S1", True, False)
        assert chosen["Roof fan"] == ("S2", True, False)
        assert chosen["Blind"] == ("S3", False, False)
        assert chosen["Counter fan"] == ("S4", False, False)
        assert [said.split(" stays on ")[0] for said in best.kept] == list(MOTORS)


def test_assign_says_so_where_motors_take_every_switch() -> None:
    text = EXAMPLE.read_text(encoding="utf-8")
    gone = text[text.index("  S5:") : text.index("\naccessories:")]
    text = text.replace(gone, "").replace("switch: S5, ", "")
    lamps = "  - {name: Lamps, kind: led lamp, power: 9 W, place: roof, return: wire}"
    answer = assign(read_text(text.replace("\nscenarios:", f"\n{lamps}\nscenarios:")), Wishes())
    assert answer.proposals == ()
    assert any("Lamps" in c.demand for conflict in answer.conflicts for c in conflict)


def test_copper_keeps_every_limit_and_one_size_a_motor() -> None:
    text = EXAMPLE.read_text(encoding="utf-8")
    answer = least(read_text(text), text, "van.yaml", time_limit_s=20.0)
    assert answer.after_kg <= answer.before_kg + 1e-9
    assert answer.bound_kg is not None
    assert answer.bound_kg <= answer.after_kg + 1e-9
    assert answer.after.answer == "ok"
    for circuit in answer.after.circuits:
        if circuit.accessories and circuit.accessories[0].motor:
            assert len({r.size for r in circuit.runs}) == 1


def test_try_lets_a_switch_work_two_relays_in_place_of_carrying() -> None:
    before, after = study(read_plan(EXAMPLE)), study(plan_of("S3 type relay", "S3 rating 2 A"))
    blind = [next(c for c in r.circuits if c.label == "Blind") for r in (before, after)]
    assert [len(c.relays) for c in blind] == [0, 2]
    assert after.answer == "ok"


def test_try_turns_a_reversing_motor_into_one_of_two_speeds() -> None:
    result = study(plan_of("Sales hatch motor two-speed", "Sales hatch low_speed 3 A"))
    hatch = next(c for c in result.circuits if c.label == "Sales hatch")
    assert {r.at for r in hatch.runs} == {"", "high", "low"}
    assert all(r.break_a is None for r in hatch.relays)


@pytest.mark.parametrize("words", ["Fridge switch S1", "Blind switch S4", "Blind return chassis"])
def test_try_refuses_what_a_motor_cannot_share(words: str) -> None:
    with pytest.raises(InputError):
        plan_of(words)
