"""What ``keep`` writes, and what it leaves out and why."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping, Sequence

from circuitplan.cli.terminal.text import page_width, wrap
from circuitplan.model.result import Finding, Result


def kept_lines(plan_file: str, before: str, after: str) -> Iterator[str]:
    """The lines that ``keep`` would take out (-) and put in (+)."""
    pairs = difflib.unified_diff(before.splitlines(), after.splitlines(), n=0, lineterm="")
    changed = [line for line in pairs if line[:2] not in ("--", "++", "@@")]
    puts = sum(1 for line in changed if line.startswith("+"))
    yield f"{puts} lines of {plan_file} would change; nothing is written."
    yield ""
    yield from changed


def left_out_lines(result: Result, without: Mapping[str, Sequence[Finding]]) -> Iterator[str]:
    """The circuits and panels whose sizes and fuses were not written, each with the reason."""
    names = {c.id: f"circuit {c.number} {c.label}" for c in result.circuits}
    width = page_width()
    yield from wrap(
        "Not written: sizes and fuses of what does not hold; they would be taken for sound.", width
    )
    for thing, findings in without.items():
        reason = f"rule {findings[0].rule}: {findings[0].message}"
        yield from wrap(f"{names.get(thing, thing)}: {reason}", width, first="- ", rest="  ")
