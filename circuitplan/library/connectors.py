"""Connectors: those of open standards by their poles, and contacts by the width of their blade.

Neither where the poles of a standard stand on its face nor what any contact bears is in the
tables: the maker's sheet says so, and the plan is asked for it.
"""

from __future__ import annotations

from functools import cache

from circuitplan.library import store
from circuitplan.model.record import record


@record
class Pole:
    """One pole of a standard: its moulded number (or sign), and what it is for."""

    number: str
    use: str


@record
class ConnectorKind:
    """A connector of an open standard. ``feed`` None: it has no permanent positive."""

    kind: str
    aliases: tuple[str, ...]
    volts: tuple[float, ...]
    feed: str | None
    back: str
    contact: str  # joint of the table of contacts
    poles: tuple[Pole, ...]
    status: str
    source: str


@record
class Tab:
    """A blade contact: its joint, and the wire it takes [mm²]."""

    contact: str
    joint: str
    least_mm2: float
    most_mm2: float
    status: str
    source: str


@cache
def kinds() -> tuple[ConnectorKind, ...]:
    """All connectors of the table, in its order."""
    poles: dict[str, list[Pole]] = {}
    for row in store.rows("connector_poles"):
        poles.setdefault(row["kind"], []).append(Pole(row["pole"], row["use"]))
    return tuple(
        ConnectorKind(
            row["kind"], tuple(row["aliases"].split(";")),
            tuple(float(v) for v in row["volts"].split(";")), row["feed"] or None, row["return"],
            row["contact"], tuple(poles[row["kind"]]), row["status"], row["source"],
        )
        for row in store.rows("connectors")
    )


def find(words: str) -> ConnectorKind | None:
    """The connector of that name or alias, whatever its capitals and hyphens."""
    wanted = _plain(words)
    return next((k for k in kinds() if wanted in map(_plain, (k.kind, *k.aliases))), None)


def _plain(words: str) -> str:
    return " ".join(words.casefold().replace("-", " ").split())


@cache
def tabs() -> tuple[Tab, ...]:
    """Blade contacts, narrowest first, with their row of the table of terminal ranges."""
    ranges = {row["interface"]: row for row in store.rows("terminal_ranges")}
    return tuple(
        Tab(
            row["contact"], row["joint"], float(ranges[row["interface"]]["from_mm2"]),
            float(ranges[row["interface"]]["to_mm2"]), ranges[row["interface"]]["status"],
            ranges[row["interface"]]["source"],
        )
        for row in store.rows("connector_tabs")
    )


def tab(contact: str | None) -> Tab | None:
    """The blade contact of that name, or None."""
    return next((t for t in tabs() if t.contact == contact), None)
