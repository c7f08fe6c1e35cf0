"""What a printed table or picture is made of: strings ready to print."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Align = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class Column:
    """``label`` heads the column, and stands beside each value on a narrow screen."""

    label: str
    share: float  # of the table's width; widths are fixed, so that paper is laid out fast
    align: Align = "left"


@dataclass(frozen=True, slots=True)
class Cell:
    """``mark`` is a word that must catch the eye ("over", "assumed"); ``note`` a second line."""

    text: str
    note: str = ""
    mark: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """``rows`` hold one cell a column; the first column names the row."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    empty: str = "None."

    @property
    def widths(self) -> tuple[str, ...]:
        """Width of each column as a CSS percentage."""
        whole = sum(c.share for c in self.columns)
        return tuple(f"{100.0 * c.share / whole:.2f}%" for c in self.columns)

    def __post_init__(self) -> None:
        for row in self.rows:
            if len(row) != len(self.columns):
                raise ValueError(f"{self.caption}: {len(row)} cells, {len(self.columns)} columns")


def cells(*values: str | Cell) -> tuple[Cell, ...]:
    """A row from plain strings and cells."""
    return tuple(v if isinstance(v, Cell) else Cell(v) for v in values)


@dataclass(frozen=True, slots=True)
class Picture:
    """An inline SVG with the sentence that says the same to whoever cannot see it."""

    caption: str
    svg: str  # made by report.svg, which escapes every text
    alternative: str


@dataclass(frozen=True, slots=True)
class SafetyMessage:
    """Hazard, consequence and avoidance, in that order (ANSI Z535.6)."""

    word: str
    hazard: str
    consequence: str
    avoidance: str
