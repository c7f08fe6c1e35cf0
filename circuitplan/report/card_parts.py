"""What the card is made of, as laid out: rows, parts in columns, boxes of switches, the code."""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.report.card_letters import Cell, Height, Letters

MARGIN_MM, FOOT_MM = 5.0, 4.5
GAP_MM = 5.0  # between columns of the lesser parts
CELL_MM = 2.0  # right of a cell
ROW_MM = 0.7  # above and below the words of a row, and its line
BAND_MM = 0.6  # the line above a box, and the thicker one below
PART_MM = 2.2  # above a heading, its line included
ITEM_MM = 0.5
INDENT_MM: dict[Height, float] = {"name": 8.0, "second": 5.5, "small": 5.5}
SEAT_MM, SEAT_PAD_MM, SEAT_GAP_MM = 2.0, 3.2, 0.6  # edges of a switch's box, beside it, below


@dataclass(frozen=True, slots=True)
class Size:
    """A face of the card [mm]."""

    width: float
    height: float

    @property
    def room(self) -> float:
        """Width between the margins [mm]."""
        return self.width - 2.0 * MARGIN_MM

    @property
    def depth(self) -> float:
        """Height above the foot [mm]."""
        return self.height - MARGIN_MM - FOOT_MM - 4.8


@dataclass(frozen=True, slots=True)
class Row:
    """A dead thing (four cells), or a box with its own fuse (``band``, one cell)."""

    cells: tuple[Cell, ...]
    band: bool = False


@dataclass(frozen=True, slots=True)
class Part:
    """A heading with its items. ``whole``: over the full width and never divided."""

    heading: str
    items: tuple[str, ...]
    height: Height
    ordered: bool = False
    whole: bool = False
    start: int = 1  # number of its first item
    note: str = ""


@dataclass(frozen=True, slots=True)
class Seats:
    """Switches as the driver sees them: (place, (identifier, label) ...)."""

    rows: tuple[tuple[str, tuple[tuple[str, str], ...]], ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """The code; ``side`` [mm]."""

    svg: str
    side: float
    words: str


@dataclass(frozen=True, slots=True)
class Content:
    title: str  # empty: it stands in the foot
    warning: str
    heads: tuple[str, ...]
    rows: tuple[Row, ...]
    parts: tuple[Part | Seats, ...]
    code: Picture | None


@dataclass(frozen=True, slots=True)
class Table:
    """``widths`` [mm] of its columns; ``stacked``: one column of running lines instead of four."""

    rows: tuple[Row, ...]
    widths: tuple[float, ...]
    stacked: bool


@dataclass(frozen=True, slots=True)
class Zone:
    """Columns of parts or tables side by side; ``widths`` [mm]."""

    columns: tuple[tuple[Part | Picture | Table, ...], ...]
    widths: tuple[float, ...]


Piece = Table | Part | Seats | Zone
Face = tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Card:
    faces: tuple[Face, ...]
    letters: Letters
