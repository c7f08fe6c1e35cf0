"""What every rule is made of: the rule's own page, the case it judges, and fair comparisons."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from circuitplan.model.record import record
from circuitplan.model.result import Finding, SignalWord
from circuitplan.rules.case import Case, FusePlace, Item, RunPlace

__all__ = [
    "Case",
    "Finding",
    "FusePlace",
    "Item",
    "Judge",
    "Rule",
    "RunPlace",
    "Skip",
    "below",
    "exceeds",
    "listed",
    "num",
    "ordered",
    "ordered_percent",
]

SLACK = 1e-9
"""Relative slack of every comparison: the rounding of the arithmetic, nothing else."""


@record
class Rule:
    """One rule and the page that explains it.

    ``fails``: whether a finding of this rule fails unless the finding itself says otherwise.
    ``means``: what the rule says; ``why``: what happens when nobody heeds it; ``remedy``: how to
    mend it; ``by_hand``: what to look for on the vehicle where a plan cannot hold the fact.
    ``status`` is that of ``source``: read, second-hand, memory, common practice, computed or
    judgement.
    """

    id: str
    name: str
    signal_word: SignalWord
    fails: bool
    means: str
    why: str
    remedy: str
    source: str
    status: str
    example: str
    by_hand: str = ""

    def finding(
        self,
        subject: str,
        message: str,
        remedy: str,
        *,
        found: float | str | None = None,
        limit: float | str | None = None,
        unit: str | None = None,
        change: str | None = None,
        circuit: str | None = None,
        signal_word: SignalWord | None = None,
        fails: bool | None = None,
        source: str | None = None,
    ) -> Finding:
        """A finding of this rule; what is not given is the rule's own."""
        return Finding(
            rule=self.id,
            signal_word=signal_word or self.signal_word,
            fails=self.fails if fails is None else fails,
            subject=subject,
            found=found,
            limit=limit,
            unit=unit,
            message=message,
            remedy=remedy,
            change=change,
            source=source or self.source,
            circuit=circuit,
        )


@record
class Skip:
    """The rule could not be judged, and why. A skip never counts as a pass."""

    reason: str
    subject: str | None = None


Judge = Callable[[Case], Iterator[Finding | Skip]]


def exceeds(found: float, limit: float) -> bool:
    """Whether ``found`` is over ``limit`` by more than the rounding of the arithmetic."""
    return found > limit + abs(limit) * SLACK


def below(found: float, limit: float) -> bool:
    """Whether ``found`` is under ``limit`` by more than the rounding of the arithmetic."""
    return found < limit - abs(limit) * SLACK


def num(value: float, digits: int = 3) -> str:
    """``value`` with ``digits`` significant digits, never in exponent form."""
    if value != value or value in (float("inf"), float("-inf")):
        return "without limit" if value > 0 else "not a number"
    if value == 0:
        return "0"
    if abs(value) >= 10**digits:
        return f"{float(f'{value:.{digits}g}'):.0f}"
    text = f"{value:.{digits}g}"
    return f"{value:.6f}".rstrip("0").rstrip(".") if "e" in text else text


def ordered(found: float, limit: float) -> tuple[str, str]:
    """Both numbers as text in three digits; where those are the same, "just over" the limit.

    Numbers that are the same but for the rounding of the arithmetic are told as the same.
    """
    texts = num(found), num(limit)
    if texts[0] == texts[1] and (exceeds(found, limit) or below(found, limit)):
        return f"just {'over' if found > limit else 'under'} {texts[1]}", texts[1]
    return texts


def ordered_percent(found: float, limit: float) -> tuple[str, str]:
    """Shares in % as ``ordered`` has them; below a tenth nobody asks how much."""
    shown, least = ordered(found, limit)
    if 0.0 < abs(found) < 0.1:
        shown = "less than 0.1" if found > 0.0 else "just under 0"
    return shown, least


def listed(names: Iterator[str] | list[str] | tuple[str, ...], most: int = 8) -> str:
    """Names in their own order, without doubles: "A, B and C"."""
    unique = sorted(dict.fromkeys(names), key=natural)
    if len(unique) > most:
        return ", ".join(unique[:most]) + f" and {len(unique) - most} more"
    if len(unique) < 2:
        return "".join(unique)
    return ", ".join(unique[:-1]) + " and " + unique[-1]


def natural(text: str) -> tuple[tuple[int, int, str], ...]:
    """Sorting key that puts F2 before F10."""
    parts: list[tuple[int, int, str]] = []
    word = ""
    digits = ""
    for letter in text + "\0":
        if letter.isdecimal() and letter.isascii():
            if word:
                parts.append((1, 0, word))
                word = ""
            digits += letter
        else:
            if digits:
                parts.append((0, int(digits), ""))
                digits = ""
            word += letter
    return (*parts, (1, 0, word))


def accept(finding: Finding, by: str) -> Finding:
    """The finding as accepted by a person; a DANGER stays, and says that it does."""
    if finding.signal_word == "DANGER":
        note = f" The plan accepts this ({by}), but a DANGER cannot be accepted: it still counts."
        return replace(finding, message=finding.message + note)
    return replace(finding, accepted_by=by)
