"""Findings worst first: what is wrong, for whom, and what to do about it."""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Sequence
from itertools import groupby

from circuitplan.cli.terminal.text import ink, page_width, wrap
from circuitplan.model.result import Finding

_INDENT = " " * 9


def finding_lines(findings: Sequence[Finding], plan_file: str | None) -> Iterator[str]:
    """Every finding, those that fail first; those of one rule that do not fail share a head."""
    for (rule, word, apart), group in groupby(failing_first(findings), key=_sort):
        found = list(group)
        yield ""
        if apart or len(found) == 1:
            for number, finding in enumerate(found):
                if number:
                    yield ""
                yield from _one(finding, plan_file)
        else:
            yield from _several(rule, word, found)


def failing_first(findings: Sequence[Finding]) -> list[Finding]:
    """Those that count against the plan first; within that, in the order given (worst first)."""
    from circuitplan.planner import counted

    return sorted(findings, key=lambda f: f not in counted((f,)))


def _sort(finding: Finding) -> tuple[str, str, bool]:
    apart = finding.fails or finding.accepted_by is not None or finding.change is not None
    return finding.rule, finding.signal_word, apart


def _one(finding: Finding, plan_file: str | None) -> Iterator[str]:
    width = page_width()
    subject = f"rule {finding.rule}, {finding.subject}{_state(finding)}"
    yield from _head(finding.signal_word, subject)
    yield from wrap(finding.message, width, first=_INDENT)
    if finding.remedy:
        yield from wrap(finding.remedy, width, first=f"{_INDENT}To mend it: ", rest=_INDENT + "  ")
    if finding.change and plan_file and not finding.accepted_by:
        command = f"circuitplan try {quoted(plan_file)} --change {quoted(finding.change)}"
        yield from wrap(command, width, first=f"{_INDENT}Try it: ", rest=_INDENT + "  ")


def _several(rule: str, word: str, findings: Sequence[Finding]) -> Iterator[str]:
    width = page_width()
    yield from _head(word, f"rule {rule}, {len(findings)} times; does not fail the plan")
    for finding in findings:
        yield from wrap(finding.message, width, first=f"{_INDENT}- ", rest=_INDENT + "  ")
    said = [f for f in findings if f.remedy]
    remedies = dict.fromkeys(f.remedy for f in said)
    general = {f.remedy.replace(f.subject, "this one") for f in said}
    for text in general if len(general) == 1 < len(remedies) else remedies:
        yield from wrap(text, width, first=f"{_INDENT}To mend it: ", rest=_INDENT + "  ")


def _head(word: str, text: str) -> Iterator[str]:
    lines = wrap(text, page_width(), first=f"{word:<9}", rest=_INDENT)
    yield lines[0].replace(word, ink(word, word), 1)
    yield from lines[1:]


def _state(finding: Finding) -> str:
    if finding.accepted_by:
        return f", accepted by {finding.accepted_by}"
    return "" if finding.fails else ", does not fail the plan"


def quoted(word: str) -> str:
    """A word as a shell takes it, in double quotes where it needs any."""
    plain = shlex.quote(word)
    if plain != word and not any(c in word for c in '"$`\\!'):
        return f'"{word}"'
    return plain
