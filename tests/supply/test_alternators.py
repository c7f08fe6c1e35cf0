"""Alternators: label points, published curves, own curves, drive ratio, heat, two of them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuitplan.design.assume import Ledger
from circuitplan.design.supplying.alternator import hot_output, output_at
from circuitplan.errors import InputError
from circuitplan.library import store
from circuitplan.model.plan import Alternator, Plan, Supply
from circuitplan.physics.alternator import curve_a, output_a, regulator_v, shaft_rpm
from circuitplan.planfile import read_plan

CURVES: dict[tuple[str, str], list[tuple[float, float]]] = {}
for row in store.rows("alternator_curves"):
    if float(row["output_a"]) > 0.0:
        CURVES.setdefault((row["machine"], row["state"]), []).append(
            (float(row["shaft_rpm"]), float(row["output_a"]))
        )


@pytest.mark.parametrize("machine", sorted(c for c in CURVES if len(CURVES[c]) > 2))
def test_published_curves(machine: tuple[str, str]) -> None:
    """SAE 2000-01-1020; Sarafianos et al. 2015; trade text (second-hand): with the first point and
    that nearest 6000 r/min as the label, all between lie within -14 to +7 %."""
    points = [p for p in CURVES[machine] if p[0] <= 6000.0]
    (n1, i1), (n2, i2) = points[0], points[-1]
    for rpm, published_a in points:
        assert -0.14 <= output_a(i1, n1, i2, n2, rpm) / published_a - 1.0 <= 0.07


def one(**more: object) -> Alternator:
    values: dict[str, object] = {"rated_a": 150.0, "idle_a": 70.0, "hot": True}
    return Alternator(**(values | more))  # type: ignore[arg-type]


def given_a(alternator: Alternator, rpm: float, nominal_v: float = 12.0) -> float | None:
    plan = Plan(nominal_v=nominal_v, supply=Supply(alternator=alternator))
    return output_at(plan, "alternator", alternator, rpm, Ledger())[0]


@given(st.floats(10.0, 200.0), st.floats(1.0, 3.0), st.sampled_from([1500.0, 1800.0]))
def test_label_points_exactly(idle_a: float, ratio: float, idle_rpm: float) -> None:
    machine = one(rated_a=idle_a * ratio, idle_a=idle_a, label_idle_rpm=idle_rpm)
    assert given_a(machine, idle_rpm) == pytest.approx(idle_a, rel=1e-12)
    assert given_a(machine, 6000.0) == pytest.approx(idle_a * ratio, rel=1e-12)


@given(
    st.floats(10.0, 200.0), st.floats(1.0, 3.0), st.floats(1500.0, 8000.0), st.floats(0.0, 3000.0),
    st.sampled_from([True, False, None]), st.booleans(),
)  # fmt: skip
def test_more_speed_never_gives_less(
    idle_a: float, ratio: float, rpm: float, faster: float, hot: bool | None, idle_known: bool
) -> None:
    machine = one(rated_a=idle_a * ratio, idle_a=idle_a if idle_known else None, hot=hot)
    slow, fast = given_a(machine, rpm), given_a(machine, rpm + faster)
    assert slow is not None
    assert fast is not None
    assert fast >= slow * (1.0 - 1e-12)
    assert fast <= machine.rated_a * (1.0 + 1e-12)


@given(st.floats(2001.0, 6000.0))
def test_own_curve_between_its_points(rpm: float) -> None:
    points = ((2000.0, 80.0), (3000.0, 130.0), (6000.0, 155.0))
    found = curve_a(points, rpm)
    low = max(p for p in points if p[0] <= rpm)
    high = min((p for p in points if p[0] >= rpm), default=points[-1])
    assert low[1] - 1e-9 <= found <= high[1] + 1e-9


def test_own_curve_at_its_points_and_beyond() -> None:
    machine = one(rated_a=160.0, curve=((2000.0, 80.0), (3000.0, 130.0), (6000.0, 155.0)))
    assert given_a(machine, 2000.0) == 80.0
    assert given_a(machine, 2500.0) == pytest.approx(105.0)
    assert given_a(machine, 9000.0) == 155.0
    assert given_a(machine, 1999.0) is None  # no curve speaks for it
    assert given_a(one(rated_a=100.0, curve=machine.curve), 6000.0) == 100.0  # never over the plate
    cold = one(rated_a=160.0, hot=False, curve=machine.curve)
    assert given_a(cold, 3000.0) == pytest.approx(0.8 * 130.0)


@pytest.mark.parametrize("points", [((2000.0, 80.0),), ((2000.0, 80.0), (1900.0, 90.0)),
                                    ((2000.0, 80.0), (3000.0, 70.0))])  # fmt: skip
def test_no_curve(points: tuple[tuple[float, float], ...]) -> None:
    with pytest.raises(ValueError, match="curve"):
        curve_a(points, 2500.0)


def test_speeds_and_volts() -> None:
    assert shaft_rpm(720.0, 2.5) == 1800.0
    with pytest.raises(ValueError, match="ratio"):
        shaft_rpm(720.0, 0.0)
    # trade texts: 14.4 V at 20 °C less 0.1 V for 10 K
    assert regulator_v(14.4, 20.0) == 14.4
    assert regulator_v(14.4, 60.0) == pytest.approx(14.0)


def test_ratio_not_given_is_taken_low_and_said() -> None:
    machine = one(engine_idle_rpm=800.0)
    ledger = Ledger()
    plan = Plan(supply=Supply(alternator=machine))
    # 2 * 800 r/min: share (1/1600 - 1/6000) * 2000 = 0.91667; 150 - 80 * 0.91667 = 76.667 A
    assert hot_output(plan, "idle", ledger)[0] == pytest.approx(76.6667, rel=1e-5)
    assert ("alternator", "drive ratio, shaft over engine") in ledger.two_ended


PLAN = """\
circuitplan: 1
system: 12 V
supply:
  alternator: {rated: 160 A, hot: yes, curve: CURVE, ratio: 2.5,
               engine_speeds: {idle: 900 r/min, high idle: 1200 r/min}}
  second_alternator: 100 A
  battery: {type: agm, capacity: 95 Ah, health: 85 %}
accessories: [{name: Lamp, power: 20 W, length: 1 m}]
"""


def test_curve_beside_the_plan(tmp_path: Path, make_plan: Callable[..., Plan]) -> None:
    (tmp_path / "maker.csv").write_text("Shaft_rpm, output_a\n2000,80\n3000,130\n6000,155\n")
    plan_file = tmp_path / "plan.yaml"
    plan_file.write_text(PLAN.replace("CURVE", "maker.csv"))
    plan = read_plan(plan_file)
    machine = plan.supply.alternator
    assert machine is not None
    assert machine.curve == ((2000.0, 80.0), (3000.0, 130.0), (6000.0, 155.0))
    assert plan.supply.second_alternator is not None
    assert plan.supply.batteries[0].health == 0.85
    # 2250 r/min: 80 + 50 * 0.25 = 92.5 A; the second one: 0.30 of 100 A at idle
    assert hot_output(plan, "idle", Ledger())[0] == pytest.approx(122.5)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("shaft_rpm,output_a\n2000,80\n", "1 points"),
        ("rpm,amps\n2000,80\n3000,90\n", "columns rpm, amps"),
        ("shaft_rpm,output_a\n2000,80\n3000,x\n", "line 3"),
        ("shaft_rpm,output_a\n2000,80\n1500,60\n", "line 3"),
        ("shaft_rpm,output_a\n2000,nan\n3000,90\n", "line 2"),
        (None, "not there"),
    ],
)
def test_spoiled_curve_file(tmp_path: Path, text: str | None, said: str) -> None:
    if text is not None:
        (tmp_path / "maker.csv").write_text(text)
    plan_file = tmp_path / "plan.yaml"
    plan_file.write_text(PLAN.replace("CURVE", "maker.csv"))
    with pytest.raises(InputError, match=said):
        read_plan(plan_file)


def test_curve_outside_the_folder_is_refused(tmp_path: Path) -> None:
    plan_file = tmp_path / "plan.yaml"
    plan_file.write_text(PLAN.replace("CURVE", "../maker.csv"))
    with pytest.raises(InputError, match="beside the plan"):
        read_plan(plan_file)
