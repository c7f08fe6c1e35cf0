"""Connectors in a plan file: one word, or keys; what is wrong with them is told all at once."""

from __future__ import annotations

from pathlib import Path

import pytest

from circuitplan.errors import InputError
from circuitplan.model.plan import ConnectorSpec
from circuitplan.planfile import changes, edits, read_text
from circuitplan.planfile.reading import read_plan

PLAN = """circuitplan: 1
system: 12 V
supply: {{battery: 70 Ah}}
panels:
  main: {{fed_from: battery}}
  trailer: {{fed_from: main, length: 6 m{panel}}}
accessories:
  - {{name: Lamp, current: 5 A, length: 3 m, fed_from: main{lamp}}}
"""


def spec(words: str) -> ConnectorSpec | None:
    return read_text(PLAN.format(panel="", lamp=f", connector: {words}")).accessories[0].connector


def problems(lamp: str = "", panel: str = "") -> list[str]:
    with pytest.raises(InputError) as caught:
        read_text(PLAN.format(
            panel=f", connector: {panel}" if panel else "",
            lamp=f", connector: {lamp}" if lamp else "",
        ))
    return [f"{p.found} | {p.allowed} | {p.remedy}" for p in caught.value.problems]


@pytest.mark.parametrize(("words", "meant"), [
    ("2-way", ConnectorSpec(ways=2)),
    ("4", ConnectorSpec(ways=4)),
    ("3 poles", ConnectorSpec(ways=3)),
    ("iso 11446 13-pole", ConnectorSpec(kind="ISO 11446 13-pole")),
    ("13-pole trailer socket", ConnectorSpec(kind="ISO 11446 13-pole")),
    ("{poles: 2}", ConnectorSpec(ways=2)),
    ("{ways: 4, rows: 2, contact: 2.8mm}",
     ConnectorSpec(ways=4, rows="2", contact="2.8 mm blade")),
    ("{ways: 4, rows: 2 1 / 4 3, feed: 3, return: 1}",
     ConnectorSpec(ways=4, rows="2 1 / 4 3", feed="3", back="1")),
    ("{ways: 2, rating: 15 A, rated_at: 60 °C, class: 125 °C, sealed: yes, return: NONE}",
     ConnectorSpec(ways=2, rating_a=15.0, rated_at_c=60.0, class_c=125.0, sealed=True,
                   back="none")),
    ("{ways: 2, takes: 2.5 mm2 to 0.5 mm2}", ConnectorSpec(ways=2, least_mm2=0.5, most_mm2=2.5)),
    ("{kind: ISO 1724, feed: 6}", ConnectorSpec(kind="ISO 1724 7-pole", feed="6")),
])  # fmt: skip
def test_what_may_be_written(words: str, meant: ConnectorSpec) -> None:
    assert spec(words) == meant


def test_sizes_in_awg_are_taken_by_their_area() -> None:
    found = spec("{ways: 2, takes: 20 AWG to 14 AWG}")
    assert found is not None
    assert found.least_mm2 == pytest.approx(0.518, abs=1e-3)  # ASTM B258
    assert found.most_mm2 == pytest.approx(2.081, abs=1e-3)


def test_a_list_of_accessories_may_hold_them(tmp_path: Path) -> None:
    file = tmp_path / "list.csv"
    file.write_text(
        "name,current A,length m,connector,connector rating A\nLamp,5,3,,\nFan,2,3,2-way,\n"
    )
    lamp, fan = read_plan(str(file)).accessories
    assert (lamp.connector, fan.connector) == (None, ConnectorSpec(ways=2))


def test_every_problem_is_told_at_once() -> None:
    told = problems(
        "{ways: 4, rows: 1 2 / 3 3, feed: 9, contact: 7 mm, rating: 15, sealde: yes}",
        "{kind: ISO 1724, ways: 9, rows: 2, rated_at: 110 °C, class: 90 °C}",
    )
    said = "\n".join(told)
    for words in (
        "contact is '7 mm' | 2.8 mm blade, 4.8 mm blade", "rating is '15'",
        "the unknown key 'sealde'", "did you mean sealed?",
        "with the numbers 1 2 / 3 3 | 4 numbers, each once",
        "ISO 1724 7-pole with 9 ways | 7", "ISO 1724 7-pole with rows",
        "without feed | feed: one of 1, 2, 3", "with rated_at and no rating",
        "rated at 110 °C, of class 90 °C",
    ):
        assert words in said, words


@pytest.mark.parametrize(("words", "found"), [
    ("two holes", "ways is 'two holes' | 1 to 64 cavities as 2-way; or as kind: ISO 1724 7-pole"),
    ("0-way", "ways is '0-way'"),
    ("65", "ways is '65'"),
    ("{rating: 5 A}", "connector without ways | ways, or the kind of a standard"),
    ("{ways: 2, feed: 3}", "with feed 3 | one of 1, 2"),
    ("{ways: 2, feed: 1, return: 1}", "with feed and return both 1"),
    ("{ways: 2, feed: none}", "with feed none"),
    ("{ways: 1, return: 1}", "only cavity for the return"),
    ("{ways: 2, rows: 3}", "of 2 ways in 3 rows"),
    ("{ways: 40, rows: 2}", "of 40 ways in 2 rows | at most 16 in a row"),
    ("{ways: 17}", "of 17 ways in 1 row | at most 16"),
    ("{ways: 2, rows: 1}", ""),
    ("{ways: 2, takes: 1 mm2}", "two sizes of the tables"),
    ("{ways: 2, takes: 1 to 2 mm2}", "takes is '1', which may be AWG, SAE or mm²"),
    ("{ways: 2, takes: 1 mm2 to 2.7 mm2}", "two sizes of the tables"),
])  # fmt: skip
def test_one_problem_each(words: str, found: str) -> None:
    if not found:
        assert spec(words) is not None
        return
    told = problems(words)
    assert len(told) == 1
    assert found in told[0]


def test_a_standard_for_other_volts_is_refused() -> None:
    text = PLAN.format(panel=", connector: ISO 11446", lamp="").replace("12 V", "24 V")
    with pytest.raises(InputError, match=r"ISO 11446 13-pole at 24 V"):
        read_text(text)


def test_a_change_spells_out_the_short_form() -> None:
    text = PLAN.format(panel=", connector: ISO 11446", lamp=", connector: 2-way")
    changed = text
    for words in ("Lamp connector rating 15 A", "trailer connector rating 20 A"):
        changed = edits.apply(changed, changes.change(read_text(changed), words))
    plan = read_text(changed)
    assert plan.accessories[0].connector == ConnectorSpec(ways=2, rating_a=15.0)
    assert plan.panels[1].connector == ConnectorSpec(kind="ISO 11446 13-pole", rating_a=20.0)
    whole = edits.apply(text, changes.change(read_text(text), "Lamp connector 4-way"))
    assert read_text(whole).accessories[0].connector == ConnectorSpec(ways=4)
    gone = edits.apply(text, changes.change(read_text(text), "Lamp connector chosen"))
    assert read_text(gone).accessories[0].connector is None
