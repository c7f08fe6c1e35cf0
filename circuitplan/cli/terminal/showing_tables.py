"""The shipped tables on a terminal: as columns where they fit, else entry by entry."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from circuitplan.cli.deviations import AMBIENT_C, GATE
from circuitplan.cli.deviations import deviations as all_deviations
from circuitplan.cli.terminal.problems import answer_lines
from circuitplan.cli.terminal.text import Column, cells, ink, page_width, table, wrap
from circuitplan.errors import InputError, Problem
from circuitplan.library import kinds, store


def all_tables() -> Iterator[str]:
    """Every table's name and title."""
    names = store.names()
    yield from answer_lines("OK", f"{len(names)} tables ship with this version.")
    yield ""
    rows = [(name, str(store.describe(name).get("title", ""))) for name in names]
    yield from table((Column("Name"), Column("What", gives_way=True)), rows, width=page_width())
    yield ""
    yield "One of them: circuitplan tables NAME. Also: kinds, sources, deviations."


def one_table(name: str) -> Iterator[str]:
    """A table with its title, conditions, sources and rows."""
    if name not in store.names():
        raise InputError([_unknown_table(name)])
    about = store.describe(name)
    rows = store.rows(name)
    width = page_width()
    yield from answer_lines("OK", f"{about.get('title', name)}, {len(rows)} rows.")
    if about.get("conditions"):
        yield from wrap(f"Conditions: {about['conditions']}", width, first="", rest="  ")
    for source in about.get("sources", ()):
        yield from wrap(f"Source: {source_words(source)}", width, first="", rest="  ")
    yield ""
    yield from _rows(rows, width)


def _rows(rows: tuple[dict[str, str], ...], width: int) -> Iterator[str]:
    if not rows:
        return
    heads = [head for head in rows[0] if head not in ("source", "status")]
    statuses = {row.get("status", "") for row in rows}
    if len(statuses) > 1:
        heads.append("status")
    wide = [max(cells(h), *(cells(row[h]) for row in rows)) for h in heads]
    if sum(wide) + 2 * (len(wide) - 1) <= width:
        yield from table(
            [Column(h) for h in heads], [[row[h] for h in heads] for row in rows], width=width
        )
    else:
        for row in rows:
            filled = [(h, row[h]) for h in heads if row[h]]
            if not filled:
                continue
            yield ink(f"{filled[0][1]}", "head")
            text = "; ".join(f"{h} {value}" for h, value in filled[1:])
            yield from wrap(text, width, first="  ", rest="  ")
    if len(statuses) == 1:
        yield ""
        yield f"Status of every row: {statuses.pop()}"
    sources = dict.fromkeys(row.get("source", "") for row in rows)
    for source in sources:
        if source:
            yield from wrap(f"Row source: {source}", width, first="", rest="  ")


def kinds_list() -> Iterator[str]:
    """Every kind with its draw at 12 V."""
    every = kinds.all()
    yield from answer_lines("OK", f"{len(every)} kinds of accessory; currents at 12 V, one piece.")
    yield ""
    columns = (
        Column("Kind", gives_way=True),
        Column("Typical", right=True),
        Column("High", right=True),
        Column("Load"),
        Column("Status"),
    )
    rows = [
        (k.kind, f"{k.typical_a:g} A", f"{k.high_a:g} A", k.load, k.status)
        for k in sorted(every, key=lambda k: k.kind)
    ]
    yield from table(columns, rows, width=page_width())
    yield ""
    yield "Other words are found too. One kind whole: circuitplan tables kinds fridge"


def one_kind(words: str) -> Iterator[str]:
    """Everything the table says of one kind."""
    kind = kinds.find(words)
    if kind is None:
        near = ", ".join(kinds.nearest(words))
        problem = Problem(
            "",
            f"no kind is called '{words}'",
            "any of 'circuitplan tables kinds'",
            f"nearest: {near}" if near else "give the power or the current instead of a kind",
        )
        raise InputError([problem])
    yield from answer_lines("OK", f"'{words}' is the kind {kind.kind}.")
    row = next(row for row in store.rows("kinds") if row["kind"] == kind.kind)
    for key, value in row.items():
        if value:
            yield from wrap(value.replace(";", ", "), page_width(), first=f"{key}: ", rest="  ")


def sources() -> Iterator[str]:
    """Every document the tables rest on, and which tables those are."""
    found: dict[str, list[str]] = {}
    for name in store.names():
        for source in store.describe(name).get("sources", ()):
            found.setdefault(source_words(source), []).append(name)
    yield from answer_lines("OK", f"the tables rest on {len(found)} sources.")
    for title in sorted(found, key=str.casefold):
        yield ""
        yield from wrap(title, page_width(), first="", rest="  ")
        yield from wrap(", ".join(found[title]), page_width(), first="  tables: ", rest="    ")


def source_words(source: dict[str, Any]) -> str:
    """A source of the descriptor in one line."""
    known = [str(source[k]) for k in ("title", "version", "edition", "clause") if source.get(k)]
    return ", ".join(known)


def deviations() -> Iterator[str]:
    """How far the first-principles ampacity lies from each published table."""
    found = all_deviations()
    worst = max(abs(d.relative) for d in found)
    within = worst <= GATE
    yield from answer_lines(
        "OK" if within else "NOT OK",
        f"first-principles ampacity lies within {worst:.1%} of the published tables "
        f"(gate {GATE:.0%}).",
    )
    yield from wrap(
        f"Single wire in still air at {AMBIENT_C:g} °C, no reduction. The plan uses the lower of "
        "the published value and 0.9 times this computed one.",
        page_width(),
    )
    for document in dict.fromkeys(d.document for d in found):
        rows = [d for d in found if d.document == document]
        spread = f"{min(d.relative for d in rows):+.1%} to {max(d.relative for d in rows):+.1%}"
        yield ""
        yield ink(f"{document}, {rows[0].clause}: {spread} over {len(rows)} sizes", "head")
        columns = (
            Column("Size"),
            Column("Class", right=True),
            Column("Published", right=True),
            Column("Computed", right=True),
            Column("Distance", right=True),
        )
        yield from table(
            columns,
            [
                (
                    d.size,
                    f"{d.class_c:g} °C",
                    f"{d.published_a:g} A",
                    f"{d.computed_a:.1f} A",
                    f"{d.relative:+.1%}",
                )
                for d in rows
            ],
            width=page_width(),
        )


def table_data(words: list[str]) -> dict[str, Any]:
    """The same as plain data for ``--json``."""
    form = {"format": "circuitplan tables 1", "answer": "ok"}
    if not words:
        return form | {"tables": [{"name": n, **_about(n)} for n in store.names()]}
    if words == ["sources"]:
        return form | {
            "tables": [{"name": n, "sources": _about(n)["sources"]} for n in store.names()]
        }
    if words == ["deviations"]:
        keys = ("document", "clause", "size", "class_c", "published_a", "computed_a", "relative")
        rows = [{k: getattr(d, k) for k in keys} for d in all_deviations()]
        return form | {"gate": GATE, "ambient_c": AMBIENT_C, "rows": rows}
    if words[0] == "kinds" and words[1:]:
        kind = kinds.find(" ".join(words[1:]))
        return form | {"kind": kind}
    name = "_".join(words)
    if name not in store.names():
        raise InputError([_unknown_table(name)])
    return form | {"name": name, **_about(name), "rows": list(store.rows(name))}


def _about(name: str) -> dict[str, Any]:
    about = store.describe(name)
    return {key: about.get(key) for key in ("title", "conditions", "sources")}


def _unknown_table(name: str) -> Problem:
    import difflib

    near = difflib.get_close_matches(name, [*store.names(), "kinds", "sources", "deviations"], n=1)
    return Problem(
        "",
        f"no table is called '{name}'",
        ", ".join(store.names()),
        f"did you mean {near[0]}?" if near else "",
    )
