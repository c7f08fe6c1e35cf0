"""A starter plan reads; wrong answers are told like other problems."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitplan.errors import InputError
from circuitplan.planfile import read_text
from circuitplan.planfile.starter import QUESTIONS, check_answer, said_to, starter_plan


def test_no_answers() -> None:
    plan = read_text(starter_plan({}))
    assert [a.kind for a in plan.accessories] == ["fridge"]
    assert plan.switches == ()
    assert plan.nominal_v == 12.0
    assert not plan.supply_given


def test_all_answers_as_in_their_examples() -> None:
    text = starter_plan({question.key: question.example for question in QUESTIONS})
    plan = read_text(text)
    assert plan.title == "Ridge rescue pickup"
    assert plan.supply.batteries[0].capacity_ah == 70.0
    assert plan.supply.batteries[0].type == "agm"
    assert plan.supply.alternator is not None
    assert plan.supply.alternator.rated_a == 120.0
    assert [(s.name, s.rating_a) for s in plan.switches] == [("S1", 30.0), ("S2", 20.0)]
    assert [(a.kind, a.quantity) for a in plan.accessories] == [
        ("twin-motor compressor", 1), ("LED bar", 1), ("rear work lamps", 2),
    ]  # fmt: skip
    assert [a.name for a in plan.accessories][1:] == ["Front LED bar", "Rear work lamps"]
    assert "# length: 3 m" in text
    second, charger = plan.supply.batteries[1], plan.supply.chargers[0]
    assert (second.name, second.capacity_ah) == ("second battery", 100.0)
    assert (charger.kind, charger.source, charger.target, charger.output_a) == (
        "dc-dc", "battery", "second battery", 25.0,
    )  # fmt: skip


@pytest.mark.parametrize("switches", ["", "S1: 30 A"])
def test_every_stub_reads_once_its_mark_is_taken_away(switches: str) -> None:
    text = starter_plan({"switches": switches, "battery": "70 Ah", "alternator": "120 A"})
    assert len(read_text(text).panels) == 0
    text = re.sub(r"^# ((panels|switches|legs|scenarios|days):|  )", r"\1", text, flags=re.M)
    text = re.sub(r"^  # (S3:|Reverse:|- \{|batteries:|chargers:|  Charger:)", r"  \1", text,
                  flags=re.M)
    plan = read_text(text)
    assert [p.name for p in plan.panels] == ["Cab panel", "Bed panel"]
    assert [(leg.a, leg.b) for leg in plan.legs] == [("engine bay", "cab"), ("cab", "bed")]
    assert [b.name for b in plan.supply.batteries] == ["battery", "bed battery"]
    assert plan.supply.chargers[0].target == "bed battery"
    assert {s.name: s.type for s in plan.switches} == {
        "S1": "direct", "S3": "relay", "Reverse": "signal",
    }  # fmt: skip
    assert [a.kind for a in plan.accessories] == ["fridge", "winch"]
    assert [(s.name, s.engine) for s in plan.scenarios] == [("Drive", "cruise"), ("Camp", "off")]
    assert plan.days[0].order == ("Drive", "Camp")


def test_same_kind_twice_gets_two_names() -> None:
    plan = read_text(starter_plan({"accessories": "fridge, fridge"}))
    assert [a.name for a in plan.accessories] == ["Fridge", "Fridge 2"]


def test_wrong_answers_are_told_all_at_once() -> None:
    with pytest.raises(InputError) as caught:
        starter_plan({"battery": "70", "system": "230 V", "accessories": "frige", "colour": "RD"})
    found = " ".join(p.found for p in caught.value.problems)
    assert len(caught.value.problems) == 4
    for word in ("'70'", "'230 V'", "'frige'", "'colour'"):
        assert word in found


def test_one_answer_can_be_checked_as_it_is_given() -> None:
    assert check_answer("system", " 24 V ") == "24 V"
    assert check_answer("system", "") == "12 V"
    with pytest.raises(InputError):
        check_answer("alternator", "lots")


@given(st.text(max_size=30))
@settings(deadline=None)
def test_any_title_survives(title: str) -> None:
    try:
        text = starter_plan({"title": title})
    except InputError:
        return
    expected = title.strip() or "My vehicle"
    assert read_text(text).title == expected


WORDS = [
    ("front LED bar", "LED bar", 1, "Front LED bar"),
    ("two rear work lamps", "rear work lamps", 2, "Rear work lamps"),
    ("two lockers", "lockers", 2, "Lockers"),
    ("rear locker", "locker", 1, "Rear locker"),
    ("front and rear locker", "locker", 2, "Front and rear locker"),
    ("pair of rear lamps", "rear lamps", 2, "Rear lamps"),
    ("two pairs of rock lights", "rock lights", 4, "Rock lights"),
    ("2x 40 W work lamps", "work lamps", 2, "Work lamps"),
    ("work lamps x2", "work lamps", 2, "Work lamps"),
    ("a set of four rock lights", "rock lights", 4, "Rock lights"),
    ("winch on the front bumper", "winch", 1, "Winch on the front bumper"),
    ("left cab radio", "radio", 1, "Left cab radio"),
    # the number belongs to the kind
    ("4 t winch", "4 t winch", 1, "4 t winch"),
    ("2 kW heater", "2 kW heater", 1, "2 kW heater"),
    ("two 12 V sockets", "12 V sockets", 2, "12 V sockets"),
    ("twin-motor compressor", "twin-motor compressor", 1, "Twin-motor compressor"),
    ("two-way radio", "two-way radio", 1, "Two-way radio"),
]


@pytest.mark.parametrize(("words", "kind", "count", "name"), WORDS)
def test_plain_words_are_understood(words: str, kind: str, count: int, name: str) -> None:
    (made,) = read_text(starter_plan({"accessories": words})).accessories
    assert (made.kind, made.quantity, made.name) == (kind, count, name)


def test_a_list_in_one_breath() -> None:
    said = "front LED bar 180 W, two rear work lamps and two lockers; fridge"
    made = read_text(starter_plan({"accessories": said})).accessories
    assert [(a.name, a.quantity, a.power_w) for a in made] == [
        ("Front LED bar", 1, 180.0), ("Rear work lamps", 2, None), ("Lockers", 2, None),
        ("Fridge", 1, None),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("words", "belongs"),
    [
        ("charger", "chargers:"), ("battery charger", "chargers:"), ("dc-dc charger", "chargers:"),
        ("solar panel", "chargers:"), ("second battery", "batteries:"), ("fuse box", "panels:"),
        ("two relays", "switches:"), ("a bigger alternator", ""), ("flux compensator", ""),
    ],
)  # fmt: skip
def test_what_is_no_accessory_is_said_where_it_belongs(words: str, belongs: str) -> None:
    with pytest.raises(InputError) as caught:
        check_answer("accessories", words)
    (problem,) = caught.value.problems
    assert belongs in problem.allowed
    assert "laptop" not in problem.remedy
    if not belongs:
        assert "no kind of the tables" in problem.found


def test_a_kind_of_charger_that_is_an_accessory_stays_one() -> None:
    for words in ("laptop charger", "usb charger", "battery monitor", "charging port"):
        assert check_answer("accessories", words) == words


@pytest.mark.parametrize(
    ("key", "said", "meant"),
    [
        ("battery", "95", "95 Ah"), ("battery", " 95 ", "95 Ah"), ("battery", "95 Ah", "95 Ah"),
        ("alternator", "120", "120 A"), ("system", "24", "24 V"), ("charger", "25", "25 A"),
        ("charger", "dc-dc 25", "dc-dc 25 A"),
        ("switches", "S1: 30, S2: 20 A", "S1: 30 A, S2: 20 A"),
        ("second_battery", "100", "100 Ah"), ("title", "7", "7"), ("accessories", "2", "2"),
    ],
)  # fmt: skip
def test_where_the_question_names_the_unit_a_bare_number_has_it(
    key: str, said: str, meant: str
) -> None:
    assert said_to(key, said) == meant
    if key not in ("accessories", "title"):
        assert check_answer(key, said_to(key, said))


def test_elsewhere_a_bare_number_is_refused() -> None:
    for key, said in (("battery", "95"), ("alternator", "120"), ("switches", "S1: 30")):
        with pytest.raises(InputError):
            check_answer(key, said)


@pytest.mark.parametrize(
    ("said", "sort", "output"),
    [
        ("dc-dc 25 A", "dc-dc", 25.0), ("25 A", "dc-dc", 25.0), ("b2b 30 A", "dc-dc", 30.0),
        ("split charge relay", "voltage relay", None), ("solar 10 A", "solar", 10.0),
        ("DC-DC charger 40A", "dc-dc", 40.0), ("shore 15 A", "shore", 15.0),
    ],
)  # fmt: skip
def test_chargers_in_plain_words(said: str, sort: str, output: float | None) -> None:
    answers = {"battery": "95 Ah", "second_battery": "100 Ah", "charger": said}
    (charger,) = read_text(starter_plan(answers)).supply.chargers
    assert (charger.kind, charger.output_a, charger.target) == (sort, output, "second battery")


def test_a_second_battery_wants_a_first_and_a_charger_wants_a_battery() -> None:
    for answers in ({"second_battery": "100 Ah"}, {"battery": "95 Ah", "charger": "dc-dc 25 A"}):
        with pytest.raises(InputError):
            starter_plan(answers)
    text = starter_plan({"battery": "95 Ah", "second_battery": "100 Ah"})
    assert read_text(text).supply.chargers == ()
    assert "  # chargers:" in text
