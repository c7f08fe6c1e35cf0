"""Volts lost, by hand: R20 of ISO 6722 (memory), contacts of common practice, counted one by one.

Milliohm: ring 0.1, blade 0.5, crimp 0.25 (2.5 to 6 mm2) or 0.1 (10 to 25 mm2), fuse 0.11 V/In and
holder 1, class T 0.08 V/In and holder 0.1, relay of 20 A 4, switch 5, chassis 2 shared + 3 own.
"""

from __future__ import annotations

import pytest
from small_plans import MAIN, SHED, circuit, drop, feed, hot, studied

SIXTEEN, FOUR, TWO_AND_HALF = 0.00116, 0.00471, 0.0076  # ohm/m at 20 °C
MAIN_FUSE = 0.08 / 30 + 0.1e-3  # class T 30 A
FEEDER_CONTACTS = 2 * 0.1e-3 + 2 * 0.1e-3 + MAIN_FUSE + 2 * 0.1e-3 + 2 * 0.1e-3


def test_one_load_of_20_a() -> None:
    """20 A through 1 m of 16 mm2 and 3 m of 4 mm2, out and back.

    Feeder: 2 x 1 m x 1.16 mohm/m = 2.32 mohm at 20 °C, 46 mV, 49 mV warm.
    Run: 2 x 3 m x 4.71 = 28.26 mohm, 565 mV, 623 mV warm.
    Contacts: feeder 2 rings, 2 crimps, fuse, 2 rings, 2 crimps = 3.57 mohm; branch ring, blade,
    4 crimps, 30 A fuse and holder = 6.27; return ring, 2 crimps = 0.6; 10.43 mohm, 209 mV.
    """
    result = studied(SHED, MAIN, """
accessories:
  - {name: Heater, current: 20 A, load: constant current, place: shed, length: 3 m, size: 4 mm2,
     fed_from: main, return: wire}
""")
    found, run = drop(result, "Heater"), feed(result, "Heater")
    feeder = result.panels[0].feeder[0]
    assert circuit(result, "Heater").fuses[0].rating_a == 30.0  # 20/(0.8 x 0.967) = 25.9 A
    assert result.panels[0].fuse is not None
    assert result.panels[0].fuse.rating_a == 30.0
    wire = 20.0 * hot(FOUR, run.conductor_c) * 3.0
    branch = 0.1e-3 + 0.5e-3 + 4 * 0.25e-3 + 0.11 / 30 + 1e-3
    back = 0.1e-3 + 2 * 0.25e-3
    assert found.parts.run_v == pytest.approx(wire)
    assert found.parts.return_v == pytest.approx(wire)
    assert found.parts.feeder_v == pytest.approx(2 * 20.0 * hot(SIXTEEN, feeder.conductor_c) * 1.0)
    assert found.parts.contacts_v == pytest.approx(20.0 * (FEEDER_CONTACTS + branch + back))
    assert found.total_v == pytest.approx(0.880, abs=5e-4)
    assert found.percent == pytest.approx(100 * found.total_v / 12)
    assert found.accessory_v == pytest.approx(found.supply_v - found.total_v)


def test_loads_on_one_panel_share_its_feeder() -> None:
    """5 A and 15 A: the feeder drops for both what 20 A drop in it."""
    result = studied(SHED, MAIN, """
accessories:
  - {name: Small, current: 5 A, load: constant current, place: shed, length: 1 m, fed_from: main,
     return: wire}
  - {name: Large, current: 15 A, load: constant current, place: shed, length: 2 m, fed_from: main,
     return: wire}
""")
    feeder = result.panels[0].feeder[0]
    shared = 2 * 20.0 * hot(SIXTEEN, feeder.conductor_c) * 1.0
    assert feeder.current_a == pytest.approx(20.0)
    assert drop(result, "Small").parts.feeder_v == pytest.approx(shared)
    assert drop(result, "Large").parts.feeder_v == pytest.approx(shared)


def test_four_lamps_with_tails_on_a_relay() -> None:
    """4 x 2 A: 8 A in 3 m, 2 A in each of four tails of 0.5 m.

    Run: 8 A x 3 m x 7.6 mohm/m = 182 mV at 20 °C; tails: 2 A x 0.5 m x 7.6 = 7.6 mV; and back.
    The tails' two crimps each carry 2 A: 4 x 2 A x 2 x 0.25 / 4 = 1 mV a way.
    """
    result = studied(SHED, MAIN, """
switches: {S1: {type: relay, rating: 1 A, place: shed}}
accessories:
  - {name: Lamps, current: 2 A, quantity: 4, load: constant current, place: shed, length: 3 m,
     tail: 0.5 m, size: 2.5 mm2, fed_from: main, return: wire, switch: S1}
""")
    found = drop(result, "Lamps")
    lamps = circuit(result, "Lamps")
    run = next(r for r in lamps.runs if r.role == "feed" and r.pieces == 1)
    tail = next(r for r in lamps.runs if r.role == "feed" and r.pieces == 4)
    assert tail.current_a == pytest.approx(2.0)
    assert run.current_a == pytest.approx(8.0)
    way = 8.0 * hot(TWO_AND_HALF, run.conductor_c) * 3.0
    ends = 2.0 * hot(TWO_AND_HALF, tail.conductor_c) * 0.5
    assert found.parts.run_v == pytest.approx(way + ends)
    assert found.parts.return_v == pytest.approx(way + ends)
    assert lamps.relays[0].type == "micro relay"
    # The relay's 4 mohm alone drop 32 mV; without it the contacts would be below this.
    assert found.parts.contacts_v > 8.0 * (FEEDER_CONTACTS + 4e-3 + 0.11 / 15 + 1e-3)


def test_a_chassis_return_is_shared_by_all_that_use_it() -> None:
    """10 A and 5 A by the body: 2 mohm carry 15 A (30 mV), 3 mohm of its own each load (FAA
    AC 43.13-1B, 5 mohm together); each has 0.5 m of lead, a ring and 2 crimps to its earth point.
    """
    result = studied(SHED, MAIN, """
accessories:
  - {name: Fan, current: 10 A, load: constant current, place: shed, length: 2 m, size: 4 mm2,
     fed_from: main, return: chassis}
  - {name: Pump, current: 5 A, load: constant current, place: shed, length: 2 m, size: 4 mm2,
     fed_from: main, return: chassis}
""")
    feeder_out = 2 * 0.1e-3 + 2 * 0.1e-3 + MAIN_FUSE
    for name, current, rating in (("Fan", 10.0, 15.0), ("Pump", 5.0, 7.5)):
        found, run = drop(result, name), feed(result, name)
        branch = 0.1e-3 + 0.5e-3 + 4 * 0.25e-3 + 0.11 / rating + 1e-3
        earth = 0.1e-3 + 2 * 0.25e-3 + 3e-3
        assert found.parts.contacts_v == pytest.approx(
            15.0 * (feeder_out + 2e-3) + current * (branch + earth)
        )
        assert found.parts.return_v == pytest.approx(current * hot(FOUR, run.conductor_c) * 0.5)
        assert found.parts.feeder_v == pytest.approx(
            15.0 * hot(SIXTEEN, result.panels[0].feeder[0].conductor_c)
        )


def test_a_measured_body_replaces_both_parts() -> None:
    """``chassis: 6 mΩ`` measured from post to accessory: 6 mohm shared, no earth point beside."""
    text = """
accessories:
  - {name: Fan, current: 10 A, load: constant current, place: shed, length: 2 m, size: 4 mm2,
     fed_from: main, return: chassis}
"""
    assumed = drop(studied(SHED, MAIN, text), "Fan").parts.contacts_v
    measured = drop(studied(SHED, MAIN, "chassis: 6 mΩ", text), "Fan").parts.contacts_v
    assert measured - assumed == pytest.approx(10.0 * (6e-3 - 5e-3))


def test_several_accessories_behind_a_direct_switch_share_its_lead() -> None:
    """1 m of lead carries 15 A to the switch, then 10 A and 5 A go on in 2 m each; each comes back
    to the panel by itself, 3 m."""
    result = studied(SHED, MAIN, """
switches: {S1: {rating: 40 A, place: shed, lead: {size: 6 mm2, length: 1 m}}}
accessories:
  - {name: Fan, current: 10 A, load: constant current, place: shed, length: 2 m, size: 4 mm2,
     fed_from: main, return: wire, switch: S1}
  - {name: Pump, current: 5 A, load: constant current, place: shed, length: 2 m, size: 4 mm2,
     fed_from: main, return: wire, switch: S1}
""")
    shared = circuit(result, "S1")
    lead = next(r for r in shared.runs if r.to == "S1")
    assert lead.current_a == pytest.approx(15.0)
    assert {a.name for a in shared.accessories} == {"Fan", "Pump"}
    for name, current in (("Fan", 10.0), ("Pump", 5.0)):
        own = current * hot(FOUR, feed(result, name).conductor_c) * 2.0
        trunk = 15.0 * hot(0.00314, lead.conductor_c) * 1.0
        assert drop(result, name).parts.run_v == pytest.approx(own + trunk)
        back = next(r for r in shared.runs if r.role == "return" and r.from_ == name)
        assert back.length_m == pytest.approx(3.0)
        assert drop(result, name).parts.return_v == pytest.approx(
            current * hot(FOUR, back.conductor_c) * 3.0
        )


def test_an_unknown_motor_takes_the_worse_of_two_models() -> None:
    """10 A at 12 V: as a fan 10 (14.4/12)^1.65 = 13.51 A at the high end, where it is worst."""
    result = studied(SHED, MAIN, """
accessories:
  - {name: Motor, current: 10 A, load: motor, place: shed, length: 1 m, fed_from: main,
     return: wire}
""")
    assert circuit(result, "Motor").current_a == pytest.approx(10 * 1.2**1.65)


def test_constant_power_draws_more_as_volts_fall() -> None:
    """120 W behind R: U = E/2 + sqrt(E2/4 - P R), E = 11.5 V, R found from the drop of one load."""
    result = studied(SHED, MAIN, """
accessories:
  - {name: Set, power: 120 W, place: shed, length: 2 m, fed_from: main, return: wire}
""")
    found, set_ = drop(result, "Set"), circuit(result, "Set")
    assert set_.current_a == pytest.approx(120.0 / found.accessory_v)
    ohm = found.total_v / set_.current_a
    assert found.accessory_v == pytest.approx(5.75 + (5.75**2 - 120 * ohm) ** 0.5)
