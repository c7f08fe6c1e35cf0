"""The exception tree. Each error says where, what was given, what is allowed and what to do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong with the input.

    ``where`` names file and line ("plan.yaml, line 12") or cell ("loads.xlsx, sheet accessories,
    cell C7"); ``found`` what stood there; ``allowed`` what may stand there; ``remedy`` what to do.
    """

    where: str
    found: str
    allowed: str
    remedy: str
    file: str = ""
    line: int | None = None
    cell: str | None = None

    def __str__(self) -> str:
        parts = [f"{self.where}: {self.found}"]
        if self.allowed:
            parts.append(f"allowed: {self.allowed}")
        if self.remedy:
            parts.append(f"to mend it: {self.remedy}")
        return "\n    ".join(parts)


class CircuitplanError(Exception):
    """Base of all errors that circuitplan raises on purpose."""


class InputError(CircuitplanError):
    """The input cannot be used; holds every problem found, not only the first (exit code 2)."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        self.problems: tuple[Problem, ...] = tuple(problems)
        super().__init__("\n".join(str(p) for p in self.problems))


class TableError(CircuitplanError):
    """A shipped table is missing or damaged: an installation fault, not the user's."""


class MissingSystemLibraryError(CircuitplanError):
    """Something outside Python is needed (for instance Pango for PDF); says what to install."""
