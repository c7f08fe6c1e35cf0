"""``try`` as a shop says it: swaps, "another pair", questions; rightly understood or refused."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from circuitplan.errors import InputError
from circuitplan.planfile import read_text
from circuitplan.planfile.wishes.sentence import understood
from circuitplan.planfile.wishes.wish import applied

PLAN = """circuitplan: 1
system: 12 V
supply: {battery: {capacity: 95 Ah, place: engine bay}, alternator: 140 A}
panels:
  bay panel: {place: engine bay, fed_from: battery}
  cab panel: {place: cab, fed_from: battery, length: 2 m}
switches:
  S1: {rating: 20 A, type: relay}
  S2: {rating: 20 A}
  S3: {rating: 20 A, type: relay}
  S4: {rating: 20 A}
  S5: {rating: 20 A}
accessories:
  - {name: LED bar, kind: led bar, power: 180 W, length: 4 m, switch: S1, fed_from: bay panel}
  - {name: Work lamps, kind: work lamp, power: 40 W, quantity: 2, length: 6 m, switch: S2}
  - {name: Compressor, kind: compressor, current: 28 A, length: 2 m, switch: S3}
  - {name: Winch, kind: winch, length: 2 m, fed_from: battery}
  - {name: Fridge, kind: fridge, length: 2 m, fed_from: cab panel}
  - {name: Radio, kind: cb radio, length: 1.5 m, switch: S4}
  - {name: Front locker, kind: locker, length: 4 m, switch: S5}
  - {name: Rear locker, kind: locker, length: 6 m}
"""
TWIN = "swap Compressor=twin-motor compressor"
ON_S3 = " (S3 works Compressor already, so in its place; to try both: add it on S3)"
ON_S1 = " (S1 works LED bar already, so in its place; to try both: add it on S1)"
BESIDE = "beside Compressor, which S3 works already"

SAID = [
    # in place of the one there is
    ("can I have a twin-motor compressor in place of the one I have, does it overload the "
     "circuit?", [TWIN]),
    ("Can I have a twin-motor compressor in place of the one I have? Does it overload the circuit?",
     [TWIN]),
    ("what if I fit a twin-motor compressor instead", [TWIN]),
    ("fit a twin-motor one instead", [TWIN]),
    ("a twin-motor one instead of my compressor", [TWIN]),
    ("instead of the compressor, fit a twin-motor one", [TWIN]),
    ("in place of the compressor I put a twin-motor compressor", [TWIN]),
    ("a twin-motor compressor in place of mine", [TWIN]),
    ("a twin-motor compressor rather than the old one, will it hold?", [TWIN]),
    ("replaced the compressor with a twin-motor one, would the fuse blow?", [TWIN]),
    ("what if I swapped the compressor for a twin-motor one", [TWIN]),
    ("swap my compressor for a twin", ["swap Compressor=twin compressor"]),
    ("a twin-motor compressor in place of the compressor on S3", [TWIN]),
    ("can I have a heavy winch in place of the winch?", ["swap Winch=heavy winch"]),
    ("can I put a 300 W light bar on S1 in place of the LED bar",
     ["change LED bar switch S1", "change LED bar power 300 W"]),
    ("swap the radio for a hf radio and move it to S4, will it hold?",
     ["swap Radio=hf radio", "change Radio switch S4"]),
    ("what if we had a hf radio in place of the CB radio", ["swap Radio=hf radio"]),
    ("a 60 W LED bar in place of the existing LED bar",
     ["swap LED bar=led bar", "change LED bar power 60 W"]),
    # what a switch works already
    ("does a twin compressor overload S3?", [f"swap Compressor=twin compressor{ON_S3}"]),
    ("can S3 take a twin compressor", [f"swap Compressor=twin compressor{ON_S3}"]),
    ("will a twin-motor compressor run on S3", [f"{TWIN}{ON_S3}"]),
    ("would a 300 W light bar be too much on S1", [f"change LED bar power 300 W{ON_S1}"]),
    ("is a 300 W light bar too much for S1?", [f"change LED bar power 300 W{ON_S1}"]),
    ("does a twin compressor overload my circuit?",
     ["swap Compressor=twin compressor (taken as in place of Compressor)"]),
    # beside it
    ("does a winch overload S3?", ["add winch, switch S3"]),
    ("would a fridge be too much for S4?", ["add fridge, switch S4"]),
    ("add a twin compressor on S3", [f"add twin compressor, switch S3 ({BESIDE})"]),
    ("does another compressor overload S3",
     [f"add compressor, switch S3, current 28 A (as Compressor is; {BESIDE})"]),
    ("would two 60 W work lamps be too much on S2",
     ["add work lamps, switch S2, power 60 W, quantity 2 (beside Work lamps, which S2 works "
      "already)"]),
    ("add another pair of work lamps",
     ["add work lamps, quantity 2, power 40 W (as Work lamps is)"]),
    ("add two more work lamps", ["add work lamps, quantity 2, power 40 W (as Work lamps is)"]),
    ("add another two 60 W work lamps", ["add work lamps, power 60 W, quantity 2"]),
    ("add another work lamp", ["add work lamp, power 40 W (as Work lamps is)"]),
    ("add another pair of led bars",
     ["add LED bar 2=led bar, quantity 2, power 180 W (as LED bar is)"]),
    ("another locker on S5",
     ["add locker, switch S5 (beside Front locker, which S5 works already)"]),
    ("add a front led bar on S4", ["add Front led bar=led bar, switch S4"]),
    ("add a cab fridge", ["add Cab fridge=fridge, place cab"]),
    ("add a light bar on S4",
     ["add light bar, switch S4 (taken as a warning light bar; for a lamp that lights the way "
      "say led bar)"]),
    # other qualities of the same thing
    ("put the compressor on S1 instead of S3", ["change Compressor switch S1"]),
    ("move the compressor from S3 to S1", ["change Compressor switch S1"]),
    ("move the compressor off S3 to S1", ["change Compressor switch S1"]),
    ("move the compressor to S1 instead", ["change Compressor switch S1"]),
    ("run the led bar on S2 instead", ["change LED bar switch S2"]),
    ("make the led bar 300 W instead", ["change LED bar power 300 W"]),
    ("led bar 300 W instead of 180 W", ["change LED bar power 300 W"]),
    ("use 6 mm2 instead of 10 mm2 for the compressor", ["change Compressor size 6 mm2"]),
    ("fuse the fridge at 20 A instead of 15 A", ["change Fridge fuse 20 A"]),
    ("can I use a 15 A fuse for the compressor instead of the 50 A",
     ["change Compressor fuse 15 A"]),
    ("add the compressor to S4", ["change Compressor switch S4"]),
    ("what if I used 16 mm2 for the rear locker", ["change Rear locker size 16 mm2"]),
    ("what if the fridge were on S4", ["change Fridge switch S4"]),
    ("add another front locker on S4", ["add Front locker 2=locker, switch S4"]),
    ("what if the compressor draws 45 A", ["change Compressor current 45 A"]),
]  # fmt: skip

REFUSED = [
    ("does it overload the circuit?", "nothing in the plan is called"),
    ("does a compressor overload S3?", "S3 works Compressor already"),
    ("does a radio overload S4", "S4 works Radio already"),
    ("would a light bar be too much on S1", "what is different about the new one is not said"),
    ("put a led bar instead", "what is different about the new one is not said"),
    ("fit a 40 A one instead", "does not say which one goes"),
    ("fit a locker instead", "Front locker, Rear locker"),
    ("fit an awning lamp instead of the one I have", "does not say which one goes"),
    ("have a bigger compressor in place of the one I have", "'bigger compressor' is no kind"),
    ("a twin-motor compressor in place of the compressor on S1", "Compressor is not on S1"),
    ("put the compressor on S1 instead of S2", "Compressor is not on S2"),
    ("does a heavy winch overload the alternator?", "is not understood"),
    ("can S4 take a hf radio too", "'too' is not understood"),
    ("would 25 A be too much on S3", "what is to be added is not said"),
    ("a relay instead of the compressor", "no accessory"),
    ("put the work lamps in place of the led bar", "work lamps is there already"),
    ("add the compressor", "what shall be done with Compressor is not said"),
    ("does a twin compressor and a winch overload S3", "is not understood"),
    ("swap the compressor and the winch", "what shall take its place is not said"),
    ("add a charger", "a battery charger, which is no accessory"),
    ("take the compressor off S3 and put a twin one there", "is not understood"),
    ("can S3 take everything", "is no kind"),
]  # fmt: skip


@pytest.mark.parametrize(("sentence", "meant"), SAID)
def test_it_is_understood_rightly_and_makes_a_plan(sentence: str, meant: list[str]) -> None:
    plan = read_text(PLAN)
    wishes = understood(plan, sentence)
    assert [w.said() + (f" ({w.note})" if w.note else "") for w in wishes] == meant
    read_text(applied(plan, PLAN, wishes))


@pytest.mark.parametrize(("sentence", "said"), REFUSED)
def test_it_is_refused_and_told_why(sentence: str, said: str) -> None:
    with pytest.raises(InputError) as refused:
        understood(read_text(PLAN), sentence)
    (problem,) = refused.value.problems
    assert said in problem.found
    assert problem.allowed or problem.remedy


def test_two_more_lamps_are_named_like_the_ones_there_are() -> None:
    plan = read_text(PLAN)
    new = read_text(applied(plan, PLAN, understood(plan, "add another pair of work lamps")))
    assert [(a.name, a.quantity) for a in new.accessories if "amps" in a.name] == [
        ("Work lamps", 2), ("Work lamps 2", 2),
    ]  # fmt: skip


def test_the_answer_says_that_it_took_a_swap(run: Any, tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_text(PLAN, "utf-8")
    answer = run("try", path, "does a twin compressor overload S3?")
    assert "S3 works Compressor already, so in its place" in " ".join(answer.out.split())
    asked = run("try", path, "does a twin compressor overload S3?", "--json").data
    swapped = run("try", path, "--swap", "Compressor=twin compressor", "--json").data
    assert asked["after"] == swapped["after"]
