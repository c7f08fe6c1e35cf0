"""Measured values from a filled-in test sheet: CSV or XLSX, every problem at once."""

from __future__ import annotations

import csv
import math
import re
from pathlib import Path

from circuitplan.errors import InputError, Problem
from circuitplan.model.readings import COLUMNS, EXPECTED, Reading

_NUMBER = re.compile(r"[+-]?([0-9]+(\.[0-9]*)?|\.[0-9]+)")
_UNITS = {"v": ("v", 1.0), "a": ("a", 1.0), "mv": ("v", 1e-3), "ma": ("a", 1e-3)}
MOST = 1000.0
SHEET = "test"
"""Where a workbook holds its readings; without a sheet of that name it is the first one."""


def read_readings(path: Path) -> tuple[Reading, ...]:
    """Every row that names a circuit; raises InputError with each cell that cannot be read.

    A number may carry its unit (V, mV, A, mA); bare, it is in the unit of its column.
    """
    found, problems = gathered(path)
    if problems:
        raise InputError(problems)
    return found


def gathered(path: Path) -> tuple[tuple[Reading, ...], list[Problem]]:
    """Every row that names a circuit, as far as it can be read, and each cell that cannot.

    Raises InputError where the file holds no table of readings at all.
    """
    rows = _rows(path)
    printed = {name.replace(" ", "_") for name in EXPECTED}
    head = [_fold(c).replace(" ", "_") for c in rows[0]] if rows else []
    if "circuit" not in head:
        raise InputError([Problem(
            str(path), "no column 'circuit'", ", ".join(COLUMNS),
            "print an empty sheet: circuitplan print PLAN --only test -o readings.csv",
        )])
    problems = [
        Problem(f"{path}, row 1, column {i + 1}", f"'{rows[0][i].strip()}'", ", ".join(COLUMNS),
                "name the column as in the printed sheet")
        for i, name in enumerate(head) if name and name not in COLUMNS and name not in printed
    ]
    found = []
    for number, cells in enumerate(rows[1:], start=2):
        row = dict(zip(head, (c.strip().lstrip("'") for c in cells), strict=False))
        if not any(row.values()):
            continue
        where = f"{path}, row {number}"
        if any(cell.strip() for cell in cells[len(head) :]):
            extra = f"{where}, column {len(head) + 1}"
            problems.append(Problem(extra, "more cells than the first row has",
                                    "3.6 for a number, with a decimal point", "mend the row"))
            found.append(Reading(row.get("circuit", ""), where=where))
            continue
        values = {
            name: _value(row.get(name, ""), name, f"{where}, column {name}", problems)
            for name in COLUMNS if name not in ("circuit", "note")
        }
        if not row.get("circuit"):
            if any(v is not None for v in values.values()):
                problems.append(Problem(f"{where}, column circuit", "values, but no circuit",
                                        "its number or name",
                                        "name the circuit in the first column"))
            continue
        found.append(Reading(row["circuit"], note=row.get("note", ""), where=where, **values))
    return tuple(found), problems


def _value(text: str, column: str, where: str, problems: list[Problem]) -> float | None:
    if not text:
        return None
    wanted = column[-1]  # v or a
    match = _NUMBER.match(text)
    unit = text[match.end() :].strip().casefold() if match else ""
    known, factor = _UNITS.get(unit or wanted, ("", 0.0))
    value = float(match.group()) * factor if match else math.nan
    signed_ok = column in ("load_v", "drop_plus_v", "drop_minus_v")
    if known != wanted or not abs(value) <= MOST or (value < 0.0 and not signed_ok):
        problems.append(Problem(
            where, f"'{text}'", "a number such as 3.6, with a decimal point",
            "write it without a comma, in V or A",
        ))
        return None
    return value if column == "load_v" else abs(value)  # below zero: the wires are swapped


def _rows(path: Path) -> list[list[str]]:
    try:
        if path.suffix.casefold() == ".xlsx":
            return _xlsx(path)
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError, ValueError, KeyError) as cause:
        raise InputError([Problem(str(path), f"cannot be read: {cause}", "a CSV or XLSX sheet",
                                  "save it as CSV in UTF-8")]) from cause
    first = text.split("\n", 1)[0]
    mark = max(",;\t", key=first.count)
    return list(csv.reader(text.splitlines(), delimiter=mark))


def _xlsx(path: Path) -> list[list[str]]:
    import zipfile

    import openpyxl

    try:
        book = openpyxl.load_workbook(path, read_only=True, data_only=True)
    except zipfile.BadZipFile as cause:
        raise ValueError("it is no XLSX file") from cause
    sheet = book[SHEET] if SHEET in book.sheetnames else book.worksheets[0]
    rows = sheet.iter_rows(values_only=True)
    return [["" if cell is None else str(cell) for cell in row] for row in rows]


def _fold(text: str) -> str:
    return " ".join(text.casefold().split())
