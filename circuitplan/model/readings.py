"""What was measured on a finished vehicle, and what is said of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from circuitplan.model.result import Answer

FORMAT = "circuitplan test 1"

COLUMNS = (
    "circuit", "supply_v", "current_a", "load_v", "drop_plus_v", "drop_minus_v", "parked_a", "note",
)
EXPECTED = (
    "expected supply_v", "least current_a", "most current_a", "least load_v", "most drop_plus_v",
    "most drop_minus_v", "most parked_a",
)
"""Further columns of the workbook's sheet: what to read. They are not read back."""

Cause = Literal[
    "open feed",
    "open return",
    "load open or not switched on",
    "reversed polarity at the load",
    "high-resistance feed",
    "high-resistance return",
    "undersized wire",
    "wrong load, draws more",
    "wrong load, draws less",
    "some of the pieces dead",
    "drop over its limit",
    "volts below the least the accessory needs",
    "drain while parked",
    "supply out of its range",
    "battery not charged, engine running",
    "readings contradict each other",
]


@dataclass(frozen=True, slots=True)
class Reading:
    """One row of the filled-in test sheet; ``None`` where nothing was written."""

    circuit: str  # as the row names it
    supply_v: float | None = None
    current_a: float | None = None
    load_v: float | None = None
    drop_plus_v: float | None = None
    drop_minus_v: float | None = None
    parked_a: float | None = None
    note: str = ""
    where: str = ""

    @property
    def blank(self) -> bool:
        return all(
            v is None
            for v in (self.supply_v, self.current_a, self.load_v, self.drop_plus_v,
                      self.drop_minus_v, self.parked_a)
        )


@dataclass(frozen=True, slots=True)
class Deviation:
    """Something that is not as it should be: likely cause, what shows it, what to do."""

    cause: Cause
    shown_by: str
    remedy: str


@dataclass(frozen=True, slots=True)
class JudgedReading:
    """``passed``: None where a value that is needed is missing (named in ``missing``)."""

    reading: Reading
    passed: bool | None
    low_a: float | None
    high_a: float | None
    deviations: tuple[Deviation, ...]
    missing: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TestedCircuit:
    """All readings of one accessory; ``cause``: of every deviation, the likeliest first."""

    id: str
    accessory: str
    readings: tuple[JudgedReading, ...]
    passed: bool | None
    cause: str | None


@dataclass(frozen=True, slots=True)
class TestAnswer:
    answer: Answer
    because: str
    circuits: tuple[TestedCircuit, ...]
    not_tested: tuple[str, ...]
    format: str = FORMAT
