"""A starter plan reads; wrong answers are told like other problems."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitplan.errors import InputError
from circuitplan.planfile import read_text
from circuitplan.planfile.starter import QUESTIONS, check_answer, starter_plan


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
        ("twin-motor compressor", 1), ("fridge", 1), ("work lamps", 2),
    ]  # fmt: skip
    assert "# length: 3 m" in text


@pytest.mark.parametrize("switches", ["", "S1: 30 A"])
def test_every_stub_reads_once_its_mark_is_taken_away(switches: str) -> None:
    text = starter_plan({"switches": switches, "battery": "70 Ah", "alternator": "120 A"})
    assert len(read_text(text).panels) == 0
    text = re.sub(r"^# ((panels|switches|scenarios|days):|  )", r"\1", text, flags=re.M)
    text = re.sub(r"^  # (S3:|Reverse:|- \{)", r"  \1", text, flags=re.M)
    plan = read_text(text)
    assert [p.name for p in plan.panels] == ["Cab panel"]
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
