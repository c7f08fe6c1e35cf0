"""The answer of ``compare``: what is new, gone and changed between two revisions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitplan.cli.terminal.findings import finding_lines
from circuitplan.cli.terminal.overview import caution_lines
from circuitplan.cli.terminal.problems import answer_lines
from circuitplan.cli.terminal.text import Column, ink, page_width, table, wrap
from circuitplan.model.result import Finding
from circuitplan.planner import counted
from circuitplan.planner.comparing import Changed, Comparison, PartChange

_HEADS = {
    "plan": "WHAT THE PLAN SAYS DIFFERENTLY",
    "accessory": "ACCESSORIES THAT CHANGE",
    "circuit": "FUSES AND RELAYS THAT CHANGE",
    "switch": "SWITCHES THAT CHANGE",
    "panel": "PANELS THAT CHANGE",
    "supply": "SUPPLY",
}


def comparison_lines(found: Comparison, old_file: str, new_file: str) -> Iterator[str]:
    """Verdict of the new revision, then what is added, gone and different."""
    width = page_width()
    named = _named(new_file, found.revisions[1])
    yield from answer_lines(found.answer, f"{named}: {found.because}")
    before = f"Before, {_named(old_file, found.revisions[0])}: {found.old_answer.upper()}."
    yield from wrap(before, width)
    if found.same:
        yield ""
        yield "Nothing that matters to the work has changed."
    for head, names in (("ADDED", found.added), ("GONE", found.removed)):
        if names:
            yield ""
            yield ink(head, "head")
            yield from wrap(", ".join(names), width)
    for sort, head in _HEADS.items():
        rows = [c for c in found.changed if c.sort == sort and not c.small]
        if rows:
            yield ""
            yield ink(head, "head")
            yield from _changes(rows, width)
    pushed = dict.fromkeys(c.subject for c in found.changed if c.small)
    if pushed:
        yield ""
        yield from wrap(
            f"Figures that move a little (to 2 % or 0.2 A, 0.3 % of drop, 0.1 h): "
            f"{', '.join(pushed)}.", width, rest="  ", first="",
        )  # fmt: skip
    if found.findings_gone:
        yield ""
        yield ink(f"FINDINGS THAT GO ({len(found.findings_gone)})", "head")
        for finding in found.findings_gone:
            yield from wrap(short(finding), width, first="- ", rest="  ")
    if found.findings_new:
        yield ""
        yield ink(f"FINDINGS THAT COME ({len(found.findings_new)})", "head")
        yield from coming_lines(found.findings_new, new_file)
    yield from _parts(found, width)
    yield from caution_lines()


def other_lines(found: Comparison) -> Iterator[str]:
    """What else a trial changes: panels, supply, parts to buy."""
    rows = [c for c in found.changed if c.sort in ("panel", "supply") and not c.small]
    if rows:
        yield ""
        yield ink("PANELS AND SUPPLY THAT CHANGE", "head")
        yield from _changes(rows, page_width())
    yield from _parts(found, page_width())


def coming_lines(came: Sequence[Finding], plan_file: str) -> Iterator[str]:
    """New findings: those that fail in full, the others in a line each."""
    counting = counted(tuple(came))
    yield from finding_lines(counting, plan_file)
    others = [f for f in came if f not in counting]
    if counting and others:
        yield ""
    for finding in others:
        yield from wrap(short(finding), page_width(), first="- ", rest="  ")


def short(finding: Finding) -> str:
    """A finding in one sentence, with whether it fails."""
    fails = "" if counted((finding,)) else "does not fail, "
    return f"{finding.signal_word} {fails}rule {finding.rule}, {finding.subject}: {finding.message}"


def _named(file: str, revision: str | None) -> str:
    return f"{file} (revision {revision})" if revision else file


def _changes(rows: Sequence[Changed], width: int) -> Iterator[str]:
    columns = (
        Column("Name", 28, gives_way=True),
        Column("What", 18),
        Column("Was", 24, gives_way=True),
        Column("Is", 24, gives_way=True),
    )
    lines = []
    last = ""
    for row in rows:
        name = row.subject if row.subject != last else ""
        last = row.subject
        lines.append((name, row.what, row.old or "-", row.new or "-"))
    yield from table(columns, lines, width=width)


def _parts(found: Comparison, width: int) -> Iterator[str]:
    """One table of parts: + to buy more, - not needed any more."""
    parts = sorted(
        (*found.parts_added, *found.parts_removed), key=lambda p: (p.what, p.size, p.colour or "")
    )
    if not parts:
        return
    yield ""
    yield ink("PARTS: + TO BUY MORE, - NOT NEEDED ANY MORE", "head")
    columns = (
        Column("Part", 36, gives_way=True),
        Column("Size", 14),
        Column("Colour", 10),
        Column("Amount", right=True),
    )
    rows = [(p.what, p.size, p.colour or "-", _amount(p)) for p in parts]
    yield from table(columns, rows, width=width)
    more, less = (
        sum(p.length_m for p in some if p.length_m)
        for some in (found.parts_added, found.parts_removed)
    )
    if more or less:
        yield f"Wire in all: {more:+.2f} m and {less:+.2f} m."


def _amount(part: PartChange) -> str:
    if part.length_m is not None:
        return f"{part.length_m:+.2f} m"
    return f"{part.quantity:+d}"
