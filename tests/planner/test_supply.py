"""Alternator margin, battery hours, scenario demand, parked days: by hand and by Peukert's law."""

from __future__ import annotations

import pytest

from circuitplan.model.plan import Accessory, Battery
from circuitplan.model.result import Result
from circuitplan.planfile import read_text
from circuitplan.planner import hours_by_figures, hours_of, study

PLAN = """
circuitplan: 1
system: 12 V
supply:
  battery: {{type: agm, capacity: 95 Ah, cranking: 850 A, place: shed}}
  alternator: {{rated: 180 A, idle: 95 A, hot: {hot}, control: regulator,
                speeds: {{idle: 1800 r/min}}}}
  vehicle_load: {{idle: {vehicle}, parked: 50 mA}}
places: {{shed: 30 °C}}
panels: {{main: {{place: shed, fed_from: battery}}}}
switches: {{S1: {{rating: 60 A, place: shed}}}}
accessories:
  - {{name: Lamp, current: 20 A, load: constant current, place: shed, length: 1 m, fed_from: main,
      switch: S1, return: wire}}
  - {{name: Alarm, current: 0.5 A, load: constant current, place: shed, length: 1 m, parked: 10 mA,
      fed_from: main, switch: S1, return: wire}}
scenarios:
  - {{name: Work, engine: {engine}, duration: 2 h, running: {{Lamp: 50 %}}}}
"""


def result(hot: str = "yes", vehicle: str = "30 A", engine: str = "idle") -> Result:
    return study(read_text(PLAN.format(hot=hot, vehicle=vehicle, engine=engine)))


def well_hours(capacity_ah: float, current_a: float, share: float) -> float:
    """Two wells stepped through time: AGM c 0.573, k' 0.446 /h, whole charge 1.084 C20.

    Hours until ``share`` of what this current yields is drawn. Manwell & McGowan 1993.
    """
    whole, c, k = 1.084 * capacity_ah, 0.573, 0.446 * 0.573 * (1 - 0.573)
    free, bound, hours, step = c * whole, (1 - c) * whole, 0.0, 1e-3
    while free > 0.0:
        flow = k * (bound / (1 - c) - free / c)
        free += step * (flow - current_a)
        bound -= step * flow
        hours += step
    return share * hours


def test_hours_of_a_95_ah_agm_battery_at_6_a() -> None:
    """Half of what 6 A yield: 7.7 h, rounded down. Peukert, n = 1.15: half of 20 (4.75/6)^1.15."""
    found = hours_by_figures(
        Battery("battery", "agm", 95.0), Accessory("Load", current_a=6.0, load="constant current"),
        12.0,
    )
    assert found.hours_to_reserve == pytest.approx(7.7)
    assert 0.0 <= well_hours(95.0, 6.0, 0.5) - 7.7 < 0.1
    peukert = 0.5 * 20 * (95 / 20 / 6) ** 1.15
    assert found.hours_to_reserve == pytest.approx(peukert, rel=0.03)
    assert found.hours_to_empty is not None
    assert 0.0 <= well_hours(95.0, 6.0, 1.0) - found.hours_to_empty < 0.1


def test_hours_above_the_one_hour_rate_are_not_given() -> None:
    found = hours_by_figures(
        Battery("battery", "agm", 95.0),
        Accessory("Load", current_a=120.0, load="constant current"), 12.0,
    )
    assert found.answer == "cannot say"
    assert found.hours_to_reserve is None


def test_alternator_between_its_two_label_points() -> None:
    """95 A at 1500, 180 A at 6000 r/min (ISO 8854): I = 208.3 - 170000/n, 113.9 A at 1800."""
    scenario = result().supply.scenarios[0]
    assert scenario.alternator_a == pytest.approx(208.333 - 170000 / 1800, abs=0.01)
    cold = result(hot="no").supply.scenarios[0]
    assert cold.alternator_a == pytest.approx(0.67 * (208.333 - 170000 / 1800), abs=0.01)


def test_demand_and_margin_of_a_scenario() -> None:
    """30 A of the vehicle and half of 20 A: 40 A; 73.9 A are left, 64.9 % of the hot output."""
    scenario = result().supply.scenarios[0]
    assert scenario.demand_a == pytest.approx(40.0)
    assert scenario.running == (("Lamp", pytest.approx(10.0)),)
    assert scenario.margin_a == pytest.approx(73.89, abs=0.01)
    assert scenario.margin_percent == pytest.approx(100 * 73.89 / 113.89, abs=0.01)
    assert not [f for f in result().findings if f.rule == "B01"]


def test_a_load_above_80_percent_of_the_hot_output_fails() -> None:
    """FAA AC 43.13-1B 11-35: 80 % of 113.9 A are 91.1 A; 85 + 10 A are more."""
    tight = result(vehicle="85 A")
    assert tight.supply.scenarios[0].margin_percent == pytest.approx(100 * 18.89 / 113.89, abs=0.01)
    assert [f.subject for f in tight.findings if f.rule == "B01" and f.fails] == ["Work"]
    assert tight.supply.scenarios[0].hours_to_reserve is None  # nothing comes out of the battery


def test_a_deficit_comes_out_of_the_battery() -> None:
    """124 A of 113.9 A: 10.1 A out of 95 Ah; half of what that yields lasts a good four hours."""
    short = result(vehicle="114 A").supply.scenarios[0]
    assert short.margin_a == pytest.approx(113.889 - 124.0, abs=0.01)
    expected = well_hours(95.0, 124.0 - 113.889, 0.5)
    assert short.hours_to_reserve is not None
    assert 0.0 <= expected - short.hours_to_reserve < 0.1


def test_with_the_engine_off_all_of_it_does() -> None:
    """10 A and 50 mA parked."""
    study_ = result(engine="off")
    scenario = study_.supply.scenarios[0]
    assert scenario.alternator_a == 0.0
    assert scenario.margin_percent is None
    assert scenario.demand_a == pytest.approx(10.05)
    expected = well_hours(95.0, 10.05, 0.5)
    assert scenario.hours_to_reserve is not None
    assert 0.0 <= expected - scenario.hours_to_reserve < 0.1
    assert hours_of(read_text(PLAN.format(hot="yes", vehicle="30 A", engine="off")), study_,
                    "work").hours_to_reserve == scenario.hours_to_reserve  # fmt: skip


def test_parked_days_from_the_drain_of_all_that_stays_live() -> None:
    """60 mA out of half of 95 Ah: 47.5/0.06 = 792 h, 33 days; never more than C20 is credited.

    Tolerance 0.1 %: the two-well constants hold three digits.
    """
    parked = result().supply
    assert parked.parked_a == pytest.approx(0.060)
    assert parked.parked_days == pytest.approx(47.5 / 0.060 / 24, rel=1e-3)
