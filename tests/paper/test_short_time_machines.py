"""What is tried without load, what has no switch, what sits on which stud, every factor shown."""

from __future__ import annotations

import dataclasses
from typing import Any

import pytest

from circuitplan.design.bench.chain import Chain, chains, sized
from circuitplan.design.bench.pieces import pieces_of
from circuitplan.design.bench.readings import judge, judge_one, measured
from circuitplan.library import studs
from circuitplan.model.plan import Plan
from circuitplan.model.readings import Reading
from circuitplan.planfile import read_text
from circuitplan.planner import study
from circuitplan.report.test_sheet.view import supplies, truth, view

PLAN = """\
circuitplan: 1
system: 12 V
supply: {battery: {type: agm, capacity: 95 Ah, cranking: 850 A}, alternator: 140 A}
panels: {main: {place: cab, fed_from: battery, length: 1 m, ways: 8}}
switches: {S1: {type: direct, rating: 20 A, place: cab}}
accessories:
  - {name: Winch, kind: winch, current: 380 A, peak: 440 A, duty: 60 s in 10 min, length: 2 m,
     fed_from: battery, fuse: none, isolator: 500 A, size: 70 mm2}
  - {name: Capstan, current: 200 A, duty: 60 s in 10 min, length: 2 m, fed_from: battery,
     fuse: none, isolator: 300 A}
  - {name: Work lamps, kind: work lamp, power: 40 W, quantity: 2, length: 6 m, fed_from: main,
     switch: S1}
  - {name: Locker, kind: locker, length: 4 m, fed_from: main, switch: S1}
"""


@pytest.fixture(scope="module")
def plan() -> Plan:
    return read_text(PLAN, "bench.yaml")


@pytest.fixture(scope="module")
def found(plan: Plan) -> dict[str, Chain]:
    return {c.accessory: c for c in chains(sized(plan))}


def _row(plan: Plan, name: str) -> list[Any]:
    tables = [t for block in view(plan, study(plan)).blocks for t in block.tables]
    rows = next(t for t in tables if t.caption.startswith("What to read")).rows
    return [row for row in rows if row[0].text.endswith(name)]


def test_a_winch_is_asked_for_its_draw_without_load(plan: Plan, found: dict[str, Chain]) -> None:
    """60 A without load: ``tables/kinds.csv``, winch current tables of the trade (read)."""
    assert [state for _, state in supplies(found["Winch"])] == ["engine running, no load"]
    (row,) = _row(plan, "Winch")
    assert row[2].text == "note the amps"
    assert "about 60 A usual" in row[2].note
    assert "418" not in "".join(c.text + c.note for c in row)
    (row,) = _row(plan, "Capstan")
    assert "no band" in row[2].note
    assert len(_row(plan, "Work lamps")) == 2


@pytest.mark.parametrize("amps", [12.0, 45.0, 60.0, 90.0, 380.0])
def test_no_draw_of_a_winch_is_a_false_verdict(found: dict[str, Chain], amps: float) -> None:
    drop = amps * 0.0008
    reading = Reading("Winch", 14.2, amps, 14.2 - drop, drop / 2, drop / 2, note="no load")
    judged = judge_one(found["Winch"], reading)
    assert judged.passed is True, judged.deviations
    assert (judged.low_a, judged.high_a) == (None, None)
    answer = judge(list(found.values()), [reading])
    kept = [m for m in measured(list(found.values()), answer) if m.accessory == "Winch"]
    assert [m.kept for m in kept] == [False]


def test_a_bad_joint_or_a_dead_winch_is_still_found(found: dict[str, Chain]) -> None:
    bad = judge_one(found["Winch"], Reading("Winch", 14.2, 60.0, 12.9, 0.05, 1.25))
    assert [d.cause for d in bad.deviations] == ["high-resistance return"]
    dead = judge_one(found["Winch"], Reading("Winch", 14.2, 0.0, 14.2, 0.0, 0.0))
    assert [d.cause for d in dead.deviations] == ["load open or not switched on"]


def test_what_has_no_switch_is_worked_by_its_own_control(plan: Plan) -> None:
    rows = list(truth(study(plan)))
    assert ("no switch: by its own control", "Winch works", "always") in rows
    assert not any("Winch on" in what for row in rows for what in row)


def test_half_the_current_and_a_bad_return_are_both_named(found: dict[str, Chain]) -> None:
    """Two lamps of 40 W: 6.4 A with 1.1 V lost in the return, then 3 A with one lamp dark."""
    answer = judge(list(found.values()), [
        Reading("Work lamps", 12.6, 6.4, 11.2, 0.3, 1.1),
        Reading("Work lamps", 14.2, 3.0, 13.9, 0.15, 0.05),
    ])
    cause = next(c.cause for c in answer.circuits if c.accessory == "Work lamps")
    assert cause is not None
    assert "high-resistance return" in cause
    assert "some of the pieces dead" in cause
    assert cause in answer.because
    both = judge_one(found["Work lamps"], Reading("Work lamps", 14.2, 3.0, 12.8, 0.15, 1.25))
    assert {d.cause for d in both.deviations} >= {
        "high-resistance return", "some of the pieces dead",
    }


def test_a_thick_lug_sits_on_a_stud_that_takes_it(plan: Plan) -> None:
    """70 mm² on M8 or M10, never M6; 35 mm² is the thickest on M6 (common practice)."""
    for area, current, stud in ((2.5, 10, "M5"), (25, 80, "M6"), (35, 150, "M8"), (70, 100, "M8"),
                                (70, 300, "M10"), (120, 100, "M10"), (240, 900, "M12")):
        assert studs.choose(area, current).name == stud
    winch = [p for p in pieces_of(study(plan)) if p.owner == "Winch"]
    assert winch
    for piece in winch:
        for end in piece.ends:
            assert end.terminal in ("ring M8", "ring M10")


@pytest.mark.parametrize("name", ["rescue-pickup", "service-truck", "workboat", "outputs"])
def test_every_ring_of_every_plan_exists(work_of: Any, name: str) -> None:
    for piece in pieces_of(work_of(name)[1]):
        for end in piece.ends:
            if end.terminal.startswith("ring "):
                stud = studs.named(end.terminal.removeprefix("ring "))
                assert stud.from_mm2 <= piece.run.area_mm2 <= stud.to_mm2


def test_the_working_shows_every_factor(plan: Plan) -> None:
    """10 A at 12 V, 14.4 V, coil at -20 °C: 10 x 14.4/12 x 1.19 = 14.28 A."""
    circuit = next(
        c for c in study(plan).circuits if any(a.name == "Locker" for a in c.accessories)
    )
    step = next(w for w in circuit.working if w.what == "Current of Locker")
    assert "(U/Ur)^m x 1.19" in step.formula
    assert "a coil at -20 °C" in step.formula
    assert f"{10 * 14.4 / 12 * 1.19:.2f} A" in step.result


def test_a_chain_without_isolator_and_of_no_such_kind_keeps_its_band(
    found: dict[str, Chain]
) -> None:
    lamps = found["Work lamps"]
    assert not lamps.no_load
    assert dataclasses.replace(lamps).current_band(12.0)[0] > 0.0
