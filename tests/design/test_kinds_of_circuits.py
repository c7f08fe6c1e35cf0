"""Outputs, relays, converters, chargers, battery feeds, winches and interlocks, by hand."""

from __future__ import annotations

from pathlib import Path

import pytest
from small_plans import MAIN, SHED, circuit, drop, failing, feed, findings, hot, studied

from circuitplan.physics import transient
from circuitplan.planfile import read_plan
from circuitplan.planner import study


def test_a_thin_branch_of_a_vehicles_output_gets_a_fuse_of_its_own() -> None:
    """30 A before 1 mm2 of about 18 A: the branch needs 2/(0.8 x 0.967) = 2.6 A, so 3 A."""
    result = studied(SHED, """
switches: {S1: {label: Roof, type: output, rating: 30 A, fuse: 30 A,
                lead: {size: 6 mm2, length: 0.5 m}}}
accessories:
  - {name: Spot, current: 2 A, load: constant current, place: shed, length: 0.4 m, size: 1 mm2,
     return: wire, switch: S1}
""")
    roof = circuit(result, "Spot")
    first, own = roof.fuses
    assert (first.rating_a, first.type, first.given) == (30.0, "output", True)
    assert (own.rating_a, own.type) == (3.0, "C")
    assert feed(result, "Spot").protected_by == own.id
    assert own.rating_a <= feed(result, "Spot").ampacity_a < first.rating_a


def test_an_output_lends_80_percent_of_its_fuse_where_it_is_warm() -> None:
    """Usable: 0.8 ka 30 A; the vehicle's own place is unknown, 50 °C: ka 0.9, 21.6 A."""
    result = studied(SHED, """
switches: {S1: {type: output, rating: 30 A, fuse: 30 A, lead: {size: 6 mm2, length: 0.5 m}}}
accessories:
  - {name: Bar, current: 5 A, load: constant current, place: shed, length: 1 m, switch: S1}
""")
    output = result.switches[0]
    assert output.usable_a == pytest.approx(21.6)
    assert output.spare_a == pytest.approx(16.6)


def test_a_relay_takes_the_load_off_a_small_switch() -> None:
    """Coil 80 ohm at -20 °C: 80 x 214.5/254.5 = 67.4 ohm, 14.4 V: 0.2136 A, on a 1 A switch."""
    result = studied(SHED, MAIN, """
switches: {S1: {type: relay, rating: 1 A, place: shed}}
accessories:
  - {name: Heater, current: 18 A, load: resistance, place: shed, length: 1 m, fed_from: main,
     return: wire, switch: S1}
""")
    heater, switch = circuit(result, "Heater"), result.switches[0]
    cold_coil = 14.4 / (80 * (234.5 - 20) / (234.5 + 20))
    assert heater.relays[0].contact_a == 30.0  # 18 A at 14.4 V are 21.6 A: over 20
    assert switch.current_a == pytest.approx(cold_coil, rel=0.01)
    assert findings(result, "S01") == []
    control = circuit(result, "S1: control")
    assert {r.role for r in control.runs} == {"control"}
    assert control.fuses[0].rating_a == 1.0
    assert all(r.current_a == pytest.approx(switch.current_a) for r in control.runs)


def test_a_converter_draws_its_whole_output_through_its_feeder() -> None:
    """20 A at 13.8 V at 90 %: 306.7 W; at the converter's terminals that is P/U."""
    result = studied(SHED, MAIN, "  reducer: {place: shed, fed_from: main, output: 13.8 V,"
                     " rating: 20 A, length: 1 m}", """
accessories:
  - {name: Radio, current: 8 A, rated_volts: 13.8 V, load: constant current, place: shed,
     length: 2 m, return: wire, fed_from: reducer}
""")
    reducer = next(p for p in result.panels if p.id == "reducer")
    draw = reducer.feeder[0].current_a
    power = 20 * 13.8 / 0.9
    assert power / 11.5 < draw < power / 10.9  # 11.5 V less 5 % of 12 V
    assert reducer.current_a == pytest.approx(8.0)
    assert reducer.spare_a == pytest.approx(12.0)
    radio = drop(result, "Radio")
    assert radio.supply_v == pytest.approx(13.8)
    assert radio.parts.feeder_v == 0.0  # counted from the converter's own terminals
    assert circuit(result, "Radio").fault is not None
    assert circuit(result, "Radio").fault.current_a <= 20.0  # type: ignore[union-attr]


def test_a_charger_is_a_load_here_and_a_source_there() -> None:
    """30 A at 14.6 V at 90 % efficiency from 11.5 V: 42.3 A (the input is sized at 11.5 V)."""
    result = studied("""
circuitplan: 1
system: 12 V
wire: {gauge: metric, insulation: 105 °C PVC}
places: {shed: 30 °C}
supply:
  battery: {type: agm, capacity: 95 Ah, cranking: 850 A, place: shed}
  batteries: {house: {type: lifepo4, capacity: 100 Ah, place: shed}}
  chargers: {C1: {type: dc-dc, from: battery, to: house, output: 30 A, place: shed, length: 2 m}}
accessories:
  - {name: Fridge, current: 4 A, place: shed, length: 2 m, return: wire, fed_from: house}
""")
    put_in = circuit(result, "C1 input")
    out = circuit(result, "C1 output")
    assert put_in.source == "battery"
    assert out.source == "house"
    assert out.current_a == pytest.approx(30.0)
    assert put_in.current_a * drop(result, "C1").accessory_v == pytest.approx(30 * 14.6 / 0.9)
    # Both ends of the link have a source behind them: a fuse at each battery (X02).
    assert put_in.fuses[0].position == "at battery"
    assert out.fuses[0].position == "at house"
    assert findings(result, "X02") == []
    assert circuit(result, "Fridge").source == "house"
    assert len(result.supply.isolate) == 2


def test_a_feed_from_the_battery_gets_a_fuse_that_can_break_its_short_circuit() -> None:
    """13.0 V over the lower of 2.8 V/850 A and 0.16 ohm Ah/95 Ah = 1.684 mohm: 7,719 A.

    Blade fuses break 1 kA (ISO 8820-3), class T 20 kA (UL 248-15).
    """
    result = studied(SHED, """
accessories:
  - {name: Inverter, current: 120 A, load: constant current, length: 1.5 m, fed_from: battery,
     place: shed, return: wire}
""")
    fuse = circuit(result, "Inverter").fuses[0]
    assert fuse.prospective_a == pytest.approx(13.0 / (0.16 / 95))
    assert fuse.type == "class T"
    assert fuse.rating_a >= 120 / 0.8
    assert fuse.first_after_source
    assert findings(result, "F04") == []


def test_a_winch_on_35_mm2_is_judged_by_its_duty() -> None:
    """400 A, 60 s in 10 min, 35 mm2 of ISO 6722 (0.527 mohm/m), 105 °C PVC, in air of 60 °C.

    One body with the heat path of its continuous ampacity, stepped through twenty cycles: it is
    too hot at the end of the minute, though its mean current is far below that.
    """
    result = studied("""
circuitplan: 1
system: 12 V
wire: {gauge: metric, insulation: 105 °C PVC}
supply: {battery: {type: agm, capacity: 95 Ah, cranking: 850 A, place: bay}}
places: {bay: 60 °C}
accessories:
  - {name: Winch, kind: winch, current: 400 A, duty: 60 s in 10 min, length: 1 m, size: 35 mm2,
     fed_from: battery, place: bay, return: wire, fuse: none, isolator: 500 A}
""")
    run = feed(result, "Winch")
    assert run.peak_c is not None
    capacity = 3.45 * 35 + 0.5 * 1.25 * 3.14159 / 4 * (10.4**2 - 8.5**2)
    loss = run.ampacity_a**2 * hot(0.527e-3, 105.0) / (105.0 - 60.0)
    now = peak = 60.0
    for tenth in range(20 * 6000):
        current = 400.0 if tenth % 6000 < 600 else 0.0
        now += 0.1 * (current**2 * hot(0.527e-3, now) - loss * (now - 60.0)) / capacity
        peak = max(peak, now)
    assert run.peak_c == pytest.approx(peak, abs=0.2)
    assert run.peak_c > 105.0
    assert ("A01", "Winch") in failing(result)
    # Continuously it would take far more: Iz of 35 mm2 at 60 °C is about 130 A.
    assert run.ampacity_a < 160.0
    assert circuit(result, "Winch").fuses == ()
    assert ("F05", "Winch") in failing(result)


def test_the_same_winch_reaches_its_class_in_about_a_minute() -> None:
    """60 to 105 °C at 400 A: copper alone 58 s, with the whole wall 75 s; half of it counts."""
    capacity = transient.heat_capacity_j_per_m_k(35.0, 8.5, 10.4)
    copper_only = 3.45 * 35
    rise_s = 400**2 * 0.527e-3 * (1 + 0.00393 * (82.5 - 20)) / 45
    assert copper_only < capacity < copper_only + 1.25 * 3.1416 / 4 * (10.4**2 - 8.5**2)
    body = transient.Body(0.527e-3, 0.00393, 1e9, capacity, 60.0)  # no heat to the air
    found = transient.time_to(body, 60.0, 400.0, 105.0)
    assert copper_only / rise_s < found < 75.0
    assert found == pytest.approx(capacity / rise_s, rel=0.01)


def test_interlocked_loads_lighten_what_they_share() -> None:
    """30 A or 20 A, never both: the feeder carries 30 A, not 50 A."""
    loads = """
accessories:
  - {{name: Heater, current: 30 A, load: constant current, place: shed, length: 1 m,
     fed_from: main, return: wire{0}}}
  - {{name: Pump, current: 20 A, load: constant current, place: shed, length: 1 m,
     fed_from: main, return: wire}}
"""
    both = studied(SHED, MAIN, loads.format(""))
    either = studied(SHED, MAIN, loads.format(", never_with: Pump"))
    assert both.panels[0].feeder[0].current_a == pytest.approx(50.0)
    assert either.panels[0].feeder[0].current_a == pytest.approx(30.0)
    assert both.panels[0].fuse is not None
    assert either.panels[0].fuse is not None
    assert both.panels[0].fuse.min_a == pytest.approx(50 / 30 * either.panels[0].fuse.min_a)
    for result, current in ((both, 50.0), (either, 20.0)):
        warm = hot(0.00116, result.panels[0].feeder[0].conductor_c)
        assert drop(result, "Pump").parts.feeder_v == pytest.approx(2 * current * warm * 1.0)


@pytest.mark.parametrize(
    "name", ["rescue-pickup", "service-truck", "workboat", "overloaded-compressor"]
)
def test_the_examples_are_studied_whole(name: str) -> None:
    plan = read_plan(Path(__file__).parents[2] / "examples" / f"{name}.yaml")
    result = study(plan)
    assert {a.name for c in result.circuits for a in c.accessories} >= {
        a.name for a in plan.accessories
    }
    assert {s.id for s in result.switches} == {s.name for s in plan.switches}
    assert {s.name for s in result.supply.scenarios} == {s.name for s in plan.scenarios}
    assert {d.name for d in result.supply.days} == {d.name for d in plan.days}
    assert all(d.end_charge is not None for d in result.supply.days)
