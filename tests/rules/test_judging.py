"""Order, acceptance, pages, proposals: what all rules share."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import base_case as b
import pytest
from hypothesis import given
from hypothesis import strategies as st

import circuitplan.rules
from circuitplan.library import store
from circuitplan.model import plan as p
from circuitplan.model.result import DropParts, Finding
from circuitplan.rules import all_rules, find, judge_all, page, proposals, worst_first
from circuitplan.rules.base import below, exceeds, natural, num, ordered
from circuitplan.rules.case import Case

STATUSES = {"read", "second-hand", "memory", "common practice", "computed", "judgement"}
FIXED_IDS = {
    "D01", "A01", "F01", "F02", "F03", "F04", "F05", "F06", "F07", "F08", "F09", "S01", "S02",
    "S03", "S04", "S05", "S06", "S07", "S08", "S09", "S10",
    "B01", "B02", "B03", "B04", "W01", "W02", "W03", "W04",
    "R01", "T01",
    "T02", "U01", "U02", "M01", "M02", "M03", "M04", "P01", *(f"X{n:02d}" for n in range(1, 38)),
}  # fmt: skip


def messy() -> Case:
    """A case with many findings of all words."""
    case = b.with_supply(b.base(), high_v=61.0, parked_a=0.2)
    for number in (1, 2, 3):
        case = b.with_fault(case, number, overload_proved=False, selective="not proved")
        case = b.with_fuse(case, number, max_a=9.0, prospective_a=1500.0)
        case = b.with_drop(case, number, percent=7.0)
    case = b.with_switch(case, "S3", needed_a=44.0)
    return b.with_run(case, "2A", thermal_a=44.0)


def test_ids_are_the_fixed_ones_and_each_file_holds_one() -> None:
    assert {rule.id for rule in all_rules()} == FIXED_IDS
    folder = Path(circuitplan.rules.__file__).parent
    files = sorted(f.stem for f in folder.glob("[a-z][0-9][0-9]_*.py"))
    assert [f[:3].upper() for f in files] == [rule.id for rule in all_rules()]


@pytest.mark.parametrize("rule", all_rules(), ids=lambda rule: rule.id)
def test_each_rule_has_a_whole_page(rule: circuitplan.rules.Rule) -> None:
    for part in (rule.name, rule.means, rule.why, rule.remedy, rule.source, rule.example):
        assert len(part) > 3
    for sentence in (rule.means, rule.why, rule.remedy, rule.example):
        assert sentence.endswith((".", "."))
    assert rule.status in STATUSES
    if rule.id.startswith("X"):
        assert rule.by_hand.endswith(".")
    text = page(rule.id.lower())
    for head in ("What it means", "Why it matters", "How to mend it", "Example", "Source"):
        assert head in text
    assert "Local codes" in text
    assert max(len(line) for line in text.splitlines()) <= 100


def test_property_damage_alone_never_earns_danger_or_warning() -> None:
    """ANSI Z535.4: DANGER and WARNING are for injury; each such page names how one comes about."""
    hurt = re.compile(
        r"fire|burn|explo|injur|hurt|kill|crush|carbon monoxide|melts|in traffic|at night|people"
    )
    for rule in all_rules():
        if rule.signal_word in ("DANGER", "WARNING"):
            assert hurt.search(rule.why), rule.id
            assert rule.fails, rule.id


def test_the_failures_that_happen_have_pages_that_name_rules() -> None:
    for row in store.rows("what_goes_wrong"):
        text = page(row["id"])
        assert "not a rule of this version" not in text
        assert "Said by" in text


def test_an_unknown_id_names_the_nearest() -> None:
    with pytest.raises(LookupError, match="F02"):
        page("F022")
    assert find("zz9") is None
    assert find(" f04 ") is not None


def test_worst_first() -> None:
    found = judge_all(messy())
    words = [f.signal_word for f in found]
    order = ["DANGER", "WARNING", "CAUTION", "NOTICE"]
    assert words == sorted(words, key=order.index)
    assert {"DANGER", "WARNING", "CAUTION", "NOTICE"} == set(words)
    notices = [f.fails for f in found if f.signal_word == "NOTICE"]
    assert notices == sorted(notices, reverse=True)


@given(st.randoms(use_true_random=False))
def test_the_order_of_entries_does_not_matter(random: object) -> None:
    case = messy()

    def mixed(entries: tuple[Any, ...]) -> tuple[Any, ...]:
        changed = list(entries)
        random.shuffle(changed)  # type: ignore[attr-defined]
        return tuple(changed)

    other = Case(
        replace(
            case.plan,
            accessories=mixed(case.plan.accessories),
            switches=mixed(case.plan.switches),
        ),
        replace(
            case.result,
            circuits=mixed(case.result.circuits),
            switches=mixed(case.result.switches),
            panels=mixed(case.result.panels),
        ),
    )
    assert judge_all(other) == judge_all(case)
    assert worst_first(mixed(judge_all(case))) == judge_all(case)


def accepted(case: Case, rule: str, subject: str) -> tuple[Finding, ...]:
    entry = p.Accepted(rule, subject, "J. K.", "argued")
    found = judge_all(b.with_plan(case, accepted=(entry,)))
    return tuple(f for f in found if f.rule == rule.upper())


def test_an_acceptance_is_matched_whatever_the_case_and_stays_failing() -> None:
    case = b.with_fuse(b.base(), 1, max_a=9.0)
    (finding,) = accepted(case, "f01", "FRIDGE")
    assert finding.accepted_by == "J. K."
    assert finding.fails
    (other,) = accepted(case, "F01", "Pump")
    assert other.accepted_by is None


def test_a_danger_cannot_be_accepted_and_says_so() -> None:
    (finding,) = accepted(b.with_supply(b.base(), high_v=61.0), "X36", "supply")
    assert finding.accepted_by is None
    assert finding.fails
    assert "cannot be accepted" in finding.message


def test_breaking_capacity_is_one_finding_a_panel() -> None:
    case = b.base()
    for number in (1, 2, 3):
        case = b.with_fuse(case, number, prospective_a=1500.0)
    found = [f for f in judge_all(case) if f.rule == "F04"]
    assert [f.subject for f in found] == ["main"]
    assert "F1, F2 and F3" in found[0].message


@given(
    st.floats(0.001, 1e5, allow_nan=False),
    st.floats(0.0, 1e-3),
)
def test_rounded_numbers_never_contradict_the_verdict(limit: float, excess: float) -> None:
    found = limit * (1 + excess)
    shown_found, shown_limit = ordered(found, limit)
    over = shown_found.removeprefix("just over ")
    if exceeds(found, limit):
        assert float(over) > float(shown_limit) or over != shown_found
    else:
        assert over == shown_found
    for text in (over, shown_limit):
        assert text == num(float(text))
    assert not (exceeds(found, limit) and below(found, limit))


@given(st.floats(1e-4, 1e6))
def test_numbers_are_shown_plain_and_close(value: float) -> None:
    text = num(value)
    assert "e" not in text
    assert float(text) == pytest.approx(value, rel=0.006)


def test_names_sort_as_people_count() -> None:
    assert sorted(["F10", "F2", "F1"], key=natural) == ["F1", "F2", "F10"]


# --- proposals -------------------------------------------------------------------------------


def test_a_proposed_size_carries_what_is_needed_and_the_next_smaller_does_not() -> None:
    """2.5 mm², 105 °C PVC, 60 °C: 0.9 of first principles rules, 27.7 A (computed by hand from
    DIN VDE 0298-4 and the model; a size between tables must not be stretched)."""
    run = b.run("1A", "feed", "a", "b", size="0.5 mm²", area_mm2=0.5, ambient_c=60.0,
                bundle_factor=1.0)  # fmt: skip
    sizes = proposals.conductors.offered("metric")
    two_five = next(c for c in sizes if c.size == "2.5")
    carries_a = proposals.installed_ampacity_a(two_five, run)
    assert carries_a == pytest.approx(27.7, rel=0.02)
    assert proposals.size_for_ampacity(run, 27.0) == "2.5 mm²"
    assert proposals.size_for_ampacity(run, 28.5) == "4 mm²"
    assert proposals.size_for_ampacity(run, 1e4) is None


def test_a_proposed_size_has_the_resistance_asked_for() -> None:
    run = b.run("1A", "feed", "a", "b", size="1.5 mm²", area_mm2=1.5,
                resistance_20c_ohm_per_m=0.0127)  # fmt: skip
    assert proposals.size_for_resistance(run, 0.6) == "2.5 mm²"  # 7.6 mΩ/m, ISO 6722 (memory)
    assert proposals.size_for_resistance(run, 0.0) is None


def test_a_relay_is_proposed_for_the_contact_that_the_load_needs() -> None:
    """AC 43.13-1B table 11-4: a motor at 12 V counts twice."""
    motor = b.accessory("M", contact_class="motor", current_a=18.0)
    needed_a = proposals.needed_contact_a([motor], 12.0)
    assert needed_a == pytest.approx(36.0)
    relay = proposals.relay_for(12.0, needed_a, 14.4)
    assert relay is not None
    assert relay.contact_a >= 36.0
    assert proposals.relay_for(12.0, 1e5, 14.4) is None


def test_the_overloaded_switch_gets_a_relay_and_a_change_that_try_takes() -> None:
    case = b.with_switch(b.base(), "S3", needed_a=36.0, current_a=18.0)
    (finding,) = [f for f in judge_all(case) if f.rule == "S01"]
    assert finding.change == "S3 type relay"
    assert "relay rated 40 A or more" in finding.remedy


def test_the_drop_finding_proposes_a_size() -> None:
    case = b.with_drop(b.base(), 1, percent=6.0, total_v=0.72, accessory_v=10.8)
    case = b.with_drop(case, 1, parts=DropParts(
        0.1, 0.1, 0.26, 0.26))  # fmt: skip
    (finding,) = [f for f in judge_all(case) if f.rule == "D01"]
    assert finding.change == "Fridge size 6 mm2"
    assert "Use 6 mm² instead of 4 mm²" in finding.remedy
