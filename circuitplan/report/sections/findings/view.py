"""What is wrong or worth knowing, how to mend it, and what somebody has accepted."""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.model.plan import Plan
from circuitplan.model.result import Finding, Result
from circuitplan.report import show


@dataclass(frozen=True, slots=True)
class Item:
    word: str
    rule: str
    subject: str
    standing: str
    measure: str
    message: str
    remedy: str
    change: str
    source: str
    accepted: str


@dataclass(frozen=True, slots=True)
class View:
    open: tuple[Item, ...]
    accepted: tuple[Item, ...]


def build(plan: Plan, result: Result) -> View:
    """Open findings worst first as the result gives them; accepted ones apart."""
    reasons = {(a.rule, a.subject.casefold()): a.reason for a in plan.accepted}
    items = [
        (f, _item(f, reasons.get((f.rule, f.subject.casefold()), ""))) for f in result.findings
    ]
    return View(
        open=tuple(i for f, i in items if not f.accepted_by),
        accepted=tuple(i for f, i in items if f.accepted_by),
    )


def _item(f: Finding, reason: str) -> Item:
    return Item(
        word=f.signal_word,
        rule=f.rule,
        subject=f.subject,
        standing="limit not met" if f.fails else "for information",
        measure=_measure(f),
        message=f.message,
        remedy=f.remedy,
        change=f.change or "",
        source=f.source,
        accepted=f"{f.accepted_by}: {reason or 'no reason given'}" if f.accepted_by else "",
    )


def _measure(f: Finding) -> str:
    if f.limit is None and not isinstance(f.found, float):
        return ""
    unit = f" {f.unit}" if f.unit else ""
    found = f"found {_value(f.found)}{unit}" if f.found is not None else ""
    limit = f"limit {_value(f.limit)}{unit}" if f.limit is not None else ""
    return ", ".join(x for x in (found, limit) if x)


def _value(value: float | str | None) -> str:
    """Four digits: both sides of a limit must stay apart, so no rounding to a safe side here."""
    return show.rating(float(f"{value:.4g}")) if isinstance(value, (int, float)) else str(value)
