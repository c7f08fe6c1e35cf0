"""Unknown keys that are words of the trade; sections that are misspelt or in the wrong place."""

from __future__ import annotations

import pytest

from circuitplan.errors import InputError, Problem
from circuitplan.planfile import fields, meanings, read_text, trade_words

PLAN = """circuitplan: 1
system: 12 V
supply:
  battery: 70 Ah
  batteries: {bed battery: 100 Ah}
  chargers: {C1: {type: dc-dc, from: battery, to: bed battery, output: 25 A}}
panels:
  Cab panel: {place: cab, fed_from: battery}
switches:
  S1: {rating: 20 A}
accessories:
  - {name: Fridge, kind: fridge, length: 3 m, switch: S1, fed_from: Cab panel}
  - {name: Radio, kind: cb radio, length: 3 m, fed_from: bed battery, KEY}
scenarios:
  - {name: Camp, engine: off, duration: 3 h, running: {Fridge: 50 %, Radio: 100 %}}
days:
  - {name: Week, order: [Camp]}
"""
WHOLE = PLAN.replace(", KEY", "")


def problems(text: str) -> tuple[Problem, ...]:
    with pytest.raises(InputError) as caught:
        read_text(text)
    return caught.value.problems


@pytest.mark.parametrize(
    ("said", "mend"),
    [
        ("amps: 8 A", "write current: 8 A"), ("amps: 8", "write current: 8 A"),
        ("watts: 90", "write power: 90 W"), ("Watts: 90 W", "write power: 90 W"),
        ("feed: Cab panel", "write fed_from: Cab panel"), ("fused: 10", "write fuse: 10 A"),
        ("gauge: 6 mm2", "write size: 6 mm2"), ("wire colour: RD", "write colour: RD"),
        ("length_m: 4", "write length: 4 m"), ("size_mm2: 6", "write size: 6 mm2"),
        ("distance: 4", "write length: 4 m"), ("qty: 2", "write quantity: 2"),
        ("surge: 30 A", "write inrush: 30 A"), ("location: cab", "write place: cab"),
        ("power_w: 90", "write power: 90 W"), ("drain: 5 mA", "write parked: 5 mA"),
        ("ignition: yes", "write live: ignition"), ("relay: yes", "switches: {S1: {rating: 20 A"),
        ("lenght: 4 m", "did you mean length?"),
    ],
)  # fmt: skip
def test_a_word_of_the_trade_is_told_as_the_key_it_is(said: str, mend: str) -> None:
    text = PLAN.replace("length: 3 m, fed_from: bed", "fed_from: bed")
    (problem,) = problems(text.replace("KEY", said))
    assert mend in problem.remedy
    assert problem.line == 13


def test_what_is_proposed_reads() -> None:
    for said in ("amps: 8", "watts: 90", "length_m: 4", "size_mm2: 6", "fused: 10", "surge: 30"):
        text = PLAN.replace("length: 3 m, fed_from: bed", "fed_from: bed")
        (problem,) = problems(text.replace("KEY", said))
        read_text(text.replace("KEY", problem.remedy.removeprefix("write ")))


def test_other_sections_have_their_own_words() -> None:
    said = [
        ("rating: 20 A", "amps: 20", "write rating: 20 A"),
        ("battery: 70 Ah", "battery: {ah: 70}", "write capacity: 70 Ah"),
        ("output: 25 A", "amps: 25", "write output: 25 A"),
        ("duration: 3 h", "hours: 3", "write duration: 3 h"),
        ("order: [Camp]", "sequence: Camp, order: [Camp]", "write order: Camp"),
    ]
    for old, new, mend in said:
        found = problems(WHOLE.replace(old, new))
        assert mend in [p.remedy for p in found], new


@pytest.mark.parametrize(
    ("right", "wrong"),
    [
        ("accessories:", "acessories:"), ("accessories:", "loads:"), ("switches:", "swiches:"),
        ("panels:", "panel:"), ("panels:", "fuse_box:"), ("scenarios:", "scenario:"),
        ("supply:", "suply:"), ("  batteries:", "  bateries:"), ("  chargers:", "  charger:"),
        ("days:", "day:"),
    ],
)  # fmt: skip
def test_a_misspelt_section_is_one_problem(right: str, wrong: str) -> None:
    assert WHOLE.count(f"\n{right}") == 1
    (problem,) = problems(WHOLE.replace(f"\n{right}", f"\n{wrong}"))
    assert f"'{wrong.strip().removesuffix(':')}'" in problem.found
    assert right.strip().removesuffix(":") in problem.remedy


def test_what_else_is_wrong_is_told_too() -> None:
    text = WHOLE.replace("accessories:", "acessories:").replace("kind: cb radio", "kind: cb radoi")
    assert [p.found[:18] for p in problems(text)] == ["the unknown key 'a", "Radio: kind is 'cb"]


def test_a_section_outside_supply_is_told_where_it_belongs() -> None:
    text = WHOLE.replace("  chargers: {C1", "CHARGERS: {C1").replace("CHARGERS", "chargers")
    (problem,) = problems(text.replace("supply:\n", "supply:\n", 1))
    assert "write it under supply" in problem.remedy


def test_a_right_plan_stays_right() -> None:
    assert len(read_text(WHOLE).accessories) == 2


def test_every_word_stands_for_a_key_there_is() -> None:
    sections = {s.name: s for s in meanings.sections()}
    known = {f.key for f in fields.TOP.fields} | set(fields.LISTS) | set(fields.NAMED)
    for name, word in trade_words.every():
        section = sections[name]
        key, _ = trade_words.meant(word, section)
        assert key == "!" or section.find(key) or (name == "plan" and key in known), (name, word)
        assert section.find(word) is None, (name, word)  # it would never be looked for
        assert trade_words.remedy(word, None, section) is not None
