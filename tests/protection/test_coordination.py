"""What the result says of heat over time and of each fuse against its wire, checked by formulas
written out here and by the bounds themselves."""

from __future__ import annotations

import math
from itertools import pairwise

import failing_plans as plans
import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuitplan.design.protection import coordination
from circuitplan.design.protection.protect import Device
from circuitplan.design.wire import Candidate, Surroundings
from circuitplan.library import conductors, insulation, materials
from circuitplan.model.result import Circuit, Coordination, Result
from circuitplan.physics import fuses
from circuitplan.planfile import read_text
from circuitplan.planner import design

FAMILIES = ("C", "E", "F", "SF30", "SF51", "bolt-in", "class T")

WINCH = """circuitplan: 1
system: 12 V
wire: {gauge: metric, insulation: 105 °C PVC}
supply: {battery: {type: agm, capacity: 95 Ah, cranking: 850 A, place: bay}}
places: {bay: 60 °C, cab: 30 °C}
legs: [[bay, cab, 2 m, open]]
panels: {main: {place: cab, fed_from: battery, fuse: 100 A class T, fuses: C}}
accessories:
  - {name: Winch, kind: winch, current: 250 A, peak: 400 A, duty: 30 s in 10 min, place: bay,
     fed_from: battery, length: 1.5 m, fuse: none, isolator: 500 A, size: 35 mm2}
  - {name: Pump, current: 10 A, load: torque motor, place: cab, length: 3 m, inrush: 50 A}
"""


def designed(text: str) -> Result:
    return design(read_text(text), ()).result


def circuit(result: Result, name: str) -> Circuit:
    return next(c for c in result.circuits if c.accessories and c.accessories[0].name == name)


RESULT = designed(WINCH)


# --- heating -----------------------------------------------------------------------------------


def test_every_feed_has_its_heating() -> None:
    for one in RESULT.circuits:
        feeds = [r.id for r in one.runs if r.role in ("feed", "control")]
        assert [h.run for h in one.heating] == feeds


def test_allowed_time_of_the_winch_by_hand() -> None:
    """C dT/dt = I²R(T) - (T - Ta)/Rth with Rth from the installed ampacity in the result."""
    winch = circuit(RESULT, "Winch")
    (heat,) = winch.heating
    run = next(r for r in winch.runs if r.id == heat.run)
    alpha, r20, ambient = 0.00393, run.resistance_20c_ohm_per_m, run.ambient_c
    hot = r20 * (1.0 + alpha * (run.insulation_c - 20.0))
    path = (run.insulation_c - ambient) / (run.ampacity_a**2 * hot)
    # 3.45e6 J/(m³ K) of copper (IEC 60949), half the insulation's 1.25e6 (DIN EN 12524)
    shell = math.pi / 4.0 * (run.outer_mm**2 - 8.5**2)
    capacity = 1e-6 * (3.45e6 * run.area_mm2 + 1.25e6 * shell / 2.0)
    temperature, seconds, step = ambient, 0.0, 0.01
    while temperature < run.insulation_c:
        gain = 400.0**2 * r20 * (1.0 + alpha * (temperature - 20.0))
        temperature += step * (gain - (temperature - ambient) / path) / capacity
        seconds += step
    assert heat.held_a == pytest.approx(400.0)
    assert heat.allowed_on_s == pytest.approx(seconds, rel=0.002)
    assert heat.cool_down_s == pytest.approx(math.log(10.0) * path * capacity, rel=1e-6)


def test_more_overload_is_borne_for_less_time() -> None:
    for one in designed(plans.EVERYTHING).circuits:
        for heat in one.heating:
            times = [math.inf if o.seconds is None else o.seconds for o in heat.overloads]
            assert times == sorted(times, reverse=True)
            assert heat.start_c <= heat.limit_c


def test_the_working_tells_it() -> None:
    steps = circuit(RESULT, "Pump").working
    heating = next(s for s in steps if s.what.startswith("Heating of wire"))
    assert "loom factor" in heating.formula
    assert "cools to a tenth" in heating.result
    against = next(s for s in steps if " against wire " in s.what)
    assert "cold aged battery" in against.formula
    assert "warm aged one" in against.formula
    assert against.result == "yes, guarded"


# --- fuse against wire -------------------------------------------------------------------------


def against(result: Result) -> list[Coordination]:
    found = [c for p in result.panels for c in p.coordination]
    return found + [c for one in result.circuits for c in one.coordination]


def test_one_for_each_fuse() -> None:
    for result in (RESULT, designed(plans.EVERYTHING)):
        fuses_there = {f.id for c in result.circuits for f in c.fuses}
        fuses_there |= {p.fuse.id for p in result.panels if p.fuse is not None}
        assert {c.fuse for c in against(result)} == fuses_there


def test_faults_in_the_order_of_their_strength() -> None:
    """Cold and aged, warm and aged, new: more current each time; most at the fuse itself."""
    for c in against(RESULT) + against(designed(plans.EVERYTHING)):
        assert c.far_cold_a < c.far_aged_a < c.far_new_a < c.near_a


def test_the_fault_of_a_cold_and_of_a_warm_battery_by_hand() -> None:
    """AGM 850 CCA: cold and aged 8.1 V/CCA (9.53 mΩ), warm 2.8 V/CCA x 1.5 (4.94 mΩ; judgement);
    EMF 12.0 V: the two currents differ by just these resistances."""
    for c in against(RESULT):
        cold, aged = 12.0 / c.far_cold_a, 12.0 / c.far_aged_a
        assert cold - aged == pytest.approx(8.1 / 850.0 - 1.5 * 2.8 / 850.0, rel=1e-9)


def test_what_is_not_guarded_fails_and_the_other_way_round() -> None:
    result = designed(plans.EVERYTHING)
    failed = {f.circuit for f in result.findings if f.rule == "F03"}
    for one in result.circuits:
        assert all(c.guarded for c in one.coordination) == (one.id not in failed)


def test_margin_of_the_start_is_what_is_left_of_the_share() -> None:
    (pump,) = circuit(RESULT, "Pump").coordination
    assert pump.start_share is not None
    assert pump.start_margin == pytest.approx(0.7 / pump.start_share)
    assert pump.start[0][0] == pytest.approx(
        10.0 + 0.98 * (50.0 * 14.4 / 12.0 - 10.0)
    )  # the plan's 50 A were measured at 12 V; at 14.4 V it is 60 A


def line(points: tuple[tuple[float, float], ...], current_a: float) -> float | None:
    """Seconds of a broken line, straight on logarithmic scales; None outside it."""
    for (a1, t1), (a2, t2) in pairwise(points):
        if a1 < current_a <= a2 and a2 > a1:
            share = math.log(current_a / a1) / math.log(a2 / a1)
            return t1 * (t2 / t1) ** share
    return None


@given(st.sampled_from(FAMILIES), st.floats(1.36, 90.0))
def test_the_drawn_lines_are_the_bounds(family: str, multiple: float) -> None:
    device = Device(family, 10.0, 20.0)
    current = 10.0 * multiple
    melts = line(coordination.melting_points(device, 1000.0), current)
    clears = line(coordination.clearing_points(device, 1000.0), current)
    assert melts == pytest.approx(fuses.melts_not_before_s(device.gates, multiple), rel=1e-6)
    # At a gate itself the line still ends at the bound from below; the bound steps down there.
    if all(abs(multiple - gate) > 1e-9 for gate, _, _ in device.gates):
        assert clears == pytest.approx(fuses.clears_by_s(device.gates, multiple), rel=1e-6)


@given(st.floats(1.2, 60.0), st.sampled_from(["1.5", "4", "16"]))
def test_the_damage_line_ends_in_the_adiabatic_law(multiple: float, size: str) -> None:
    """Steeper than I²t = const where heat leaves, I²t = const at large currents; never below the
    adiabatic time from the same start (it is shorter than the truth)."""
    conductor = conductors.get("metric", size)
    cover = insulation.get(105.0, "PVC")
    copper = materials.get("copper")
    assert conductor is not None
    assert cover is not None
    assert copper is not None
    wire = Candidate(conductor, cover, copper)
    around = Surroundings(50.0, 1.0, 2, 0.4)
    device = Device("C", 10.0, 50.0)
    points = coordination.damage_points(wire, around, device, 10.0 * multiple + 600.0)
    heat = [current**2 * seconds for current, seconds in points]
    assert all(b <= a * (1 + 1e-9) for a, b in pairwise(heat))
    assert all(s2 < s1 for (_, s1), (_, s2) in pairwise(points))


# --- warm ways ---------------------------------------------------------------------------------


def test_the_hottest_wire_of_a_way_is_its_run() -> None:
    panel = RESULT.panels[0]
    (leg,) = [w for w in panel.warm if w.way == "bay–cab"]
    assert leg.run in {r.id for r in panel.feeder}
    hottest = max(max(r.conductor_c, r.peak_c or 0.0) for r in panel.feeder)
    assert leg.conductor_c == pytest.approx(hottest, rel=1e-6)
    assert leg.ambient_c == 60.0


def test_a_cable_on_duty_shows_its_hottest_moment() -> None:
    winch = circuit(RESULT, "Winch")
    peak = max(r.peak_c or 0.0 for r in winch.runs)
    assert max(w.conductor_c for w in winch.warm) == pytest.approx(peak, rel=1e-6)
    assert peak > max(r.ambient_c for r in winch.runs) + 5.0
