"""A workbook of sheets with heads: frozen and repeated on paper, as wide as the page."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from circuitplan.design.bench.pieces import both_gauges
from circuitplan.model.plan import Plan
from circuitplan.model.result import Run
from circuitplan.report.words import heading, identity, revision

Value = str | float | int | bool | None
Sheet = tuple[str, tuple[str, ...], list[tuple[Value, ...]]]
_FIXED_TIME = (1980, 1, 1, 0, 0, 0)  # the oldest a zip can hold: same result, same bytes
LEAST_WIDE, MOST_WIDE = 9, 46
"""Widths of a column [characters]."""
A4, A3 = 9, 8
"""Paper as the format numbers it (ECMA-376 part 1, 18.3.1.63; from memory)."""
A4_HOLDS = 250
"""Characters across A4 landscape, about 6.5 point (judgement); wider goes on A3."""

WARNING = "Does not hold yet: do not build from this, see findings"


def both_sizes(run: Run) -> tuple[float | None, str | None]:
    """(mm², AWG) of a wire, the size as planned and the other gauge's: see ``both_gauges``."""
    metric, awg = both_gauges(run)
    return mm2(metric), None if awg == "—" else awg


def mm2(label: str) -> float | None:
    """"2.5 mm²" as the number; anything else as None."""
    return float(label.removesuffix(" mm²")) if label.endswith(" mm²") else None


def write_sheets(plan: Plan, sheets: Iterable[Sheet], path: Path, holds: bool = True) -> None:
    """Write sheets to ``path``; text stays text, so a name can never act as a formula.

    ``holds``: whether the plan is OK; if not, the head of every page says so.
    """
    from openpyxl import Workbook
    from openpyxl.styles import Alignment, Font

    book = Workbook()
    book.remove(book.active)
    book.properties.title = plan.title or plan.file
    book.properties.creator = plan.job.by or ""
    for name, heads, rows in sheets:
        sheet = book.create_sheet(name)
        sheet.freeze_panes = "B2"
        sheet.print_title_rows = "1:1"
        sheet.page_setup.orientation = "landscape"
        sheet.page_setup.fitToWidth = 1
        sheet.page_setup.fitToHeight = 0
        sheet.sheet_properties.pageSetUpPr.fitToPage = True
        sheet.print_options.gridLines = True  # boxes to write in
        _running_lines(sheet, plan, name, holds)
        wide = 0
        for column, head in enumerate(heads, 1):
            cell = sheet.cell(1, column, head)
            cell.font = Font(bold=True)
            cell.alignment = Alignment(wrap_text=True, vertical="top")
            width = _width(head, [r[column - 1] for r in rows])
            sheet.column_dimensions[cell.column_letter].width = width
            wide += width
        sheet.page_setup.paperSize = A4 if wide <= A4_HOLDS else A3
        for number, row in enumerate(rows, 2):
            for column, value in enumerate(row, 1):
                _write(sheet.cell(number, column), value)
        if rows:
            sheet.auto_filter.ref = sheet.dimensions
    raw = io.BytesIO()
    book.save(raw)
    path.write_bytes(_timeless(raw.getvalue()))


def _width(head: str, values: list[Value]) -> int:
    """Wide enough for the longest value as shown and the longest word of the head."""
    shown = [f"{v:.6g}" if isinstance(v, float) else str(v) for v in values if v is not None]
    longest = max(map(len, [*shown, *head.split()]), default=0)
    return min(MOST_WIDE, max(LEAST_WIDE, longest + 2))


def _running_lines(sheet: Any, plan: Plan, name: str, holds: bool) -> None:
    """Head and foot of each page, 255 characters at most as the format has it (from memory).

    "&" is a code there, so a name's own is doubled.
    """
    def plain(words: str) -> str:
        return words[:90].replace("&", "&&")

    sheet.oddHeader.left.text = plain(f"{heading(plan)} · {revision(plan)}")
    sheet.oddHeader.right.text = plain(name)
    if not holds:
        sheet.oddHeader.center.text = WARNING
    sheet.oddFooter.left.text = plain(identity(plan))
    sheet.oddFooter.right.text = "sheet &P of &N"


def _write(cell: Any, value: Value) -> None:
    from openpyxl.styles import Alignment

    if isinstance(value, bool):
        value = "yes" if value else "no"
    cell.value = value
    if isinstance(value, str):
        cell.data_type = "s"  # otherwise "=..." would become a formula
        cell.alignment = Alignment(wrap_text=len(value) > 44, vertical="top")
    elif isinstance(value, float):
        cell.number_format = "0.0##"
        cell.alignment = Alignment(vertical="top")


def _timeless(data: bytes) -> bytes:
    """The same zip without the clock: member times and the two time stamps inside."""
    import re

    target = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as source, zipfile.ZipFile(target, "w") as out:
        for name in source.namelist():
            content = source.read(name)
            if name == "docProps/core.xml":
                content = re.sub(
                    rb"(<dcterms:(?:created|modified)[^>]*>)[^<]*", rb"\g<1>1980-01-01T00:00:00Z",
                    content,
                )  # fmt: skip
            out.writestr(zipfile.ZipInfo(name, _FIXED_TIME), content, zipfile.ZIP_DEFLATED)
    return target.getvalue()


