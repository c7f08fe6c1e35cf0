"""Before and after: the answers of ``try`` and of ``keep --show``."""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Sequence

from circuitplan.cli.terminal.findings import finding_lines
from circuitplan.cli.terminal.overview import caution_lines, drop_word, fuse_word, wire_word
from circuitplan.cli.terminal.problems import answer_lines
from circuitplan.cli.terminal.text import Column, ink, page_width, table, up, wrap
from circuitplan.model.result import Circuit, Finding, Result, SwitchResult
from circuitplan.planner import counted


def remedy_of(result: Result) -> str | None:
    """What to do about the worst finding that counts; None when there is none."""
    counting = counted(result.findings)
    return counting[0].remedy if counting else None


def try_lines(
    before: Result, after: Result, changes: Sequence[str], plan_file: str
) -> Iterator[str]:
    """Verdict after, verdict before, what differs, findings that came and went, remedy."""
    width = page_width()
    yield from answer_lines(after.answer, f"with the change: {after.because}")
    yield from wrap(before.because, width, first=f"Before: {before.answer.upper()}: ", rest="  ")
    yield ""
    for change in changes:
        yield from wrap(change, width, first="Tried: ", rest="  ")
    yield from _circuits(before, after, width)
    yield from _switches(before, after, width)
    came = [f for f in after.findings if not _has(before, f)]
    went = [f for f in before.findings if not _has(after, f)]
    if went:
        yield ""
        yield ink(f"FINDINGS THAT GO ({len(went)})", "head")
        for finding in went:
            yield from wrap(_short(finding), width, first="- ", rest="  ")
    if came:
        yield ""
        yield ink(f"FINDINGS THAT COME ({len(came)})", "head")
        yield from finding_lines(came, plan_file)
    stay = [f for f in counted(after.findings) if f not in came]
    if stay:
        yield ""
        yield ink(f"FINDINGS THAT STAY AND FAIL ({len(stay)})", "head")
        yield from finding_lines(stay, plan_file)
    yield from caution_lines()


def _has(result: Result, finding: Finding) -> bool:
    return any(f.rule == finding.rule and f.subject == finding.subject for f in result.findings)


def _short(finding: Finding) -> str:
    return f"{finding.signal_word} {finding.rule} {finding.subject}: {finding.message}"


def _circuits(before: Result, after: Result, width: int) -> Iterator[str]:
    old = {_key(c): c for c in before.circuits}
    new = {_key(c): c for c in after.circuits}
    rows: list[tuple[str, ...]] = []
    for key in dict.fromkeys((*old, *new)):
        was, now = old.get(key), new.get(key)
        if was is not None and now is not None and _facts(was) == _facts(now):
            continue
        label = (now or was).label  # type: ignore[union-attr]
        if was is not None:
            rows.append(("before", label, *_facts(was)))
        if now is not None:
            rows.append(("after", label, *_facts(now)))
        if now is None:
            rows.append(("after", label, "gone", "", "", ""))
    yield ""
    if not rows:
        yield "No circuit changes."
        return
    yield ink("CIRCUITS THAT CHANGE", "head")
    columns = (
        Column("", 6),
        Column("Circuit", 28, gives_way=True),
        Column("Current", right=True),
        Column("Wire", 9),
        Column("Fuse", 13),
        Column("Drop", right=True),
    )
    yield from table(columns, rows, width=width)


def _key(circuit: Circuit) -> tuple[str, ...]:
    return tuple(sorted(a.name for a in circuit.accessories)) or (circuit.label,)


def _facts(circuit: Circuit) -> tuple[str, str, str, str]:
    return (
        f"{up(circuit.current_a)} A",
        wire_word(circuit),
        fuse_word(circuit),
        drop_word(circuit),
    )


def _switches(before: Result, after: Result, width: int) -> Iterator[str]:
    old = {s.id: _load(s) for s in before.switches}
    rows = [
        (s.id, old.get(s.id, "-"), _load(s), _usable(s))
        for s in after.switches
        if old.get(s.id) != _load(s)
    ]
    rows += [(name, load, "gone", "") for name, load in old.items()
             if name not in {s.id for s in after.switches}]  # fmt: skip
    if rows:
        columns = (
            Column("Switch", 20, gives_way=True),
            Column("Load before", right=True),
            Column("Load after", right=True),
            Column("Usable", right=True),
        )
        yield ""
        yield from table(columns, rows, width=width)


def _load(switch: SwitchResult) -> str:
    return f"{up(switch.current_a, 2 if switch.current_a < 1 else 1)} A"


def _usable(switch: SwitchResult) -> str:
    return "-" if switch.usable_a is None else f"{switch.usable_a:.4g} A"


def kept_lines(plan_file: str, before: str, after: str) -> Iterator[str]:
    """The lines that ``keep`` would take out (-) and put in (+)."""
    pairs = difflib.unified_diff(before.splitlines(), after.splitlines(), n=0, lineterm="")
    changed = [line for line in pairs if line[:2] not in ("--", "++", "@@")]
    puts = sum(1 for line in changed if line.startswith("+"))
    yield from answer_lines("OK", f"{puts} lines of {plan_file} would change; nothing is written.")
    yield ""
    yield from changed
