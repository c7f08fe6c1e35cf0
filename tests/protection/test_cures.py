"""A proposed cure really cures: its change is made in the plan, and all is designed anew."""

from __future__ import annotations

import failing_plans as plans
import pytest

from circuitplan.model.result import Cure, Result
from circuitplan.planfile import changes, edits, read_text
from circuitplan.planner import design

JUDGED = ("F03", "F04", "F09")


def designed(text: str) -> Result:
    return design(read_text(text), ()).result


def changed(text: str, words: str) -> str:
    return edits.apply(text, changes.change(read_text(text), words))


def failing(result: Result) -> set[tuple[str, str]]:
    return {(f.rule, f.subject) for f in result.findings if f.fails}


def cures(result: Result) -> list[tuple[str, Cure]]:
    """(what the finding is about, cure) of everything."""
    found = [(p.id, c) for p in result.panels for c in p.cures or ()]
    for circuit in result.circuits:
        names = [a.name for a in circuit.accessories]
        subject = names[0] if len(names) == 1 else circuit.label
        found += [(subject, c) for c in circuit.cures or ()]
    return found


RESULT = designed(plans.EVERYTHING)
CURES = [(subject, cure) for subject, cure in cures(RESULT) if cure.change is not None]
ALONE = [
    (plan, subject, cure)
    for plan in (plans.FAR_LAMP, plans.LONG_PUMP, plans.MOTOR, plans.AT_BATTERY, plans.SHARED)
    for subject, cure in cures(designed(plans.HEAD + plan))
    if cure.change is not None
]


def test_every_failure_of_the_plan_is_there_and_has_a_cure() -> None:
    expected = {
        ("F03", "Far lamp"), ("F03", "Long pump"), ("F03", "S1"), ("F04", "Coil"), ("F09", "Motor"),
    }  # fmt: skip
    assert {key for key in failing(RESULT) if key[0] in JUDGED} == expected
    assert {(cure.rule, subject) for subject, cure in CURES} == expected
    assert {cure.sort for _, cure in CURES} == {"fuse", "wire", "shorter run", "soft start"}


@pytest.mark.parametrize(("plan", "subject", "cure"), ALONE, ids=[c.change for *_, c in ALONE])
def test_the_change_cures_and_breaks_nothing(plan: str, subject: str, cure: Cure) -> None:
    assert cure.change is not None
    before = failing(designed(plans.HEAD + plan))
    after = failing(designed(changed(plans.HEAD + plan, cure.change)))
    assert (cure.rule, subject) in before
    assert (cure.rule, subject) not in after
    assert after <= before


@pytest.mark.parametrize(("subject", "cure"), CURES, ids=[c.change for _, c in CURES])
def test_it_cures_among_others_too(subject: str, cure: Cure) -> None:
    assert cure.change is not None
    after = failing(designed(changed(plans.EVERYTHING, cure.change)))
    assert (cure.rule, subject) not in after


def test_the_cheapest_cure_is_the_remedy_of_the_finding() -> None:
    for finding in RESULT.findings:
        if finding.rule not in JUDGED or not finding.fails:
            continue
        mine = [c for s, c in cures(RESULT) if s == finding.subject and c.rule == finding.rule]
        cheapest = min(mine, key=lambda c: c.effort)
        assert finding.change == cheapest.change
        assert cheapest.words in finding.remedy


@pytest.mark.parametrize(
    ("name", "key", "step", "unit"),
    [("Long pump", "length", 0.1, " m"), ("Motor", "inrush", 1, " A")],
)
def test_a_little_less_of_the_cure_does_not_cure(
    name: str, key: str, step: float, unit: str
) -> None:
    (cure,) = [c for s, c in CURES if s == name and c.change and f"{name} {key}" in c.change]
    assert cure.change is not None
    value = float(cure.change.removeprefix(f"{name} {key} ").removesuffix(unit))
    more = designed(changed(plans.EVERYTHING, f"{name} {key} {value + step:g}{unit}"))
    assert (cure.rule, name) in failing(more)


def test_the_next_smaller_wire_does_not_cure() -> None:
    assert ("F03", "Far lamp") in failing(
        designed(changed(plans.EVERYTHING, "Far lamp size 4 mm2"))
    )
    assert "Far lamp size 6 mm2" in [c.change for _, c in CURES]


def test_where_nothing_cures_that_is_said() -> None:
    """70 A through the worn contact of a direct switch: no fuse, wire or length mends it."""
    text = (
        "circuitplan: 1\nsystem: 12 V\nsupply: {battery: 70 Ah}\nswitches: {S3: 20 A}\n"
        "accessories:\n"
        "  - {name: Compressor, kind: twin-motor compressor, length: 3 m, switch: S3}\n"
    )
    result = designed(text)
    (finding,) = [f for f in result.findings if f.rule == "F03"]
    assert finding.change is None
    assert "all tried" in finding.remedy
    for circuit in result.circuits:
        assert circuit.cures == ()


def test_a_sound_circuit_needs_no_cure() -> None:
    result = designed(plans.HEAD + "  - {name: Fridge, kind: fridge, length: 3 m}\n")
    assert not {rule for rule, _ in failing(result)} & set(JUDGED)
    assert cures(result) == []


def test_an_inline_fuse_is_proposed_where_a_branch_of_a_shared_circuit_fails() -> None:
    """Two accessories on one way: the plan's rating for both is too large for the thin branch."""
    text = plans.HEAD + (
        "  - {name: A, number: 4, power: 20 W, length: 9 m, size: 1 mm2, drop: 10 %,"
        " fuse: 20 A C}\n"
        "  - {name: B, number: 4, power: 100 W, length: 2 m, size: 6 mm2}\n"
    )
    found = [c for _, c in cures(designed(text)) if c.sort == "inline fuse"]
    assert found
    assert all("branch to A" in c.words for c in found)


WINCH = """circuitplan: 1
system: 12 V
supply:
  battery: {type: agm, capacity: 95 Ah, cranking: 850 A, place: engine bay}
  alternator: {rated: 140 A, idle: 70 A}
accessories:
  - {name: Winch, kind: winch, current: 380 A, peak: 440 A, duty: 60 s in 10 min, length: 2 m,
     fed_from: battery}
"""
ACCEPTED = """accepted:
  - {rule: F05, subject: Winch, by: J. K., reason: isolator in reach}
"""


def test_a_winch_that_no_fuse_bears_gets_the_isolator_way_and_it_holds() -> None:
    (finding,) = [f for f in designed(WINCH).findings if f.rule == "F09"]
    assert "soft start" not in finding.remedy
    assert "fuse: none, isolator: 500 A" in finding.remedy
    assert "accepted: [{rule: F05, subject: Winch, by: NAME" in finding.remedy
    assert finding.change is None  # no change alone makes it pass: a person must accept it
    bare = WINCH.replace("fed_from: battery}", "fed_from: battery, fuse: none, isolator: 500 A}")
    assert failing(designed(bare)) == {("F05", "Winch")}
    assert designed(bare + ACCEPTED).answer == "ok"


@pytest.mark.parametrize(
    ("old", "new"),
    [
        # not alone behind its fuse, not behind the first fuse, or a machine without a contactor
        ("fed_from: battery}", "fed_from: p}\npanels: {p: {fed_from: battery, length: 1 m}}"),
        ("kind: winch, current: 380 A, peak: 440 A, duty: 60 s in 10 min",
         "kind: compressor, current: 60 A, inrush: 2000 A, fuse: 80 A C"),
    ],
)  # fmt: skip
def test_no_fuse_is_left_out_where_that_is_no_way_of_the_trade(old: str, new: str) -> None:
    assert old in WINCH
    for finding in designed(WINCH.replace(old, new)).findings:
        assert "isolator:" not in finding.remedy
