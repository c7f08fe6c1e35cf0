"""The answer of ``compare``: what is new, gone and changed between two revisions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitplan.cli.terminal.findings import finding_lines
from circuitplan.cli.terminal.overview import caution_lines
from circuitplan.cli.terminal.problems import answer_lines
from circuitplan.cli.terminal.text import Column, ink, page_width, table, wrap
from circuitplan.planner.comparing import Changed, Comparison, PartChange

_HEADS = {
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
        rows = [c for c in found.changed if c.sort == sort]
        if rows:
            yield ""
            yield ink(head, "head")
            yield from _changes(rows, width)
    if found.findings_gone:
        yield ""
        yield ink(f"FINDINGS THAT GO ({len(found.findings_gone)})", "head")
        for finding in found.findings_gone:
            words = f"{finding.signal_word} {finding.rule} {finding.subject}: {finding.message}"
            yield from wrap(words, width, first="- ", rest="  ")
    if found.findings_new:
        yield ""
        yield ink(f"FINDINGS THAT COME ({len(found.findings_new)})", "head")
        yield from finding_lines(found.findings_new, new_file)
    yield from _parts("PARTS TO BUY MORE", found.parts_added, width)
    yield from _parts("PARTS NOT NEEDED ANY MORE", found.parts_removed, width)
    yield from caution_lines()


def other_lines(found: Comparison) -> Iterator[str]:
    """What else a trial changes: panels, supply, parts to buy."""
    rows = [c for c in found.changed if c.sort in ("panel", "supply")]
    if rows:
        yield ""
        yield ink("PANELS AND SUPPLY THAT CHANGE", "head")
        yield from _changes(rows, page_width())
    yield from _parts("PARTS TO BUY MORE", found.parts_added, page_width())
    yield from _parts("PARTS NOT NEEDED ANY MORE", found.parts_removed, page_width())


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


def _parts(head: str, parts: Sequence[PartChange], width: int) -> Iterator[str]:
    if not parts:
        return
    yield ""
    yield ink(head, "head")
    columns = (
        Column("Part", 36, gives_way=True),
        Column("Size", 14),
        Column("Colour", 10),
        Column("Amount", right=True),
    )
    yield from table(
        columns,
        [(p.what, p.size, p.colour or "-", _amount(p)) for p in parts],
        width=width,
    )


def _amount(part: PartChange) -> str:
    if part.length_m is not None:
        return f"{abs(part.length_m):.2f} m"
    return str(abs(part.quantity))
