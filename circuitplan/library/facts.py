"""One value with its unit, status and source: the row type of all key-and-value tables."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

from circuitplan.errors import TableError
from circuitplan.library import store
from circuitplan.model.record import record


@record
class Fact:
    """A single published or assumed value."""

    key: str
    value: float
    unit: str
    meaning: str
    status: str
    source: str


@cache
def of_table(table: str) -> dict[str, Fact]:
    """All facts of a table with the columns key, value, unit, meaning, status, source."""
    return {
        row["key"]: Fact(
            row["key"],
            float(row["value"]),
            row["unit"],
            row["meaning"],
            row["status"],
            row["source"],
        )
        for row in store.rows(table)
    }


def get(table: str, key: str) -> Fact:
    """The fact ``key`` of ``table``; TableError if it is not there."""
    found = of_table(table).get(key)
    if found is None:
        known = ", ".join(of_table(table))
        raise TableError(f"the table {table} holds no {key}; it holds: {known}")
    return found


def interpolate(points: tuple[tuple[float, float], ...], x: float) -> float:
    """Straight line between neighbouring points, ascending in x; x must lie in their range."""
    for (x1, y1), (x2, y2) in pairwise(points):
        if x <= x2:
            return y1 + (y2 - y1) * (x - x1) / (x2 - x1)
    return points[-1][1]
