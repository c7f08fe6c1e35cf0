"""Judgements on a finished result: one file a rule, found by its name in this folder.

A rule's file is ``<id>_<name>.py`` and holds ``RULE`` (its page) and ``judge(case)``, which yields
findings, and a ``Skip`` where the plan does not hold the fact that the rule needs.
"""

from __future__ import annotations

import importlib
import pkgutil
import re
from functools import cache

from circuitplan.model.record import record
from circuitplan.model.result import Finding
from circuitplan.rules.base import Case, Judge, Rule, Skip, accept, natural

__all__ = [
    "Case",
    "Judgement",
    "Rule",
    "Skip",
    "all_rules",
    "find",
    "judge_all",
    "judge_each",
    "page",
    "worst_first",
]

_FILE_NAME = re.compile(r"[a-z]\d\d_[a-z0-9_]+")
_ORDER = {"DANGER": 0, "WARNING": 1, "CAUTION": 2, "NOTICE": 3}


@record
class Judgement:
    """What one rule said of one case. ``skips`` are open questions, not passes."""

    rule: Rule
    findings: tuple[Finding, ...]
    skips: tuple[Skip, ...]


@cache
def _modules() -> tuple[tuple[Rule, Judge], ...]:
    names = sorted(m.name for m in pkgutil.iter_modules(__path__) if _FILE_NAME.fullmatch(m.name))
    found = [importlib.import_module(f"{__name__}.{name}") for name in names]
    return tuple((module.RULE, module.judge) for module in found)


def all_rules() -> tuple[Rule, ...]:
    """Every rule, by id."""
    return tuple(rule for rule, _ in _modules())


def find(rule_id: str) -> Rule | None:
    """The rule with that id, whatever the case, or None."""
    wanted = rule_id.strip().upper()
    return next((rule for rule in all_rules() if rule.id == wanted), None)


def judge_each(case: Case) -> tuple[Judgement, ...]:
    """What each rule says, by rule id; acceptances are not looked at."""
    judgements = []
    for rule, judge in _modules():
        said = list(judge(case))
        judgements.append(
            Judgement(
                rule,
                tuple(s for s in said if isinstance(s, Finding)),
                tuple(s for s in said if isinstance(s, Skip)),
            )
        )
    return tuple(judgements)


def judge_all(case: Case) -> tuple[Finding, ...]:
    """Every finding on the case, worst first, with the plan's acceptances filled in.

    An acceptance counts where rule and subject match, whatever the case; a DANGER stays.
    """
    accepted = {
        (a.rule.strip().casefold(), a.subject.strip().casefold()): a.by
        for a in sorted(case.plan.accepted, key=lambda a: (a.rule, a.subject, a.by))
    }
    found = []
    for judgement in judge_each(case):
        for finding in judgement.findings:
            by = accepted.get((finding.rule.casefold(), finding.subject.casefold()))
            found.append(finding if by is None else accept(finding, by))
    return worst_first(found)


def worst_first(findings: list[Finding] | tuple[Finding, ...]) -> tuple[Finding, ...]:
    """By signal word, then failing before not, then rule and subject; no room for chance."""
    return tuple(
        sorted(
            dict.fromkeys(findings),
            key=lambda f: (
                _ORDER[f.signal_word],
                not f.fails,
                f.rule,
                natural(f.subject),
                f.circuit or "",
                f.message,
            ),
        )
    )


def page(rule_id: str) -> str:
    """The page of a rule (D01 …) or of one of the twenty known failures (G01 … G20), as text.

    Raises LookupError, with the ids that come nearest, for anything else.
    """
    from circuitplan.rules import pages

    rule = find(rule_id)
    if rule is not None:
        return pages.of_rule(rule)
    return pages.of_failure(rule_id, all_rules())
