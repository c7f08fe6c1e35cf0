"""Connectors: what they add to the drop, by hand, and what their contacts bear.

Milliohm, common practice: 6.3 mm blade 0.5, 2.8 mm blade 1.5, trailer plug contact 3, crimp of 2.5
to 6 mm2 0.25 and of 10 to 25 mm2 0.1. A connector is one contact and two crimps in each wire that
passes through it.
"""

from __future__ import annotations

import math

import pytest
from small_plans import MAIN, SHED, circuit, drop, failing, findings, hot, studied

from circuitplan.model.result import Connector, Result
from circuitplan.physics.connectors import usable_a

FOUR = 0.00471  # ohm/m at 20 °C, ISO 6722 (memory)
SURE = "rating: 40 A, rated_at: 80 °C"


def heater(connector: str, back: str = "wire") -> Result:
    """20 A through 3 m of 4 mm2, out and back, or back by the body; its drop may be 15 %."""
    given = f", connector: {connector}" if connector else ""
    return studied(SHED, MAIN, f"""
accessories:
  - {{name: Heater, current: 20 A, load: constant current, place: shed, length: 3 m, size: 4 mm2,
     fed_from: main, return: {back}, drop: 15 %{given}}}
""")


def plug(result: Result, name: str) -> Connector:
    return next(c for k in result.circuits for c in k.connectors if c.of == name)


def test_a_connector_adds_two_contacts_and_four_crimps() -> None:
    """20 A x 2 x (0.5 + 2 x 0.25) mohm = 40 mV; without it everything is as before."""
    plain, joined = heater(""), heater(f"{{ways: 2, contact: 6.3 mm blade, {SURE}}}")
    without, found = drop(plain, "Heater"), drop(joined, "Heater")
    assert found.parts.contacts_v - without.parts.contacts_v == pytest.approx(0.040)
    assert found.parts.run_v == pytest.approx(without.parts.run_v)
    assert found.parts.return_v == pytest.approx(without.parts.return_v)
    assert found.total_v - without.total_v == pytest.approx(0.040)
    run = circuit(joined, "Heater").runs[0]
    assert found.parts.run_v == pytest.approx(20.0 * hot(FOUR, run.conductor_c) * 3.0)


def test_a_contact_that_nobody_names_counts_as_the_poorest() -> None:
    """20 A x 2 x (3 + 0.5) mohm = 140 mV, and the plan is asked for it."""
    plain, joined = heater(""), heater(f"{{ways: 2, {SURE}}}")
    more = drop(joined, "Heater").parts.contacts_v - drop(plain, "Heater").parts.contacts_v
    assert more == pytest.approx(0.140)
    said = [a.value for a in joined.assumptions if a.what == "connector contacts"]
    assert said == ["3 mΩ each"]


def test_the_return_counts_only_where_it_passes_through() -> None:
    """One way, or ``return: none``: 20 A x (0.5 + 0.5) mohm = 20 mV; so does an earth lead."""
    contacts = drop(heater(""), "Heater").parts.contacts_v
    one = heater(f"{{ways: 1, contact: 6.3 mm, {SURE}}}")
    past = heater(f"{{ways: 4, return: none, contact: 6.3 mm, {SURE}}}")
    for result in (one, past):
        assert drop(result, "Heater").parts.contacts_v - contacts == pytest.approx(0.020)
        assert [c.role for c in plug(result, "Heater").cavities].count("return") == 0
    body = drop(heater("", back="chassis"), "Heater").parts.contacts_v
    through = drop(heater(f"{{ways: 2, contact: 6.3 mm, {SURE}}}", back="chassis"), "Heater")
    assert through.parts.contacts_v - body == pytest.approx(0.040)


def test_each_piece_on_a_tail_has_its_own() -> None:
    """4 x 2 A: each contact carries 2 A, 2 x 2 A x (0.5 + 0.5) mohm = 4 mV in all."""
    text = """
accessories:
  - {{name: Lamps, current: 2 A, quantity: 4, load: constant current, place: shed, length: 3 m,
     tail: 0.5 m, size: 2.5 mm2, fed_from: main, return: wire{}}}
"""
    plain = studied(SHED, MAIN, text.format(""))
    joined = studied(SHED, MAIN, text.format(
        ", connector: {ways: 2, contact: 6.3 mm, rating: 15 A, rated_at: 80 °C}"
    ))
    more = drop(joined, "Lamps").parts.contacts_v - drop(plain, "Lamps").parts.contacts_v
    assert more == pytest.approx(0.004)
    found = plug(joined, "Lamps")
    assert found.pieces == 4
    assert found.current_a == pytest.approx(2.0)
    tails = [r.id for r in circuit(joined, "Lamps").runs if r.pieces == 4]
    assert [c.run for c in found.cavities] == tails


def test_a_trailer_socket_at_a_panel_counts_in_its_feeder() -> None:
    """10 A through 9 and 13: 10 A x 2 x (3 + 2 x 0.1) mohm = 64 mV at 10 mm2."""
    text = """
panels:
  main: {{place: shed, fed_from: battery, length: 1 m, size: 16 mm2}}
  trailer: {{place: shed, fed_from: main, length: 6 m, size: 10 mm2{}}}
accessories:
  - {{name: Fridge, current: 10 A, load: constant current, place: shed, length: 1 m, size: 6 mm2,
     fed_from: trailer, return: wire}}
"""
    plain = studied(SHED, text.format(""))
    joined = studied(SHED, text.format(
        ", connector: {kind: ISO 11446, rating: 20 A, rated_at: 80 °C}"
    ))
    more = drop(joined, "Fridge").total_v - drop(plain, "Fridge").total_v
    assert more == pytest.approx(0.064)
    found = joined.panels[1].connector
    assert found is not None
    assert (found.id, found.ways, found.rows) == ("X1", 13, ())
    assert {c.number: c.run for c in found.cavities if c.run} == {"9": "P2A", "13": "P2N"}
    assert next(c.use for c in found.cavities if c.number == "9") == "30"


def test_numbers_follow_panels_then_circuits_in_any_order_of_entries() -> None:
    rows = [
        "  - {name: Fan, number: 7, current: 5 A, place: shed, fed_from: main, connector: 2-way}",
        "  - {name: Set, number: 3, current: 5 A, place: shed, fed_from: main, connector: 2-way}",
        "  - {name: Bar, number: 9, current: 5 A, place: shed, fed_from: main}",
    ]
    for order in (rows, rows[::-1]):
        result = studied(SHED, MAIN, "accessories:\n" + "\n".join(order))
        assert {n: plug(result, n).id for n in ("Set", "Fan")} == {"Set": "X1", "Fan": "X2"}
        assert plug(result, "Set").at("3A") == "X1:1"
        assert plug(result, "Set").at("9A") is None


def test_what_a_contact_bears_where_it_is_hotter() -> None:
    """Rise with the square of the current: at 80 °C of 105, with 85 K at the test, √(25/85)."""
    assert usable_a(20.0, 20.0, 105.0, 80.0) == pytest.approx(20.0 * math.sqrt(25.0 / 85.0))
    assert usable_a(20.0, 80.0, 105.0, 80.0) == 20.0
    assert usable_a(20.0, 80.0, 105.0, 20.0) == 20.0  # never more than its rating
    assert usable_a(20.0, 20.0, 105.0, 105.0) == 0.0
    assert usable_a(20.0, 110.0, 105.0, 111.0) == 0.0


def test_a_rating_that_nobody_gives_is_asked_for() -> None:
    """CANNOT SAY: at the safe end nothing may hang on it, at the other it is not counted."""
    result = heater("2-way")
    assert result.answer == "cannot say"
    assert failing(result) == {("S08", "Heater")}
    asked = {(a.subject, a.what) for a in result.assumptions if "S08" in a.decides}
    assert asked == {("Heater", "connector rating")}


def test_a_rating_without_its_surroundings_is_asked_for_where_it_decides() -> None:
    """30 A at 20 °C are 30 √(75/85) = 28.2 A at 30 °C, below the fuse of 30 A; 40 A suffice."""
    short = heater("{ways: 2, contact: 6.3 mm, rating: 30 A}")
    assert plug(short, "Heater").usable_a == pytest.approx(30.0 * math.sqrt(75.0 / 85.0))
    assert short.answer == "cannot say"
    assert {a.what for a in short.assumptions if a.decides} == {
        "surroundings of the connector rating"
    }
    assert heater("{ways: 2, contact: 6.3 mm, rating: 40 A}").answer == "ok"


def test_contacts_over_their_rating_and_a_fuse_over_the_contacts_fail() -> None:
    result = heater("{ways: 2, contact: 6.3 mm, rating: 15 A, rated_at: 80 °C}")
    assert result.answer == "not ok"
    assert failing(result) == {("S08", "Heater"), ("S09", "Heater")}
    over = findings(result, "S08")[0]
    assert (over.found, over.limit) == (pytest.approx(20.0), 15.0)
    assert "rated 30 A or more" in over.remedy  # its fuse is 30 A
    mended = heater("{ways: 2, contact: 6.3 mm, rating: 30 A, rated_at: 80 °C}")
    assert mended.answer == "ok"


def test_a_fuse_over_the_contacts_is_mended_by_the_fuse_that_is_named() -> None:
    text = """
accessories:
  - {{name: Camera, current: 3 A, load: constant current, place: shed, length: 3 m, fed_from: main,
     return: wire, fuse: {}, connector: {{ways: 2, contact: 2.8 mm, rating: 6 A, rated_at: 80 °C}}}}
"""
    wrong = studied(SHED, MAIN, text.format("15 A"))
    assert failing(wrong) == {("S09", "Camera")}
    assert findings(wrong, "S09")[0].change == "Camera fuse 5 A"
    assert failing(studied(SHED, MAIN, text.format("5 A"))) == set()


def test_the_rescue_vehicle_practice_wants_125_percent_of_the_fuse() -> None:
    """NFPA 1901 13.2 (from memory): 30 A fuse, 37.5 A of contact."""
    for rating, fails in (("37 A", True), ("37.5 A", False)):
        given = f"{{ways: 2, contact: 6.3 mm, rating: {rating}, rated_at: 80 °C}}"
        result = studied("practice: rescue vehicle", SHED.strip(), MAIN, f"""
accessories:
  - {{name: Heater, current: 20 A, load: constant current, place: shed, length: 3 m, size: 6 mm2,
     fed_from: main, return: wire, connector: {given}}}
""")
        assert bool(findings(result, "S09")) == fails, rating


def test_wire_that_the_contacts_do_not_take_is_told() -> None:
    """A 2.8 mm blade takes 0.22 to 2.5 mm2 (ISO 8092-1, from memory)."""
    result = heater(f"{{ways: 2, contact: 2.8 mm, {SURE}}}")
    (found,) = findings(result, "S10")
    assert found.message.startswith("Wires 1A (4 mm²) and 1N (4 mm²) are thicker")
    assert "4 mm² (6.3 mm blades do)" in found.remedy
    assert not findings(heater(f"{{ways: 2, contact: 6.3 mm, {SURE}}}"), "S10")


def test_a_connector_of_low_class_is_told_where_the_wire_is_hotter() -> None:
    """X32: 20 A keep 4 mm2 above 40 °C in a shed of 30 °C."""
    assert not findings(heater(f"{{ways: 2, contact: 6.3 mm, {SURE}, class: 85 °C}}"), "X32")
    cold = heater("{ways: 2, contact: 6.3 mm, rating: 40 A, rated_at: 30 °C, class: 40 °C}")
    assert "connector" in findings(cold, "X32")[0].message


def test_pieces_without_tails_share_one_connector_and_that_is_said() -> None:
    """4 x 2 A through one contact: 8 A x 2 x (0.5 + 0.5) mohm = 16 mV, the safe side."""
    text = """
accessories:
  - {{name: Lamps, current: 2 A, quantity: 4, load: constant current, place: shed, length: 3 m,
     size: 2.5 mm2, fed_from: main, return: wire{}}}
"""
    plain = studied(SHED, MAIN, text.format(""))
    joined = studied(SHED, MAIN, text.format(
        ", connector: {ways: 2, contact: 6.3 mm, rating: 15 A, rated_at: 80 °C}"
    ))
    more = drop(joined, "Lamps").parts.contacts_v - drop(plain, "Lamps").parts.contacts_v
    assert more == pytest.approx(0.016)
    assert plug(joined, "Lamps").pieces == 1
    assert [a.value for a in joined.assumptions if a.what == "connector"] == ["one for all pieces"]
