"""OK, NOT OK and CANNOT SAY; given, missing and unknown values; who is said to decide."""

from __future__ import annotations

import pytest
from small_plans import MAIN, SHED, circuit, failing, feed, findings, studied

LAMP = """
accessories:
  - {{name: Lamp, current: 5 A, load: constant current, place: shed, length: {0}, fed_from: main,
     return: wire{1}}}
"""


def test_ok_when_nothing_fails_at_the_safe_end() -> None:
    result = studied(SHED, MAIN, LAMP.format("2 m", ""))
    assert result.answer == "ok"
    assert failing(result) == set()


def test_not_ok_when_it_fails_whatever_the_missing_values_are() -> None:
    """5 A in 20 m of 1 mm2 out and back: 5 x 40 x 18.5 mohm = 3.7 V of 0.6 V."""
    result = studied(SHED, MAIN, LAMP.format("20 m", ", size: 1 mm2"))
    assert result.answer == "not ok"
    assert ("D01", "Lamp") in failing(result)
    assert result.because == result.findings[0].message


def test_cannot_say_when_only_a_missing_value_makes_it_fail() -> None:
    """A length nobody gave: 5 m fail (5 A x 10 m x 18.5 mohm = 0.93 V), 1 m passes (0.19 V)."""
    result = studied(SHED, MAIN, """
accessories:
  - {name: Lamp, current: 5 A, load: constant current, fed_from: main, return: wire, size: 1 mm2}
""")
    assert result.answer == "cannot say"
    assert ("D01", "Lamp") in failing(result)
    deciding = {(a.subject, a.what): a.decides for a in result.assumptions if a.decides}
    assert "D01" in deciding["Lamp", "length one way"]


def test_a_value_that_decides_nothing_is_listed_without_rules() -> None:
    result = studied(SHED, MAIN, LAMP.format("2 m", ""))
    listed = {(a.subject, a.what): a for a in result.assumptions}
    assert listed["supply", "highest charging volts"].decides == ()
    known = {"read", "second-hand", "memory", "common practice", "computed", "judgement"}
    assert {a.status for a in result.assumptions} <= known


def test_a_given_size_is_kept_and_judged() -> None:
    """1 mm2 of 105 °C PVC carries 20 A at most; 25 A for good overheat it."""
    result = studied(SHED, MAIN, """
accessories:
  - {name: Heater, current: 25 A, load: constant current, place: shed, length: 1 m, size: 1 mm2,
     fed_from: main, return: wire}
""")
    run = feed(result, "Heater")
    assert (run.size, run.given, run.limited_by) == ("1 mm²", True, "fixed")
    assert ("A01", "Heater") in failing(result)
    assert result.answer == "not ok"


def test_a_given_fuse_is_kept_and_judged() -> None:
    """40 A before 1 mm2: more than the wire carries. 3 A for 5 A: less than the load needs."""
    large = studied(SHED, MAIN, LAMP.format("2 m", ", size: 1 mm2, fuse: 40 A"))
    assert circuit(large, "Lamp").fuses[0].rating_a == 40.0
    assert ("F01", "Lamp") in failing(large)
    small = studied(SHED, MAIN, LAMP.format("2 m", ", fuse: 3 A"))
    assert circuit(small, "Lamp").fuses[0].rating_a == 3.0
    assert ("F02", "Lamp") in failing(small)


def test_an_unknown_size_counts_as_the_thinnest_and_does_not_pass() -> None:
    result = studied(SHED, MAIN, LAMP.format("2 m", ", size: unknown"))
    run = feed(result, "Lamp")
    assert run.unknown
    assert run.area_mm2 == 0.5
    assert result.answer in ("cannot say", "not ok")
    assert findings(result, "W03") != []


def test_an_accepted_warning_no_longer_counts_and_still_fails() -> None:
    accessory = """
accessories:
  - {name: Winch, kind: winch, current: 100 A, duty: 60 s in 10 min, length: 1 m, size: 50 mm2,
     fed_from: battery, place: shed, return: wire, fuse: none, isolator: 300 A}
"""
    accepted = "accepted: [{rule: F05, subject: winch, by: J. K., reason: isolator in reach}]"
    plain, eased = studied(SHED, accessory), studied(SHED, accessory, accepted)
    found = findings(eased, "F05")[0]
    assert (found.fails, found.accepted_by) == (True, "J. K.")
    assert plain.answer == "not ok"
    assert {(f.rule, f.subject) for f in eased.findings if f.fails and not f.accepted_by} == (
        failing(plain) - {("F05", "Winch")}
    )


def test_a_practice_only_tightens() -> None:
    """Rescue vehicle: Iz >= 1.25 In (NFPA 1901 13.2.1.1, second-hand); its 10 % of drop is looser
    than the general 5 % and is not used. Small craft: no return by the body."""
    text = LAMP.format("2 m", "")
    general = studied(SHED, MAIN, text)
    rescue = studied(SHED, "practice: rescue vehicle", MAIN, text)
    for result, ratio in ((general, 1.0), (rescue, 1.25)):
        fuse = circuit(result, "Lamp").fuses[0]
        assert feed(result, "Lamp").ampacity_a >= ratio * fuse.rating_a
        assert circuit(result, "Lamp").drop is not None
        assert circuit(result, "Lamp").drop.limit_percent == 5.0  # type: ignore[union-attr]
    assert feed(rescue, "Lamp").area_mm2 >= feed(general, "Lamp").area_mm2
    craft = studied(
        SHED, "practice: small craft", MAIN, text.replace("return: wire", "return: chassis")
    )
    assert "R01" in {rule for rule, _ in failing(craft)}


def test_a_panel_may_be_used_to_what_its_own_fuse_was_chosen_for() -> None:
    """A short-time load asks the fuse for its current, a continuous one for 1/0.8 of it; so at
    20 °C (no derating) what is spare for good is 0.8 of what the rating leaves."""
    text = """
places: {shed: 20 °C}
panels: {main: {place: shed, fed_from: battery, rating: 100 A, length: 1 m}}
accessories:
  - {name: Fan, current: 15 A, inrush: 15 A, load: constant current, place: shed, length: 1 m}
  - {name: Lift, kind: actuator, current: %s, inrush: 20 A, load: constant current, place: shed,
     length: 1 m}
"""
    shed = SHED.replace("places: {shed: 30 °C}\n", "")
    for amps in ("5 A", "6 A", "8 A", "10 A", "11 A", "12 A"):
        result = studied(shed, text % amps)
        (panel,) = result.panels
        assert panel.fuse is not None
        assert panel.usable_a is not None
        share = 0.8 * panel.fuse.rating_a
        assert panel.fuse.min_a < panel.current_a / 0.8  # the short-time load asks for less
        assert panel.usable_a > share
        least_a = 15.0 / 0.8 + (panel.current_a - 15.0)
        assert panel.fuse.min_a == pytest.approx(least_a)
        spare = 0.8 * (panel.fuse.rating_a - least_a)
        assert panel.usable_a == pytest.approx(panel.current_a + spare)
        assert not findings(result, "S06")
