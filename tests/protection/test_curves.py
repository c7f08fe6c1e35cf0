"""Curves that a maker gives as a CSV beside the plan: read, checked, used as bounds; breakers."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuitplan.errors import InputError
from circuitplan.model.plan import FuseCurve, FuseSpec, Plan
from circuitplan.model.result import Result
from circuitplan.physics import breakers, fuses
from circuitplan.planfile import read_plan
from circuitplan.planner import study

SLOW = "multiple,melts_s,clears_s\n1.35,100,1000\n2,1.5,20\n3.5,0.2,2\n6,0.05,0.3\n"
FAST = "multiple,melts_s,clears_s\n1.35,1,200\n2,0.2,1\n3.5,0.05,0.2\n6,0.02,0.05\n"
BREAKER = "multiple,melts_s,clears_s\n1.3,100,3600\n2,10,40\n4,1.5,4\n8,0.02,0.5\n"

PLAN = """circuitplan: 1
system: 12 V
supply: {battery: {type: agm, capacity: 95 Ah, cranking: 850 A, place: cab}}
panels: {main: {place: cab, fed_from: battery, fuse: 100 A class T}}
accessories:
  - {name: Pump, current: 10 A, load: torque motor, length: 3 m, cut_out: yes, PROTECTION}
"""


def planned(folder: Path, protection: str, **curves: str) -> Plan:
    for name, text in curves.items():
        (folder / f"{name}.csv").write_text(text, encoding="utf-8")
    file = folder / "plan.yaml"
    file.write_text(PLAN.replace("PROTECTION", protection), encoding="utf-8")
    return read_plan(file)


def pump(result: Result) -> tuple[float | None, set[str]]:
    """(clearing time of its far-end fault, rules that fail for it)."""
    (circuit,) = result.circuits
    assert circuit.fault is not None
    return circuit.fault.clears_s, {
        f.rule for f in result.findings if f.fails and f.subject == "Pump"
    }


def test_a_curve_is_read_as_its_points(tmp_path: Path) -> None:
    plan = planned(tmp_path, "fuse: {rating: 15 A, type: C, curve: fast.csv}", fast=FAST)
    spec = plan.accessories[0].fuse
    assert spec is not None
    assert spec.curve is not None
    assert (spec.rating_a, spec.type) == (15.0, "C")
    assert spec.curve.points[0] == (1.35, 1.0, 200.0)
    assert len(spec.curve.points) == 4


def test_amperes_become_multiples_of_the_rating(tmp_path: Path) -> None:
    text = "current_a,melts_s,clears_s\n20.25,1,200\n30,0.2,1\n"
    plan = planned(tmp_path, "fuse: {rating: 15 A, curve: amps.csv}", amps=text)
    spec = plan.accessories[0].fuse
    assert spec is not None
    assert spec.curve is not None
    assert spec.curve.points == ((1.35, 1.0, 200.0), (2.0, 0.2, 1.0))


def test_the_curve_sets_the_times_and_not_the_standard(tmp_path: Path) -> None:
    """Far-end fault of x times the rating, bounds by hand: T_g (g/x)² of the last point below."""
    for name, text in (("fast", FAST), ("slow", SLOW)):
        result = study(planned(tmp_path, f"fuse: {{rating: 15 A, curve: {name}.csv}}",
                               **{name: text}))  # fmt: skip
        (circuit,) = result.circuits
        assert circuit.fault is not None
        multiple = circuit.fault.current_a / 15.0
        last = max(float(row.split(",")[0]) for row in text.split()[1:]
                   if float(row.split(",")[0]) <= multiple)  # fmt: skip
        row = next(r for r in text.split()[1:] if float(r.split(",")[0]) == last)
        by_hand = max(float(row.split(",")[2]) * (last / multiple) ** 2, 0.010)
        assert circuit.fault.clears_s == pytest.approx(by_hand)
        assert circuit.coordination[0].curve == "its maker's curve"
        assert any(a.what == "time-current curve" and f"{name}.csv" in a.value
                   for a in result.assumptions)  # fmt: skip


def test_without_a_curve_a_breaker_cannot_be_said(tmp_path: Path) -> None:
    result = study(planned(tmp_path, "breaker: {rating: 15 A}"))
    clears_s, failed = pump(result)
    assert clears_s is None
    assert "F03" in failed
    assert result.answer == "cannot say"
    assert any("curve of the breaker" in a.what and "F03" in a.decides for a in result.assumptions)


def test_with_its_curve_a_breaker_is_judged(tmp_path: Path) -> None:
    result = study(planned(tmp_path, "breaker: {rating: 15 A, curve: b.csv}", b=BREAKER))
    clears_s, failed = pump(result)
    assert clears_s is not None
    assert clears_s <= 5.0
    assert "F03" not in failed
    assert result.answer == "ok"


def test_a_breaker_first_after_the_source_needs_its_breaking_capacity(tmp_path: Path) -> None:
    at_battery = "fed_from: battery, breaker: {rating: 15 A, curve: b.csv%s}"
    unknown = study(planned(tmp_path, at_battery % "", b=BREAKER))
    assert "F04" in pump(unknown)[1]
    assert unknown.answer == "cannot say"
    small = study(planned(tmp_path, at_battery % ", breaking: 3000 A", b=BREAKER))
    assert "F04" in pump(small)[1]
    assert small.answer == "not ok"
    large = study(planned(tmp_path, at_battery % ", breaking: 10000 A", b=BREAKER))
    assert "F04" not in pump(large)[1]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("multiple,melts_s\n2,1\n", "clears_s"),
        ("multiple,melts_s,clears_s\n2,1,5\n", "two or more"),
        ("multiple,melts_s,clears_s\n2,1,5\n2,0.5,3\n", "out of order"),
        ("multiple,melts_s,clears_s\n1.5,1,5\n2,1.5,3\n", "melts_s rises"),
        ("multiple,melts_s,clears_s\n1.5,1,5\n2,0.5,6\n", "clears_s rises"),
        ("multiple,melts_s,clears_s\n1.5,1,5\n2,0.5,\n", "clears_s rises, or ends"),
        ("multiple,melts_s,clears_s\n1.5,9,5\n2,0.5,3\n", "before melts_s"),
        ("multiple,melts_s,clears_s\n3,1,5\n4,0.5,3\n", "begins at 3"),
        ("multiple,melts_s,clears_s\n1.5,1,5\n2,1,5\n", "I²t rises"),
        ("multiple,melts_s,clears_s\n1.5,-1,5\n2,1,5\n", "above zero"),
        ("multiple,melts_s,clears_s\n1.5,nan,5\n2,1,5\n", "above zero"),
        ("multiple,melts_s,clears_s\n1.5,soon,5\n2,1,5\n", "not numbers"),
    ],
)
def test_a_spoiled_curve_is_told(text: str, told: str, tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        planned(tmp_path, "fuse: {rating: 15 A, curve: bad.csv}", bad=text)
    (problem,) = caught.value.problems
    said = f"{problem.found} {problem.allowed}"
    assert told in said
    assert "bad.csv" in problem.where
    assert problem.remedy


@pytest.mark.parametrize("name", ["../bad.csv", "/etc/passwd", "folder/bad.csv", "bad.txt"])
def test_a_curve_lies_beside_the_plan(name: str, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="own folder"):
        planned(tmp_path, f"fuse: {{rating: 15 A, curve: {name}}}", bad=FAST)


def test_a_curve_that_is_missing_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no curve file"):
        planned(tmp_path, "fuse: {rating: 15 A, curve: none.csv}")


@pytest.mark.parametrize(
    "keys", ["type: C", "rating: 15 A, colour: red", "rating: 15 A, curve: []"]
)
def test_spoiled_keys_of_a_fuse_are_told(keys: str, tmp_path: Path) -> None:
    with pytest.raises(InputError):
        planned(tmp_path, f"fuse: {{{keys}}}")


# --- the bounds of a breaker ---------------------------------------------------------------------

SHARE = st.floats(0.1, 1.0)
STEPS = st.lists(st.tuples(st.floats(1.05, 3.0), SHARE, SHARE), min_size=2, max_size=6)


@given(STEPS, st.floats(1.0, 60.0))
def test_a_breaker_is_bounded_by_falling_times_alone(
    steps: list[tuple[float, float, float]], x: float
) -> None:
    """Whatever falling curve lies between the points, the bounds hold it: they are no tighter
    than the earlier point's latest and the later point's earliest time."""
    multiple, opens, by = 1.1, 100.0, 1000.0
    points = []
    for ratio, less, less_too in steps:
        points.append((multiple, opens, by))
        multiple, opens = multiple * ratio, opens * less
        by = max(by * less_too, opens)
    gates = breakers.stepped(points)
    below = [p for p in points if p[0] <= x]
    above = [p for p in points if p[0] >= x]
    if below:
        assert fuses.clears_by_s(gates, x) >= below[-1][2] * (1 - 1e-9)
        # ... and no looser than a step squared, so that a curve is worth giving.
        assert fuses.clears_by_s(gates, x) <= below[-1][2] * breakers.STEP**2 * (1 + 1e-9)
    else:
        assert fuses.clears_by_s(gates, x) == math.inf
    earliest = above[0][1] if above else 0.0
    if x >= points[0][0]:
        assert fuses.melts_not_before_s(gates, x) <= max(earliest, breakers.AT_ONCE_S) * (1 + 1e-9)


def test_a_fuse_s_rule_would_be_too_kind_to_a_breaker() -> None:
    """A magnetic trip opens in 20 ms from 8 to 80 times: as a fuse it would count as 10 ms."""
    points = ((2.0, 10.0, 40.0), (8.0, 0.005, 0.02))
    assert fuses.clears_by_s(points, 80.0) == 0.010
    assert fuses.clears_by_s(breakers.stepped(points), 80.0) >= 0.02


def test_the_rating_itself_is_carried() -> None:
    from circuitplan.design.protection.protect import curve_gates

    points = ((1.5, 50.0, 600.0), (3.0, 2.0, 9.0))
    for kind in ("breaker", "C"):
        gates = curve_gates(FuseSpec(20.0, kind, curve=FuseCurve("x.csv", "", points)))  # type: ignore[arg-type]
        assert gates is not None
        assert fuses.decaying_inrush(gates, 20.0, 16.0, 1.2, 0.1) < 0.01
        assert fuses.decaying_inrush(gates, 20.0, 23.0, 2.0, 0.1) == math.inf
