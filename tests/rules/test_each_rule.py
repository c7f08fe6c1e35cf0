"""Every rule: a case where it fires, one at its limit where it does not, one that it skips."""

from __future__ import annotations

import base_case as b
import pytest
from rule_changes import Fires, Silent, Skips
from rule_fires import FIRES
from rule_quiet import SILENT, SKIPS

from circuitplan.model import result as r
from circuitplan.rules import all_rules, judge_each
from circuitplan.rules.case import Case

DIGITS = tuple("0123456789")


def _said(case: Case, rule: str) -> tuple[list[r.Finding], int]:
    judgement = next(j for j in judge_each(case) if j.rule.id == rule)
    return list(judgement.findings), len(judgement.skips)


def test_the_base_case_is_clean() -> None:
    found = [f for j in judge_each(b.base()) for f in j.findings]
    assert found == []


@pytest.mark.parametrize("case", FIRES, ids=lambda c: f"{c.rule}-{c.subject}-{c.word}")
def test_fires(case: Fires) -> None:
    findings, _ = _said(case.make(b.base()), case.rule)
    matching = [f for f in findings if f.subject == case.subject]
    assert [(f.signal_word, f.fails) for f in matching] == [(case.word, case.fails)]
    finding = matching[0]
    assert finding.rule == case.rule
    assert finding.source
    assert finding.message.endswith(".")
    assert finding.remedy.endswith(".")
    assert finding.message[0].isupper() or finding.message.startswith((finding.subject, *DIGITS))


@pytest.mark.parametrize("case", SILENT, ids=lambda c: c.rule)
def test_stays_silent_at_its_limit(case: Silent) -> None:
    findings, _ = _said(case.make(b.base()), case.rule)
    assert findings == []


@pytest.mark.parametrize("case", SKIPS, ids=lambda c: c.rule)
def test_skips_what_the_plan_does_not_say(case: Skips) -> None:
    _, skips = _said(case.make(b.base()), case.rule)
    assert skips > 0


def test_every_rule_has_a_case_that_fires_except_the_one_no_plan_can_hold() -> None:
    assert {rule.id for rule in all_rules()} - {case.rule for case in FIRES} == {"X15"}
