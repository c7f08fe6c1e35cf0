"""Which panel feeds what names none, and which switch works relays, whatever the plan calls it."""

from __future__ import annotations

from small_plans import SHED, circuit, studied

TWO_PANELS = """
places: {cab: 40 °C, bed: 40 °C, nose: 40 °C}
legs: [[shed, cab, 2 m], [cab, bed, 4 m], [shed, nose, 1 m]]
"""


def test_what_names_no_panel_hangs_on_the_nearest_of_the_main_battery() -> None:
    """The first by name belongs to the second battery; of the others the bay is nearer."""
    plan = SHED.replace("place: shed}}", "place: shed}, batteries: {aux: {type: agm, "
                        "capacity: 90 Ah, place: bed}}}").replace("places: {shed: 30 °C}", "")
    result = studied(plan, TWO_PANELS.replace("places: {", "places: {shed: 30 °C, "), """
panels:
  a: {place: bed, fed_from: aux}
  b: {place: cab, fed_from: battery}
  c: {place: nose, fed_from: battery}
accessories:
  - {name: Bar, current: 5 A, place: nose}
  - {name: Spot, current: 5 A, place: bed}
""")
    assert (circuit(result, "Bar").panel, circuit(result, "Spot").panel) == ("c", "b")


def test_what_a_switch_carries_hangs_on_the_panel_nearest_to_the_switch() -> None:
    result = studied(SHED.replace("places: {shed: 30 °C}", ""),
                     TWO_PANELS.replace("places: {", "places: {shed: 30 °C, "), """
panels: {b: {place: cab, fed_from: battery}, c: {place: nose, fed_from: battery}}
switches: {S1: {rating: 20 A, place: cab}}
accessories:
  - {name: Bar, current: 5 A, place: nose, switch: S1}
  - {name: Spot, current: 5 A, place: bed, switch: S1}
""")
    assert {circuit(result, name).panel for name in ("Bar", "Spot")} == {"b"}


def test_a_switch_that_is_one_of_several_works_relays_for_all_that_it_works() -> None:
    """Its one contact cannot carry the beacon from one fuse and feed a coil from another."""
    result = studied(SHED, "panels: {main: {place: shed, fed_from: battery}}", """
switches:
  S2: {rating: 20 A, place: shed}
  reverse: {signal: reverse lamp, rating: 0.5 A}
accessories:
  - {name: Lamps, current: 7 A, place: shed, length: 6 m, switch: [S2, reverse]}
  - {name: Beacon, current: 2 A, place: shed, length: 3 m, switch: S2}
""")
    lamps, beacon = circuit(result, "Lamps"), circuit(result, "Beacon")
    assert lamps.relays[0].switches == ("S2", "reverse")
    assert lamps.relays[0].diodes == 2
    assert beacon.relays[0].switches == ("S2",)
    switch = next(s for s in result.switches if s.id == "S2")
    assert switch.type == "relay"
    assert switch.current_a < 1.0
    assert ("S2", "works", "relays only") in {
        (a.subject, a.what, a.value) for a in result.assumptions}


def test_a_low_supply_names_the_machine_that_no_scenario_names() -> None:
    """95 Ah AGM: the winch of 400 A, in no scenario, sags it beside any of them."""
    winch = "  - {name: Winch, kind: winch, current: 400 A, length: 1 m, fed_from: battery}\n"
    body = """
panels: {main: {place: shed, fed_from: battery}}
switches: {S1: {type: relay, rating: 1 A, place: shed}}
accessories:
  - {name: Bar, current: 10 A, place: shed, length: 3 m, switch: S1}
"""
    running = "scenarios: [{name: Night, engine: off, running: {Bar: 100 %}}]\n"
    result = studied(SHED, body + winch + running)
    sag = circuit(result, "Bar").accessories[0].sag
    assert sag.words == "scenario Night, while Winch draws 400 A beside it: no scenario names it"
    assert sag.advice == "Say in a scenario when Winch runs, and whether the engine does. "
    alone = studied(SHED, body + running)
    assert circuit(alone, "Bar").accessories[0].sag.advice == ""


def test_the_tail_of_a_single_piece_is_wire_too() -> None:
    """2 m and 20 m behind the splice: 44 m out and back at 5 A take far more than 1.5 mm²."""
    lamp = "accessories: [{name: Lamp, current: 5 A, place: shed, length: 2 m, return: wire%s}]"
    short, long = (studied(SHED, lamp % tail) for tail in ("", ", tail: 20 m"))
    runs = circuit(long, "Lamp").runs
    assert sum(r.length_m for r in runs if r.role == "feed") == 22.0
    assert sum(r.length_m for r in runs if r.role == "return") == 22.0
    ohm = sum(r.resistance_20c_ohm_per_m * r.length_m for r in runs)
    assert 5.0 * ohm < 0.05 * 12.0
    assert runs[0].area_mm2 > circuit(short, "Lamp").runs[0].area_mm2
    assert circuit(long, "Lamp").fault.run == runs[1].id  # type: ignore[union-attr]
