"""A workbook to the tree: one sheet of accessories, or a sheet for each section."""

from __future__ import annotations

import io
import warnings
import zipfile
from datetime import date, datetime
from typing import Any, NoReturn

from circuitplan.errors import InputError, Problem
from circuitplan.planfile import fields, list_switches, sheets
from circuitplan.planfile.heads import Cell, Head, find_head
from circuitplan.planfile.key_forms import Section
from circuitplan.planfile.tree import Node, Spot, Troubles, listed, nearest

LARGEST_UNPACKED = 40_000_000
MOST_COLUMNS = 120

_PAIRS = {"plan": fields.TOP, "supply": fields.SUPPLY, "job": fields.JOB, "wire": fields.WIRE}
"""Sheets of two columns: key and value."""
_IN_SUPPLY = {fields.BATTERIES: fields.BATTERY, fields.CHARGERS: fields.CHARGER}


def tree(data: bytes, file: str, troubles: Troubles) -> Node:
    """The tree of a workbook; what cannot be opened raises ``InputError``."""
    start = Spot(file)
    top: list[tuple[Node, Node]] = []
    supply: list[tuple[Node, Node]] = []
    found = [(sheet, _rows(sheet, file, troubles)) for sheet in _open(data, file).worksheets]
    filled = [(sheet, rows) for sheet, rows in found if any(cell.text for r in rows for cell in r)]
    names = {_section_name(sheet.title, alone=len(filled) == 1) for sheet, _ in filled}
    for sheet, rows in filled:
        spot = Spot(file, sheet=sheet.title)
        name = _section_name(sheet.title, alone=len(filled) == 1)
        if sheet.sheet_state != "visible":
            troubles.add(spot, "a hidden sheet with cells filled in", "sheets that can be seen",
                         "show it, or delete it")  # fmt: skip
        if name in _PAIRS:
            node = _pairs(rows, _PAIRS[name], spot, troubles)
            if name == "plan":
                top += node.entries or ()
            elif name == "supply":
                supply += node.entries or ()
            else:
                top.append((Node(spot, text=name), node))
        elif name in _IN_SUPPLY:
            node = sheets.table(rows, _IN_SUPPLY[name], spot, troubles, named=True)
            supply.append((Node(spot, text=name), node))
        elif name in fields.NAMED:
            node = sheets.table(rows, fields.NAMED[name], spot, troubles, named=True)
            top.append((Node(spot, text=name), node))
        elif name in fields.LISTS:
            node = sheets.table(rows, fields.LISTS[name], spot, troubles)
            if name == "accessories" and "switches" not in names:
                node, switches = list_switches.split(node, troubles)
                top += [(Node(spot, text="switches"), switches)] if switches else []
            top.append((Node(spot, text=name), node))
        else:
            _unknown_sheet(sheet.title, spot, troubles)
    if supply:
        top.append((Node(start, text="supply"), Node(start, entries=tuple(supply))))
    if not filled:
        troubles.add(start, "an empty workbook", "a sheet 'accessories'", "fill in the list")
    return Node(start, entries=tuple(top))


def _section_name(title: str, alone: bool) -> str:
    name = "_".join(title.strip().lower().split())
    known = {*_PAIRS, *_IN_SUPPLY, *fields.NAMED, *fields.LISTS}
    return "accessories" if alone and name not in known else name


def _unknown_sheet(title: str, spot: Spot, troubles: Troubles) -> None:
    known = (*fields.LISTS, *fields.NAMED, *_PAIRS, *_IN_SUPPLY)
    near = nearest(title, known)
    troubles.add(
        spot, f"the unknown sheet '{title}'", listed(known, 20),
        f"did you mean {near}?" if near else "rename it, or delete it",
    )  # fmt: skip


def _open(data: bytes, file: str) -> Any:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            unpacked = sum(part.file_size for part in packed.infolist())
    except (zipfile.BadZipFile, ValueError, OSError):
        _stop(file, "a file that is no workbook, or one with a password",
              "save it as .xlsx without a password, or as .csv")  # fmt: skip
    if unpacked > LARGEST_UNPACKED:
        _stop(file, f"a workbook of {unpacked / 1e6:.0f} MB unpacked",
              "copy the list into a new workbook")  # fmt: skip
    import openpyxl

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # openpyxl warns of decorations that it drops
            return openpyxl.load_workbook(io.BytesIO(data))
    except Exception as error:  # a damaged workbook raises whatever its damage leads to
        _stop(file, f"a workbook that cannot be read: {type(error).__name__}",
              "open it in a spreadsheet and save it again")  # fmt: skip


def _stop(file: str, found: str, remedy: str) -> NoReturn:
    allowed = f"an .xlsx workbook of at most {LARGEST_UNPACKED / 1e6:.0f} MB unpacked"
    raise InputError([Problem(file, found, allowed, remedy, file)])


def _rows(sheet: Any, file: str, troubles: Troubles) -> list[list[Cell]]:
    here = Spot(file, sheet=sheet.title)
    if sheet.max_row > sheets.MOST_ROWS or sheet.max_column > MOST_COLUMNS:
        troubles.add(
            here, f"{sheet.max_row} rows and {sheet.max_column} columns",
            f"at most {sheets.MOST_ROWS} rows and {MOST_COLUMNS} columns",
            "delete the rows and columns beyond the list, even if they look empty",
        )  # fmt: skip
        return []
    for merged in sheet.merged_cells.ranges:
        first = merged.coord.split(":")[0]
        troubles.add(
            Spot(file, merged.min_row, sheet.title, first), f"merged cells {merged.coord}",
            "one value in each cell", "unmerge them, and fill in each cell",
        )  # fmt: skip
    rows = []
    for number, row in enumerate(sheet.iter_rows(), start=1):
        cells = [
            Cell(_text(cell), Spot(file, number, sheet.title, cell.coordinate)) for cell in row
        ]
        rows.append(cells)
        if sheet.row_dimensions[number].hidden and any(cell.text for cell in cells):
            troubles.add(
                Spot(file, number, sheet.title, f"A{number}"), f"the hidden row {number}",
                "rows that can be seen", "show the row, or delete it",
            )  # fmt: skip
    for letter, column in sheet.column_dimensions.items():
        index = (column.min or 1) - 1
        if column.hidden and any(len(row) > index and row[index].text for row in rows):
            troubles.add(
                Spot(file, 1, sheet.title, f"{letter}1"), f"the hidden column {letter}",
                "columns that can be seen", "show the column, or delete it",
            )  # fmt: skip
    return rows


def _text(cell: Any) -> str:
    """A cell's value as people see it."""
    value = cell.value
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        percent = "%" in str(cell.number_format)
        number = f"{value * 100:.12g}" if percent else f"{value:.12g}"
        return f"{number} %" if percent else number
    if isinstance(value, datetime):
        return value.date().isoformat()
    if isinstance(value, date):
        return value.isoformat()
    if cell.data_type == "f" or not isinstance(value, str):
        text = str(getattr(value, "text", value)).strip()
        return text if text.startswith("=") else f"={text}"
    return value.strip()


def _pairs(rows: list[list[Cell]], section: Section, spot: Spot, troubles: Troubles) -> Node:
    """A sheet of keys and values: ``battery capacity`` beside ``95 Ah``."""
    pairs: list[tuple[Head, Cell]] = []
    for number, row in enumerate(rows):
        filled = [cell for cell in row if cell.text]
        if not filled or (number == 0 and row[0].text.lower() == "key"):
            continue
        head = find_head(row[0].text, section)
        if len(filled) != 2 or not row[0].text or not row[1].text:
            troubles.add(filled[0].spot, f"a row with {len(filled)} cells filled in",
                         "a key in column A and its value in column B",
                         "put each key with its value into a row of its own")  # fmt: skip
        elif head is None:
            near = nearest(row[0].text.lower(), [field.key for field in section.fields])
            troubles.add(
                row[0].spot, f"the unknown key '{row[0].text[:40]}'",
                listed((field.key for field in section.fields), 60),
                f"did you mean {near}?" if near else "use one of these keys",
            )  # fmt: skip
        else:
            pairs.append((head, row[1]))
    return sheets.group(pairs, section, spot, troubles)
