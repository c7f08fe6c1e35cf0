"""The user's price list: a CSV or XLSX sheet, matched by the words of the parts list."""

from __future__ import annotations

import csv
import math
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from circuitplan.errors import InputError, Problem

HEADS = ("what", "size", "colour", "per", "price", "currency", "minutes")
"""``per``: pc or m. Blank cells of what, size and colour fit anything; minutes are of labour."""


class Priceable(Protocol):
    """What is bought, as a line of the parts list words it; ``size_2`` is the other gauge."""

    @property
    def what(self) -> str: ...
    @property
    def size(self) -> str: ...
    @property
    def size_2(self) -> str: ...
    @property
    def colour(self) -> str: ...
    @property
    def unit(self) -> str: ...


@dataclass(frozen=True, slots=True)
class Price:
    """One row of the list; blank cells fit anything."""

    what: str
    size: str
    colour: str
    per: str
    price: float
    currency: str
    minutes: float

    def fits(self, line: Priceable) -> bool:
        """Whether the row means this line."""
        sizes = {_fold(line.size), _fold(line.size_2)}
        return (
            _fold(self.what) in _fold(line.what)
            and self.per == line.unit
            and (not self.size or _fold(self.size) in sizes)
            and (not self.colour or _fold(self.colour) == _fold(line.colour))
        )

    @property
    def closeness(self) -> tuple[int, int]:
        """More cells filled in is closer; then the longer words."""
        return sum(map(bool, (self.what, self.size, self.colour))), len(self.what)


def read_prices(path: Path) -> tuple[Price, ...]:
    """Read a price list; raises InputError with every row that cannot be used."""
    rows = _xlsx(path) if path.suffix.casefold() == ".xlsx" else _csv(path)
    if not rows:
        raise InputError([Problem(str(path), "the sheet is empty", ", ".join(HEADS), "")])
    head = [_fold(cell) for cell in rows[0]]
    missing = [h for h in ("what", "price") if h not in head]
    if missing:
        raise InputError([Problem(str(path), f"no column '{missing[0]}'", ", ".join(HEADS),
                                  "name the columns in the first row")])
    problems: list[Problem] = []
    found = []
    for number, cells in enumerate(rows[1:], start=2):
        row = dict(zip(head, (c.strip() for c in cells), strict=False))
        if not any(row.values()):
            continue
        if any(cell.strip() for cell in cells[len(head) :]):
            problems.append(Problem(str(path), f"row {number} has more cells than the first row",
                                    "2.5 for a number, with a decimal point", "mend the row"))
            continue
        price, minutes = _number(row.get("price", "")), _number(row.get("minutes", "") or "0")
        per = _fold(row.get("per", "") or "pc")
        if price is None or minutes is None or per not in ("pc", "m"):
            bad = row.get("price" if price is None else "minutes" if minutes is None else "per", "")
            problems.append(Problem(str(path), f"row {number}: '{bad}'",
                                    "a number such as 2.40; per: pc or m", "mend the cell"))
            continue
        found.append(Price(row.get("what", ""), row.get("size", ""), row.get("colour", ""), per,
                           price, row.get("currency", ""), minutes))
    if problems:
        raise InputError(problems)
    return tuple(found)


def closest(line: Priceable, prices: Iterable[Price]) -> Price | None:
    """The price that fits a line most closely; None where none fits."""
    return max((p for p in prices if p.fits(line)), key=lambda p: p.closeness, default=None)


def _fold(text: str) -> str:
    return " ".join(text.casefold().replace("mm2", "mm²").split())


def _number(text: str) -> float | None:
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) and value >= 0.0 else None


def _csv(path: Path) -> list[list[str]]:
    try:
        with path.open(encoding="utf-8-sig", newline="") as stream:
            return list(csv.reader(stream))
    except (OSError, UnicodeDecodeError) as cause:
        raise InputError([Problem(str(path), f"cannot be read: {cause}", "a CSV or XLSX sheet",
                                  "save it as CSV in UTF-8")]) from cause


def _xlsx(path: Path) -> list[list[str]]:
    import openpyxl

    try:
        book = openpyxl.load_workbook(path, read_only=True, data_only=True)
    except (OSError, ValueError, KeyError) as cause:
        raise InputError([Problem(str(path), f"cannot be read: {cause}", "a CSV or XLSX sheet",
                                  "save it again")]) from cause
    rows = book.worksheets[0].iter_rows(values_only=True)
    return [["" if cell is None else str(cell) for cell in row] for row in rows]
