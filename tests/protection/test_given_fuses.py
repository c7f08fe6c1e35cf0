"""A fuse that the plan gives never vanishes: it resolves to what is made for the volts, or stays
and is judged. Classes of volts: ISO 8820-3 (32 and 58 V: read); class T 125 V DC (from memory)."""

from __future__ import annotations

import pytest

from circuitplan.model.result import Fuse, Result
from circuitplan.planfile import read_text
from circuitplan.planner import study

HEAD = """circuitplan: 1
system: %s
supply: {battery: {type: lifepo4, capacity: 100 Ah, short_circuit: 2000 A}}
"""
LAMP = HEAD + """accessories:
  - {name: Lamp, kind: work lamp, power: 30 W, length: 2 m, inrush: 2 A, fuse: %s}
"""
NUMBERED = HEAD + """circuits: {5: {split: bed, fuse: %s}}
places: {battery: 30 °C, bed: 30 °C}
legs: [[battery, bed, 2 m]]
panels: {main: {place: battery, fed_from: battery, length: 1 m}}
accessories:
  - {name: A, number: 5, current: 2 A, place: bed, length: 1 m}
  - {name: B, number: 5, current: 2 A, place: bed, length: 1 m}
"""
PANEL = HEAD + """panels: {main: {fed_from: battery, length: 1 m, fuse: %s}}
accessories: [{name: A, current: 2 A, length: 1 m}]
"""
SWITCH = HEAD + """switches: {S1: {type: direct, rating: 20 A, fuse: %s}}
accessories: [{name: A, current: 2 A, length: 1 m, switch: S1}]
"""


def made(plan: str, system: str, fuse: str) -> Result:
    return study(read_text(plan % (system, fuse)))


def given(result: Result) -> Fuse:
    fuses = [f for c in result.circuits for f in c.fuses]
    fuses += [p.fuse for p in result.panels if p.fuse is not None]
    (found,) = [f for f in fuses if f.given]
    return found


@pytest.mark.parametrize("plan", [LAMP, NUMBERED, PANEL, SWITCH])
def test_a_missing_type_is_one_made_for_the_volts(plan: str) -> None:
    """48 V of LiFePO4 reaches 58.4 V: 58 V blades are out, class T is not."""
    result = made(plan, "48 V", "15 A")
    assert result.supply.high_v == pytest.approx(58.4)
    assert (given(result).rating_a, given(result).type) == (15.0, "class T")
    assert not [f for f in result.findings if f.rule in ("F05", "X18")]


@pytest.mark.parametrize("plan", [LAMP, NUMBERED, PANEL, SWITCH])
def test_an_unfit_type_stays_and_is_told(plan: str) -> None:
    result = made(plan, "48 V", "15 A C")
    assert (given(result).rating_a, given(result).type) == (15.0, "C")
    (told,) = [f for f in result.findings if f.rule == "X18"]
    assert told.fails
    assert "class T" in told.remedy
    assert given(result).id in told.message
    assert not [f for f in result.findings if f.rule == "F05"]


def test_on_12_v_nothing_is_told_and_a_rating_between_two_keeps_its_family() -> None:
    for words, amperes in (("15 A", 15.0), ("17 A", 17.0)):
        result = made(LAMP, "12 V", words)
        assert (given(result).rating_a, given(result).type) == (amperes, "C")
        assert not [f for f in result.findings if f.rule in ("F05", "X18")]


def test_x18_knows_the_volts_behind_a_converter() -> None:
    """12 V behind a converter of a 48 V vehicle: blades serve there."""
    result = study(read_text(HEAD % "48 V" + """panels:
  main: {fed_from: battery, length: 1 m}
  low: {fed_from: main, length: 1 m, output: 13.8 V, rating: 30 A}
accessories: [{name: A, current: 2 A, length: 1 m, fed_from: low, fuse: 5 A C}]
"""))
    assert given(result).type == "C"
    assert not [f for f in result.findings if f.rule == "X18"]


def test_why_there_is_no_fuse_is_always_said() -> None:
    """The plan's own word, or the amperes that no table holds (strip fuses end at 500 A)."""
    none = made(LAMP, "12 V", "none").circuits[0]
    assert (none.fuses, none.fuse_reason) == ((), "the plan says: none")
    result = study(read_text(HEAD % "12 V" + """accessories:
  - {name: Heater, current: 700 A, load: constant current, length: 1 m}
"""))
    bare = [*(c for c in result.circuits if not c.fuses), *(p for p in result.panels if not p.fuse)]
    assert bare
    for owner in bare:
        assert (owner.fuse_reason or "").startswith("no fuse of the tables carries its load, ")
    told = [f for f in result.findings if f.rule == "F05"]
    assert told
    assert all("no fuse of the tables" in f.message for f in told)
    assert all("thicker" not in f.remedy for f in told)
