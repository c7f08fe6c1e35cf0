"""U01: the verdict hangs on a value that the plan does not give."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, listed

RULE = Rule(
    id="U01",
    name="assumed value decides",
    signal_word="NOTICE",
    fails=False,
    means="The plan leaves a value out, and a limit is met at one end of what it may be and not at "
    "the other. The answer is CANNOT SAY until the value is known.",
    why="A guess that happens to suit is not a proof; a measured value takes minutes.",
    remedy="Measure the value, or read it from the label, and write it into the plan.",
    source="house rule: an assumption never makes a plan pass",
    status="judgement",
    example="No length given for the fridge: with 5 m assumed the drop fails, with 1 m it passes. "
    "Measure the way.",
)


def finding(subject: str, what: str, value: str, rules: tuple[str, ...]) -> Finding:
    """The finding for one assumption; ``rules`` are the ids whose verdict hangs on it."""
    one = len(rules) == 1
    return RULE.finding(
        subject,
        f"The plan does not give the {what} of {subject}; {value} is assumed, and "
        f"{'rule' if one else 'rules'} {listed(list(rules))} {'hangs' if one else 'hang'} on it.",
        f"Measure or look up the {what} of {subject} and write it into the plan.",
        found=value,
    )


def judge(case: Case) -> Iterator[Finding | Skip]:
    for assumption in case.result.assumptions:
        if assumption.decides:
            yield finding(assumption.subject, assumption.what, assumption.value, assumption.decides)
