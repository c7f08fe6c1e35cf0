"""The result as a workbook: a sheet a list, numbers as numbers, units in the heads."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.planner.holding import failing, unheld_parts
from circuitplan.report.words import all_fuses, all_relays, all_runs, circuit_name

Value = str | float | int | bool | None
Sheet = tuple[str, tuple[str, ...], list[tuple[Value, ...]]]
_FIXED_TIME = (1980, 1, 1, 0, 0, 0)  # the oldest a zip can hold: same result, same bytes


def sheets(result: Result) -> Iterator[Sheet]:
    """(name, heads, rows) of each sheet; values as computed, unrounded.

    "holds" is no where a finding fails the circuit or feeder: see the sheet of findings.
    """
    bad, unheld = failing(result), unheld_parts(result)
    yield "circuits", _heads(
        "number, label, panel, source, switches, live, current A, peak A, wire sizes, fuses, "
        "relays, accessory, drop V, drop %, drop limit %, volts at accessory V, fault A, clears s, "
        "holds"
    ), [
        (
            c.number, c.label, c.panel, c.source, _join(c.switches), c.live, c.current_a, c.peak_a,
            _join(dict.fromkeys(r.size for r in c.runs if r.role == "feed")),
            _join(f.id for f in c.fuses) or c.fuse_reason, _join(r.id for r in c.relays),
            _join(a.name for a in c.accessories),
            c.drop.total_v if c.drop else None, c.drop.percent if c.drop else None,
            c.drop.limit_percent if c.drop else None, c.drop.accessory_v if c.drop else None,
            c.fault.current_a if c.fault else None, c.fault.clears_s if c.fault else None,
            c.id not in bad,
        )
        for c in result.circuits
    ]  # fmt: skip
    yield "wires", _heads(
        "wire, belongs to, role, from, to, colour, size, area mm², pieces, material, insulation, "
        "length m, current A, may carry A, source, loading, conductor °C, ambient °C, "
        "ambient assumed, bundle factor, ruled by, given, size unknown, fuse, next size down, holds"
    ), [
        (
            r.id, owner, r.role, r.from_, r.to, r.colour, r.size, r.area_mm2, r.pieces, r.material,
            r.insulation, r.length_m, r.current_a, r.ampacity_a, r.ampacity_source, r.loading,
            r.conductor_c, r.ambient_c, r.ambient_assumed, r.bundle_factor, r.limited_by, r.given,
            r.unknown, r.protected_by, r.next_smaller, r.id not in unheld,
        )
        for owner, r in all_runs(result)
    ]  # fmt: skip
    yield "fuses", _heads(
        "fuse, belongs to, protects, rating A, type, colour, position, ambient °C, least A, "
        "most A, breaks A, may see A, limited by, given, why, holds"
    ), [
        (
            f.id, owner, f.protects, f.rating_a, f.type, f.colour, f.position, f.ambient_c, f.min_a,
            f.max_a, f.breaking_capacity_a, f.prospective_a, f.limited_by, f.given, f.why,
            f.id not in unheld,
        )
        for owner, f in all_fuses(result)
    ]  # fmt: skip
    yield "relays", _heads(
        "relay, circuit, type, contact A, needs A, coil A, cold coil A, pulls in hot V, "
        "coil gets V, terminals, position, worked by"
    ), [
        (
            r.id, circuit_name(c), r.type, r.contact_a, r.needed_a, r.coil_a, r.cold_coil_a,
            r.pick_up_hot_v, r.coil_low_v, r.terminals, r.position, _join(r.switches),
        )
        for c, r in all_relays(result)
    ]  # fmt: skip
    yield "switches", _heads(
        "switch, label, type, works, signal, current A, needs A, rated A, usable A, spare A, "
        "live, place"
    ), [
        (
            s.id, s.label, s.type, _join(s.works), s.signal, s.current_a, s.needed_a, s.rating_a,
            s.usable_a, s.spare_a, s.live, s.place,
        )
        for s in result.switches
    ]  # fmt: skip
    yield "findings", _heads(
        "rule, signal word, fails, subject, found, limit, unit, message, remedy, change, source, "
        "accepted by"
    ), [
        (
            f.rule, f.signal_word, f.fails, f.subject, f.found, f.limit, f.unit, f.message,
            f.remedy, f.change, f.source, f.accepted_by,
        )
        for f in result.findings
    ]  # fmt: skip
    yield (
        "assumptions",
        _heads("subject, what, value, status, source, decides"),
        [
            (a.subject, a.what, a.value, a.status, a.source, _join(a.decides))
            for a in result.assumptions
        ],
    )
    yield (
        "parts",
        _heads("what, size, colour, quantity, length m"),
        [(p.what, p.size, p.colour, p.quantity, p.length_m) for p in result.parts],
    )


def write_xlsx(plan: Plan, result: Result, path: Path) -> None:
    """Write the result's sheets to ``path``."""
    write_sheets(plan, sheets(result), path)


def write_sheets(plan: Plan, sheets: Iterable[Sheet], path: Path) -> None:
    """Write sheets to ``path``; text stays text, so a name can never act as a formula."""
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
        sheet.page_setup.fitToHeight = 0
        sheet.sheet_properties.pageSetUpPr.fitToPage = True
        for column, head in enumerate(heads, 1):
            cell = sheet.cell(1, column, head)
            cell.font = Font(bold=True)
            cell.alignment = Alignment(wrap_text=True, vertical="top")
            longest = max((len(str(r[column - 1] or "")) for r in rows), default=0)
            sheet.column_dimensions[cell.column_letter].width = min(46, max(9, longest + 2))
        for number, row in enumerate(rows, 2):
            for column, value in enumerate(row, 1):
                _write(sheet.cell(number, column), value)
        if rows:
            sheet.auto_filter.ref = sheet.dimensions
    raw = io.BytesIO()
    book.save(raw)
    path.write_bytes(_timeless(raw.getvalue()))


def _write(cell: Any, value: Value) -> None:
    from openpyxl.styles import Alignment

    if isinstance(value, bool):
        value = "yes" if value else "no"
    cell.value = value
    if isinstance(value, str):
        cell.data_type = "s"  # otherwise "=..." would become a formula
        cell.alignment = Alignment(wrap_text=len(value) > 44, vertical="top")
    elif isinstance(value, float):
        cell.number_format = "0.###"
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


def _heads(text: str) -> tuple[str, ...]:
    return tuple(text.split(", "))


def _join(values: Iterable[str]) -> str:
    return ", ".join(values)
