"""Polarity at every connector, cavity by cavity: a row to tick for each wire."""

from __future__ import annotations

from circuitplan.design.bench.plugged import connectors
from circuitplan.model.result import Connector, Result
from circuitplan.report.table import Cell, Column, Table, cells

POLES = {"feed": "positive (+)", "return": "negative (−)"}
WORDS = (
    "Connectors apart, batteries isolated: ohms from each cavity of the harness's half, by its "
    "moulded number, to the far end of the wire named here, and to no other. Then feed the circuit "
    "from a current-limited source: + and − must be as below before anything is plugged in."
)


def rows(result: Result) -> list[tuple[str, str, str, str, str]]:
    """(cavity, accessory or panel, pole, wire, colour) of each cavity that holds a wire."""
    return [
        (f"{c.id}:{x.number}", _of(c), POLES[x.role], x.run, x.colour or "")
        for c in connectors(result) for x in c.cavities if x.run is not None
    ]


def _of(connector: Connector) -> str:
    return f"{connector.of}, {connector.pieces} alike" if connector.pieces > 1 else connector.of


def table(result: Result) -> Table:
    """The rows with room to tick."""
    return Table("Connectors, cavity by cavity", (
        Column("Cavity", 12), Column("Of", 34), Column("Pole", 16), Column("Wire", 12),
        Column("Colour", 12), Column("Seen, initials", 14),
    ), tuple(cells(Cell(row[0]), *row[1:], "") for row in rows(result)))
