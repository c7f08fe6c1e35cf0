"""``try`` in plain words: what is understood, what is refused, and what the answer says."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest

from circuitplan.errors import InputError
from circuitplan.planfile import read_plan, read_text
from circuitplan.planfile.wishes.sentence import understood
from circuitplan.planfile.wishes.wish import applied
from circuitplan.planfile.writing import plan_text

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"

SAID = [
    # adding
    ("owner", "does a twin-motor compressor overload my third switch?",
     ["add twin-motor compressor, switch S3"]),
    ("owner", "can S3 take a winch?", ["add winch, switch S3"]),
    ("owner", "add a fridge on S1, 4 m", ["add fridge, switch S1, length 4 m"]),
    ("owner", "add two 25 W work lamps on switch 1 at 5 m",
     ["add work lamps, switch S1, length 5 m, power 25 W, quantity 2"]),
    ("owner", "add a 120 W led bar called Roof bar on S3, 3.5 m, with a 15 A fuse",
     ["add Roof bar=led bar, fuse 15 A, switch S3, length 3.5 m, power 120 W"]),
    ("owner", "add a fridge and a winch", ["add fridge", "add winch"]),
    ("rescue-pickup", "add a second fridge in the bed fed from house panel",
     ["add fridge, fed_from house panel, place bed"]),
    # removing
    ("owner", "remove the fridge", ["remove Fridge"]),
    ("owner", "take the camp lamps out", ["remove Camp lamps"]),
    ("owner", "without the fridge", ["remove Fridge"]),
    ("owner", "remove the fridge and the camp lamps", ["remove Fridge", "remove Camp lamps"]),
    # swapping
    ("overloaded-compressor", "swap the compressor for a twin-motor one on switch 3",
     ["swap Compressor=twin-motor compressor", "change Compressor switch S3"]),
    ("overloaded-compressor", "swap the compressor for a 40 A one",
     ["change Compressor current 40 A"]),
    ("owner", "replace the rear lamps with a led bar",
     ["swap Rear lamps=led bar", "change Rear lamps quantity 1"]),
    ("owner", "upgrade the rear lamps to 60 W", ["change Rear lamps power 60 W"]),
    ("workboat", "replace the deck lamps with two filament lamps",
     ["swap Deck lamps=filament lamps"]),
    # moving
    ("owner", "move the camp lamps to switch 1", ["change Camp lamps switch S1"]),
    ("owner", "switch the fridge with S1", ["change Fridge switch S1"]),
    ("owner", "move the fridge and the rear lamps to S3",
     ["change Fridge switch S3", "change Rear lamps switch S3"]),
    ("rescue-pickup", "move the fridge to the cab",
     ["change Fridge place cab", "change Fridge length chosen"]),
    ("rescue-pickup", "feed the fridge from main with 4 m",
     ["change Fridge fed from main", "change Fridge length 4 m"]),
    # wire, fuse, length, inrush, power
    ("owner", "use 6 mm2 for the fridge", ["change Fridge size 6 mm2"]),
    ("owner", "fuse the fridge at 20 A", ["change Fridge fuse 20 A"]),
    ("owner", "give the fridge a 10 A fuse", ["change Fridge fuse 10 A"]),
    ("owner", "lengthen the fridge wire to 8 m", ["change Fridge length 8 m"]),
    ("owner", "shorten the rear lamps wire to 2 m and fuse them at 5 A",
     ["change Rear lamps length 2 m", "change Rear lamps fuse 5 A"]),
    ("owner", "swap the rear lamps for a led bar and lengthen the wire to 8 m",
     ["swap Rear lamps=led bar", "change Rear lamps quantity 1", "change Rear lamps length 8 m"]),
    ("owner", "add a winch called Front, fuse it at 300 A class T and make the wire 50 mm2",
     ["add Front=winch", "change Front fuse 300 A class T", "change Front size 50 mm2"]),
    ("workboat", "VHF radio on a 15 A breaker", ["change VHF radio breaker 15 A"]),
    ("service-truck", "put the tail lift on a 200 A breaker",
     ["change Tail lift fuse chosen", "change Tail lift breaker 200 A"]),
    ("service-truck", "give the camera a 2-way connector", ["change Camera connector 2-way"]),
    ("service-truck", "the camera's connector rating 3 A",
     ["change Camera connector rating 3 A"]),
    ("service-truck", "camera without a connector", ["change Camera connector chosen"]),
    ("owner", "rear lamps on S1 or S3", ["change Rear lamps switch S1, S3"]),
    ("rescue-pickup", "scene lamps chassis return", ["change Scene lamps return chassis"]),
    ("workboat", "add a fridge at the helm, fed from helm panel, return wire",
     ["add fridge, fed_from helm panel, place helm, return wire"]),
    ("owner", "is 2.5 mm2 enough for the fridge", ["change Fridge size 2.5 mm2"]),
    ("owner", "rear lamps to switch 3, please", ["change Rear lamps switch S3"]),
    ("rescue-pickup", "C1 output 40 A", ["change C1 output 40 A"]),
    ("owner", "inrush of the fridge 60 A", ["change Fridge inrush 60 A"]),
    ("owner", "choose the fridge fuse again", ["change Fridge fuse chosen"]),
    ("owner", "four rear lamps", ["change Rear lamps quantity 4"]),
    ("service-truck", "raise the fuse of the tail lift from 150 A to 200 A class T",
     ["change Tail lift fuse 200 A class T"]),
    ("rescue-pickup", "change the roof bar power to 240 W and its fuse to 30 A",
     ["change Roof bar power 240 W", "change Roof bar fuse 30 A"]),
    ("workboat", "deck lamps 12 AWG", ["change Deck lamps size 12 AWG"]),
    ("owners-list", "fridge 9 m", ["change Fridge length 9 m"]),
    # switches, supply, the plan
    ("owner", "put a relay on S3", ["change S3 type relay"]),
    ("overloaded-compressor", "use a relay for the compressor", ["change S3 type relay"]),
    ("owner", "swap S3 for a 40 A one", ["change S3 rating 40 A"]),
    ("owner", "fit a 150 A alternator", ["change alternator rated 150 A"]),
    ("owner", "swap the battery for a 100 Ah lifepo4 one",
     ["change battery capacity 100 Ah", "change battery type lifepo4",
      "change battery cranking chosen"]),
    ("rescue-pickup", "engine bay 100 °C", ["change engine bay ambient 100 °C"]),
    ("rescue-pickup", "engine high idle in Drive out", ["change Drive out engine high idle"]),
    ("owner", "practice small craft", ["change practice small craft"]),
    ("owner", "add a heater; remove camp lamps; alternator 200 A",
     ["add heater", "remove Camp lamps", "change alternator rated 200 A"]),
]  # fmt: skip

REFUSED = [
    ("owner", "make it better", "nothing in the plan is called 'it better'"),
    ("owner", "double the fridge", "'double' is not understood of Fridge"),
    ("owner", "add a flux compensator on S1", "'flux compensator' is no kind"),
    ("owner", "lengthen the fridge by 2 m", "a difference"),
    ("owner", "fridge 2,5 mm2", "a comma in a number"),
    ("owner", "a bigger alternator", "'bigger' is not understood of alternator"),
    ("owner", "add another battery of 100 Ah", "a further battery"),
    ("owner", "put a winch on the front bumper", "'front bumper' is not understood"),
    ("rescue-pickup", "cut the beacons", "it may be Beacon, Grille beacons"),
    ("owner", "add lamp of 30 watts to switch 1", "'lamp' is no kind"),
    ("owner", "winch", "nothing in the plan is called 'winch'"),
    ("owner", "swap the fridge", "what shall take its place is not said"),
    ("owner", "move the fridge", "what shall be done with Fridge is not said"),
]


def file_of(name: str) -> Path:
    return EXAMPLES / f"{name}.{'csv' if name == 'owners-list' else 'yaml'}"


@pytest.mark.parametrize(("name", "sentence", "meant"), SAID)
def test_a_sentence_is_understood_and_makes_a_plan(
    name: str, sentence: str, meant: list[str]
) -> None:
    plan = read_plan(file_of(name))
    wishes = understood(plan, sentence)
    assert [w.said() for w in wishes] == meant
    text = plan_text(file_of(name))
    changed = applied(plan, text, wishes)
    again = sentence.startswith(("choose", "swap the compressor for a twin", "engine high"))
    assert (changed != text) or again
    read_text(changed)


@pytest.mark.parametrize(("name", "sentence", "said"), REFUSED)
def test_what_is_not_understood_is_told_with_what_may_be_said(
    name: str, sentence: str, said: str
) -> None:
    with pytest.raises(InputError) as refused:
        understood(read_plan(file_of(name)), sentence)
    (problem,) = refused.value.problems
    assert said in problem.found
    assert problem.allowed


def test_words_need_no_quotes_and_the_answer_comes_first(run: Any, examples: Path) -> None:
    words = ["swap", "the", "compressor", "for", "a", "twin-motor", "one", "on", "switch", "3"]
    answer = run("try", examples / "overloaded-compressor.yaml", *words)
    assert answer.code == 1
    assert answer.first.startswith("NOT OK: S3: 70.0 A on a 20 A contact")


def test_the_fix_was_tried_and_holds_when_it_is_tried_again(run: Any, examples: Path) -> None:
    plan = examples / "owner.yaml"
    data = run("try", plan, "can", "S3", "take", "a", "twin-motor", "compressor", "--json").data
    assert data["answer"] == "not ok"
    assert data["fix"]["whole"] is True
    changes = [word for c in data["fix"]["changes"] for word in ("--change", c)]
    again = run("try", plan, "--add", "twin-motor compressor", "--switch", "S3", *changes)
    assert again.code == 0
    assert again.first.startswith("OK")


def test_a_larger_machine_is_a_fix_of_the_supply(run: Any, examples: Path) -> None:
    words = ["at", "anchor", "duration", "20", "h", "--json"]
    data = run("try", examples / "workboat.yaml", *words).data
    (change,) = data["fix"]["changes"]
    assert change.startswith("battery capacity ")
    mended = run("try", examples / "workboat.yaml", "--change", "At anchor duration 20 h",
                 "--change", change)
    assert mended.code == 0


def test_what_the_plan_says_already_is_told(run: Any, examples: Path) -> None:
    answer = run("try", examples / "owner.yaml", "fridge 5 m")
    assert "the plan says all of this already" in " ".join(answer.out.split())
    other = run("try", examples / "owner.yaml", "fridge 6 m")
    assert "the plan says all of this already" not in " ".join(other.out.split())


@pytest.mark.parametrize(
    ("name", "sentence", "old", "new"),
    [
        ("owner", "swap S3 for a 40 A one", "S3: 20 A}", "S3: 40 A}"),
        ("owner", "fit a 150 A alternator", "alternator: 120 A}", "alternator: 150 A}"),
        ("rescue-pickup", "engine bay 100 °C", "engine bay: 85 °C\n", "engine bay: 100 °C\n"),
        ("rescue-pickup", "work lamps 4 mm2", "    switch: [S3, reverse]\n",
         "    switch: [S3, reverse]\n    size: 4 mm2\n"),
        ("service-truck", "the tail lift on a 200 A class T fuse", "fuse: 150 A class T",
         "fuse: 200 A class T"),
    ],
)  # fmt: skip
def test_all_else_stays_byte_for_byte(name: str, sentence: str, old: str, new: str) -> None:
    text = plan_text(file_of(name))
    assert text.count(old) == 1
    plan = read_plan(file_of(name))
    assert applied(plan, text, understood(plan, sentence)) == text.replace(old, new)


def test_no_switch_that_works_something_else_is_proposed(run: Any, examples: Path) -> None:
    plan = examples / "workboat.yaml"
    data = run("try", plan, "navigation lamps 100 W each", "--json").data
    assert data["answer"] == "not ok"
    busy = {s["id"] for s in data["after"]["switches"] if s["works"]}
    assert busy == {"S1", "S2", "S3", "S4"}
    # a relay at S1 would need a way that the panel has not: so there is none
    assert data["fix"] is None


def test_no_fix_is_said_where_none_is_found(run: Any, examples: Path) -> None:
    answer = run("try", examples / "owner.yaml", "add", "a", "winch", "on", "S1,", "4", "m")
    assert answer.code == 1
    assert "Fix: none found." in answer.out
    assert "Cheapest fix" not in answer.out


def test_what_the_old_machine_could_is_not_carried_over(run: Any, tmp_path: Path) -> None:
    plan = tmp_path / "plan.yaml"
    shutil.copy(EXAMPLES / "workboat.yaml", plan)
    before = plan.read_text("utf-8")
    words = ["swap", "the", "washdown", "pump", "for", "a", "shower", "pump"]
    assert run("try", plan, *words, "--keep").code in (0, 1)
    after = plan.read_text("utf-8")
    old = "{name: Washdown pump, kind: water pump, current: 7 A, cut_out: yes, place: bow,"
    assert after == before.replace(old, "{name: Washdown pump, kind: shower pump, place: bow,")


def test_a_length_does_not_move_with_its_accessory(run: Any, plan: Path) -> None:
    text = plan.read_text("utf-8").replace("accessories:", "places: {cab: 45 °C}\naccessories:")
    plan.write_text(text, "utf-8")
    answer = run("try", plan, "move", "the", "fridge", "to", "the", "cab")
    assert answer.code == 2
    assert "held for the old way" in answer.out
    assert run("try", plan, "move the fridge to the cab, 3 m").code in (0, 1)


def test_the_supply_is_shown_before_and_after(run: Any, examples: Path) -> None:
    answer = run("try", examples / "rescue-pickup.yaml", "swap the alternator for a 400 A one")
    row = next(line for line in answer.lines if line.startswith("Recovery (battery)"))
    assert row.split()[-4:-2] != row.split()[-2:]
    assert "alternator margin" in answer.out
