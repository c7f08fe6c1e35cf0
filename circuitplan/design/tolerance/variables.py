"""What varies from one vehicle and one day to the next, and how: the table of distributions.

Each variable is one draw: a leg of the loom, a spool of wire, the joints of one wire, the shared
body, a place, the day, an accessory, the supply, a battery, a fuse.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Literal

from circuitplan.errors import TableError
from circuitplan.library import store
from circuitplan.model.record import record

Family = Literal[
    "length", "spool", "contact", "chassis", "place", "day", "draw", "exponent", "supply",
    "battery", "fuse",
]

NORMAL: frozenset[str] = frozenset({"contact", "chassis", "place", "day", "battery"})
"""Families that are drawn as normal scores; the others as shares between 0 and 1."""


@record
class Row:
    """One quantity of ``tolerance_distributions``; None where the cell is empty."""

    quantity: str
    shape: str
    low: float | None
    middle: float | None
    high: float | None
    relative_to: str
    status: str
    source: str

    def ends(self) -> tuple[float, float]:
        """(low, high) of a bounded quantity; TableError where the table has none."""
        if self.low is None or self.high is None:
            raise TableError(f"tolerance_distributions gives {self.quantity} no low and high")
        return self.low, self.high

    def peak(self) -> float:
        """Middle or median; TableError where the table has none."""
        if self.middle is None:
            raise TableError(f"tolerance_distributions gives {self.quantity} no middle")
        return self.middle


@cache
def rows() -> dict[str, Row]:
    """The table of distributions by quantity."""
    return {
        r["quantity"]: Row(
            r["quantity"], r["shape"], store.number(r["low"]), store.number(r["middle"]),
            store.number(r["high"]), r["relative_to"], r["status"], r["source"],
        )
        for r in store.rows("tolerance_distributions")
    }


@dataclass(frozen=True, slots=True, order=True)
class Variable:
    """One draw. ``subject`` says of what; ``row`` is its row among those of its family."""

    family: Family
    subject: str
    row: int

    @property
    def name(self) -> str:
        """In words, for people."""
        return {
            "length": f"length of {self.subject}",
            "spool": f"resistance of the spool {self.subject}",
            "contact": f"joints of wire {self.subject}",
            "chassis": "the body that all chassis returns share",
            "place": f"temperature at {self.subject}",
            "day": "how hot the day is",
            "draw": f"current of {self.subject}",
            "exponent": f"how the current of {self.subject} follows the volts",
            "supply": "volts at the battery posts",
            "battery": f"resistance of {self.subject}",
            "fuse": f"how fast fuse {self.subject} opens",
        }[self.family]

    @property
    def measurement(self) -> str | None:
        """What to measure in order to know it; None where no one measurement tells."""
        what = self.subject
        return {
            "length": f"Measure {what} along the way that the loom will take.",
            "spool": f"Measure the resistance of 10 m of the spool {what} with four leads.",
            "contact": f"Measure the volts lost in joints, fuse and contacts of wire {what} while "
            "it carries its load.",
            "chassis": "Measure the volts between battery negative and the body under load.",
            "place": f"Measure the temperature at {what} on a hot day after an hour's work.",
            "day": None,
            "draw": f"Measure the current of {what} and the volts at its terminals.",
            "exponent": f"Measure the current of {what} at the lowest and at the highest volts.",
            "supply": None,
            "battery": f"Measure the drop at the posts of {what} under a known load.",
            "fuse": None,
        }[self.family]
