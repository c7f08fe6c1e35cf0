"""From a plan file to the choice and back: what is demanded, what is written, what is left."""

from __future__ import annotations

import difflib
from pathlib import Path

import pytest

from circuitplan.design.assigning.gather import Wishes, natural
from circuitplan.errors import InputError
from circuitplan.planfile import read_text
from circuitplan.planfile.edits import apply
from circuitplan.planfile.saving import save_plan
from circuitplan.planner import study
from circuitplan.planner.assigning import AssignAnswer, assign, changes

HEAD = """\
circuitplan: 1   # first line
system: 12 V
supply: {battery: {type: agm, capacity: 95 Ah, cranking: 850 A}, alternator: 120 A}
"""

PLAN = (
    HEAD
    + """\
# the console, from left to right
switches:
  S1: 20 A        # spare since last year
  S2: {rating: 10 A, live: ignition}
  "S 10": {type: relay, rating: 1 A, momentary: yes}   # springs back
accessories:
  - {name: Rear lamps, power: 20 W, quantity: 2, length: 6 m}     # two
  - name: Pump
    kind: water pump
    current: 7 A
    cut_out: yes
    length: 2 m
    # it drips
  - {"name": "Horn: big", kind: horn, current: 5 A, duty: 9 s in 2 min, length: 3 m, momentary: yes}

  - {name: Fridge, kind: fridge, length: 3 m}
# end
"""
)


def decide(text: str, wishes: Wishes = Wishes(), others: int = 0) -> AssignAnswer:  # noqa: B008
    plan = read_text(text, "plan.yaml")
    return assign(plan, wishes, study(plan), others)


def on(answer: AssignAnswer) -> dict[str, str | None]:
    return {a.accessory: a.switch for a in answer.proposals[0].assignments}


def test_each_need_finds_its_switch() -> None:
    answer = decide(PLAN)
    found = on(answer)
    assert found["Horn: big"] == "S 10"  # the only one that springs back
    assert found["Fridge"] is None  # it has its own control
    # AC 43.13-1B table 11-4: a motor counts twice at 12 V, so 7 A ask for 14 A: too much for S2.
    assert found["Pump"] == "S1"
    assert answer.proposals[0].proven
    assert answer.proposals[0].parts_added == 1  # the horn's relay


def test_writing_changes_nothing_but_the_choice() -> None:
    answer = decide(PLAN)
    text = apply(PLAN, changes(answer.proposals[0]))
    lines = difflib.unified_diff(PLAN.splitlines(), text.splitlines(), n=0, lineterm="")
    changed = [x for x in lines if x[:2] not in ("--", "++", "@@")]
    assert changed == [
        "-  - {name: Rear lamps, power: 20 W, quantity: 2, length: 6 m}     # two",
        "+  - {name: Rear lamps, power: 20 W, quantity: 2, length: 6 m, switch: S2}     # two",
        "+    switch: S1",
        '-  - {"name": "Horn: big", kind: horn, current: 5 A, duty: 9 s in 2 min, length: 3 m, '
        "momentary: yes}",
        '+  - {"name": "Horn: big", kind: horn, current: 5 A, duty: 9 s in 2 min, length: 3 m, '
        "momentary: yes, switch: S 10}",
    ]
    again = decide(text)
    assert on(again) == on(answer)
    assert again.proposals[0].edits == ()
    assert apply(text, changes(again.proposals[0])) == text


def test_without_the_added_words_the_plan_is_as_it_was() -> None:
    text = apply(PLAN, changes(decide(PLAN).proposals[0]))
    for added in (", switch: S2", "    switch: S1\n", ", switch: S 10"):
        assert text.count(added) == 1
        text = text.replace(added, "")
    assert text.encode() == PLAN.encode()


def test_a_crash_while_writing_leaves_the_plan_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "plan.yaml"
    path.write_bytes(PLAN.encode())
    read = read_text(PLAN, str(path))
    text = apply(PLAN, changes(decide(PLAN).proposals[0]))

    def crash(*_: object) -> None:
        raise OSError("the disk is gone")

    monkeypatch.setattr("os.fsync", crash)
    with pytest.raises(OSError, match="the disk is gone"):
        save_plan(path, text, read_sha256=read.sha256)
    assert path.read_bytes() == PLAN.encode()
    assert [p.name for p in tmp_path.iterdir()] == ["plan.yaml"]
    monkeypatch.undo()
    path.write_bytes(PLAN.encode() + b"# another hand\n")
    with pytest.raises(InputError, match="changed while this ran"):
        save_plan(path, text, read_sha256=read.sha256)
    assert path.read_bytes() == PLAN.encode() + b"# another hand\n"


def test_any_order_of_entries_gives_the_same_choice() -> None:
    lines = PLAN.splitlines(keepends=True)
    fridge = lines.index("  - {name: Fridge, kind: fridge, length: 3 m}\n")
    lamps = next(i for i, x in enumerate(lines) if "Rear lamps" in x)
    lines.insert(lamps, lines.pop(fridge))
    assert on(decide("".join(lines))) == on(decide(PLAN))


def test_an_overloaded_switch_of_the_plan_is_made_to_work_a_relay() -> None:
    answer = decide(
        HEAD + "switches: {S3: 20 A}\naccessories:\n"
        "  - {name: Compressor, kind: twin-motor compressor, length: 3 m, switch: S3}\n"
    )
    assert answer.proposals[0].relayed == ("S3",)
    assert answer.proposals[0].edits == ((("switches", "S3", "type"), "relay"),)
    assert answer.proposals[0].parts_added == 1


def test_what_never_is_on_together_parts_or_conflicts() -> None:
    two = (
        "accessories:\n  - {name: A, power: 20 W, length: 3 m, never_with: [B]}\n"
        "  - {name: B, power: 20 W, length: 3 m}\n"
    )
    apart = on(decide(HEAD + "switches: {S1: 20 A, S2: 20 A}\n" + two))
    assert {apart["A"], apart["B"]} == {"S1", "S2"}
    answer = decide(HEAD + "switches: {S1: 20 A}\n" + two)
    assert answer.proposals == ()
    assert {c.demand for c in answer.conflicts[0]} == {
        "A needs a switch", "B needs a switch", "A and B are never on together",
    }  # fmt: skip
    assert len(answer.relief) == 1
    assert answer.relief[0].startswith("fit one more switch, for ")


def test_what_works_only_together_shares_the_switch() -> None:
    text = (
        HEAD + "switches: {S1: 20 A, S2: 20 A}\naccessories:\n"
        "  - {name: A, power: 20 W, length: 3 m, needs: [B]}\n"
        "  - {name: B, power: 20 W, length: 3 m, switch: S2}\n"
    )
    assert on(decide(text)) == {"A": "S2", "B": "S2"}


def test_wishes_are_kept() -> None:
    three = "".join(f"  - {{name: L{n}, power: 20 W, length: 3 m}}\n" for n in (1, 2, 3))
    text = HEAD + "switches: {S1: 20 A, S2: 20 A}\naccessories:\n" + three
    found = on(decide(text, Wishes(together=(("L1", "L3"),), apart=(("L1", "L2"),))))
    assert found["L1"] == found["L3"] != found["L2"]
    answer = decide(text, Wishes(spare_a=19.0))
    assert answer.proposals[0].parts_added == 3  # 1.8 A leave less than 19 A of 20 A
    assert decide(text, Wishes(spare_a=25.0)).proposals[0].parts_added == 3


def test_ways_of_a_panel_are_kept_free() -> None:
    text = (
        HEAD + "panels: {box: {ways: 3, rating: 60 A}}\nswitches: {S1: 20 A, S2: 20 A}\n"
        "accessories:\n  - {name: A, power: 20 W, length: 3 m}\n"
        "  - {name: B, power: 20 W, length: 3 m}\n"
    )
    free = on(decide(text))
    assert free["A"] != free["B"]
    tight = on(decide(text, Wishes(spare_ways=2)))
    assert tight["A"] == tight["B"]  # one way feeds the one switch
    none = decide(text, Wishes(spare_ways=3))
    assert any("3 ways are to stay free" in c.demand for c in none.conflicts[0])


def test_ignition_is_asked_of_the_switch() -> None:
    text = HEAD + "switches: {S1: 20 A, S2: {rating: 20 A, live: ignition}}\naccessories:\n"
    always = on(decide(text + "  - {name: A, power: 20 W, length: 3 m, live: always}\n"))
    ignition = on(decide(text + "  - {name: A, power: 20 W, length: 3 m, live: ignition}\n"))
    assert (always["A"], ignition["A"]) == ("S1", "S2")


def test_a_signal_of_the_vehicle_is_never_given_a_load() -> None:
    text = (
        HEAD + "switches: {reverse: {signal: reverse lamp, rating: 0.5 A}}\n"
        "accessories: [{name: A, power: 20 W, length: 3 m}]\n"
    )
    assert decide(text).proposals == ()


def test_what_locks_or_moves_never_comes_on_with_a_lamp() -> None:
    text = (
        HEAD + "switches: {S1: 40 A, reverse: {signal: reverse lamp, rating: 0.5 A}, "
        "S2: {type: relay, rating: 1 A}}\naccessories:\n"
        "  - {name: Locker, kind: locker, length: 3 m}\n"
        "  - {name: Bed lamps, kind: work lamp, length: 3 m, switch: [S2, reverse]}\n"
    )
    assert on(decide(text))["Locker"] == "S1"
    more = text + "  - {name: Lamp, kind: work lamp, length: 3 m}\n"
    found = on(decide(more))
    assert found["Locker"] == "S1"
    assert found["Lamp"] == "S2"
    none = decide(more.replace("S1: 40 A, ", ""))
    assert any("moves or locks something" in c.demand or "must not come on" in c.demand
               for conflict in none.conflicts for c in conflict)  # fmt: skip


def test_names_with_numbers_stand_in_their_order() -> None:
    assert sorted(["S10", "S2", "s1", "reverse"], key=natural) == ["reverse", "s1", "S2", "S10"]


def test_the_choice_stands_in_the_study() -> None:
    """Every switch of the choice is within its rating when the whole plan is studied."""
    answer = decide(PLAN, others=2)
    assert len(answer.proposals) == 3
    for proposal in answer.proposals:
        result = study(read_text(apply(PLAN, changes(proposal)), "plan.yaml"))
        assert {f.rule for f in result.findings if f.fails} & {"S01", "S02", "S03", "S05",
                                                              "S06", "X22"} == set()  # fmt: skip
