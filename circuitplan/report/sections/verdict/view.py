"""The answer in one sentence, and which limits it hangs on."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from circuitplan.model.plan import Plan
from circuitplan.model.result import Result, SignalWord

_WORDS: tuple[SignalWord, ...] = ("DANGER", "WARNING", "CAUTION", "NOTICE")


@dataclass(frozen=True, slots=True)
class View:
    word: str  # OK, NOT OK, CANNOT SAY
    css: str
    because: str
    tally: str
    failing: tuple[str, ...]


def build(plan: Plan, result: Result) -> View:
    """Counts are of findings; a finding accepted on record no longer counts."""
    open_ = [f for f in result.findings if f.fails and not f.accepted_by]
    counts = Counter(f.signal_word for f in result.findings if not f.accepted_by)
    accepted = sum(1 for f in result.findings if f.accepted_by)
    tally = [f"{counts[w]} {w}" for w in _WORDS if counts[w]]
    if accepted:
        tally.append(f"{accepted} accepted on record")
    return View(
        word=result.answer.upper(),
        css=result.answer.replace(" ", "-"),
        because=f"{result.because[:1].upper()}{result.because[1:].rstrip('.')}.",
        tally=", ".join(tally) or "No findings",
        failing=tuple(
            f.message if f.subject in f.message else f"{f.subject}: {f.message}" for f in open_
        ),
    )
