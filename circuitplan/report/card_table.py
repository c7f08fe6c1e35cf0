"""The card's table of dead things: its columns as narrow or wide as makes it lowest."""

from __future__ import annotations

import math
from itertools import product

from circuitplan.report.card_letters import Bit, Cell, Letters, Line, cell_mm, count
from circuitplan.report.card_parts import (
    BAND_MM,
    CELL_MM,
    GAP_MM,
    ROW_MM,
    Content,
    Row,
    Size,
    Table,
)

OR, AND = "or", "·"
TWO_UP_MM = 170.0
"""From this width on two tables may stand side by side."""


def head_mm(content: Content, shape: Table, letters: Letters, room_mm: float) -> float:
    """Height of the heads of the columns [mm]; of a stacked table they are one line."""
    if shape.stacked:
        words = " · ".join(content.heads)
        return 1.0 + cell_mm(((Bit(words, "small", True),),), letters, room_mm)
    return 1.0 + max(
        cell_mm(((Bit(h, "small", True),),), letters, w - CELL_MM)
        for h, w in zip(content.heads, shape.widths, strict=True)
    )


def row_mm(row: Row, shape: Table, letters: Letters, room_mm: float) -> float:
    """Height of a row [mm]."""
    if row.band:
        return ROW_MM + BAND_MM + cell_mm(row.cells[0], letters, room_mm - CELL_MM)
    if shape.stacked:
        return ROW_MM + _flows_mm(row, letters, room_mm)
    return ROW_MM + max(
        cell_mm(cell, letters, width - CELL_MM)
        for cell, width in zip(row.cells, shape.widths, strict=True)
    )


def flows(row: Row) -> tuple[Line, Line]:
    """A row as two running lines: thing and switch; fuse and relay."""
    name, switch, fuse, relay = row.cells
    return (
        (*name[0], *_joined(switch, OR)), (*_joined(fuse, AND), *(_joined(relay, AND, first=AND)))
    )


def _joined(cell: Cell, between: str, first: str = "") -> Line:
    bits: list[Bit] = []
    for line in cell:
        word = between if bits else first
        bits += [Bit(word, "second"), *line] if word else line
    return tuple(bits)


def one_line(row: Row, letters: Letters, room_mm: float) -> bool:
    """Whether all of a stacked row finds room in one line."""
    name, rest = flows(row)
    return count((*name, Bit(AND, "name"), *rest), letters, room_mm - 2.0 * CELL_MM) == 1


def _flows_mm(row: Row, letters: Letters, room_mm: float) -> float:
    if one_line(row, letters, room_mm):
        return letters.line("name")
    return sum(cell_mm((flow,), letters, room_mm - CELL_MM) for flow in flows(row))


def shape_of(content: Content, size: Size, letters: Letters) -> tuple[Table, int, float]:
    """(table without rows, how many side by side, width of each [mm]) that is lowest."""
    found = []
    for many in (1, 2) if size.room >= TWO_UP_MM else (1,):
        width = round((size.room - GAP_MM * (many - 1)) / many - 0.01, 2)
        high, shape = _lowest(content, width, letters)
        bands = sum(row_mm(r, shape, letters, width) for r in content.rows if r.band)
        # Two columns seldom end alike: half a row is lost.
        lost = 4.0 if many == 2 else 0.0
        found.append(((high + bands) / many + lost, many, width, shape))
    _, many, width, shape = min(found, key=lambda f: f[:3])
    return shape, many, width


def _lowest(content: Content, room_mm: float, letters: Letters) -> tuple[float, Table]:
    """Widths that make the rows lowest; four columns unless two lines a row are lower."""
    shares = [0.04 * n for n in range(3, 12)]
    fours = [
        (a, b, c, round(1.0 - a - b - c, 2)) for a, b, c in product(shares, repeat=3)
        if a >= 0.2 and 1.0 - a - b - c >= 0.1
    ]
    rows = [r for r in content.rows if not r.band]
    stacked = sum(_flows_mm(r, letters, room_mm) for r in rows)
    best = stacked, Table((), (room_mm,), True)
    columns = [_Column([r.cells[i] for r in rows], letters, room_mm) for i in range(4)]
    for choice in fours:
        high = [column.heights(share) for column, share in zip(columns, choice, strict=True)]
        total = sum(map(max, zip(*high, strict=True)))
        if total < best[0] - 0.01:
            best = total, Table((), _widths(choice, room_mm), False)
    return best[0] + ROW_MM * len(rows), best[1]


def _widths(choice: tuple[float, ...], room_mm: float) -> tuple[float, ...]:
    """[mm], cut to hundredths so that two beside each other never exceed their line."""
    return tuple(math.floor(100.0 * share * room_mm) / 100.0 for share in choice)


class _Column:
    """Heights of the cells of one column for each share of the width, computed once."""

    def __init__(self, cells: list[Cell], letters: Letters, room_mm: float) -> None:
        self.cells, self.letters, self.room = cells, letters, room_mm
        self.known: dict[float, list[float]] = {}

    def heights(self, share: float) -> list[float]:
        """[mm]"""
        share = round(share, 4)
        if share not in self.known:
            width = math.floor(100.0 * share * self.room) / 100.0 - CELL_MM
            self.known[share] = [cell_mm(c, self.letters, width) for c in self.cells]
        return self.known[share]
