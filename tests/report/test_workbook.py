"""The workbook: a sheet a list, every thing in it, nothing that acts."""

from __future__ import annotations

import dataclasses
from pathlib import Path
from types import ModuleType

import pytest

from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.report.spreadsheet import write_sheets
from circuitplan.report.words import all_fuses, all_runs
from circuitplan.report.workbook import sheets


def write_xlsx(plan: Plan, result: Result, path: Path) -> None:
    write_sheets(plan, sheets(result), path, result.answer == "ok")


@pytest.fixture(scope="module")
def path(sample: ModuleType, tmp_path_factory: pytest.TempPathFactory) -> Path:
    target = tmp_path_factory.mktemp("book") / "a.xlsx"
    write_xlsx(sample.big_plan(), sample.big_result(), target)
    return target


def test_sheets_hold_everything(path: Path, sample: ModuleType) -> None:
    from openpyxl import load_workbook

    book = load_workbook(path)
    result = sample.big_result()
    assert book.sheetnames == [
        "circuits", "wires", "fuses", "relays", "switches", "findings", "assumptions",
    ]  # fmt: skip
    first = {
        n: [r[0] for r in book[n].iter_rows(min_row=2, values_only=True)] for n in book.sheetnames
    }
    assert first["circuits"] == [c.number for c in result.circuits]
    assert first["wires"] == [r.id for _, r in all_runs(result)]
    assert first["fuses"] == [f.id for _, f in all_fuses(result)]
    assert first["switches"] == [s.id for s in result.switches]
    assert len(first["findings"]) == len(result.findings)
    assert book["circuits"]["G2"].value == result.circuits[0].current_a


def test_heads_and_rows_agree(sample: ModuleType) -> None:
    for name, heads, rows in sheets(sample.big_result()):
        assert all(len(row) == len(heads) for row in rows), name


def test_a_name_cannot_be_a_formula(sample: ModuleType, tmp_path: Path) -> None:
    from openpyxl import load_workbook

    result = sample.small_result()
    circuit = dataclasses.replace(result.circuits[0], label='=HYPERLINK("x")')
    target = tmp_path / "b.xlsx"
    write_xlsx(sample.small_plan(), dataclasses.replace(result, circuits=(circuit,)), target)
    cell = load_workbook(target)["circuits"]["B2"]
    assert (cell.value, cell.data_type) == ('=HYPERLINK("x")', "s")


def test_same_result_same_bytes(path: Path, sample: ModuleType, tmp_path: Path) -> None:
    again = tmp_path / "again.xlsx"
    write_xlsx(sample.big_plan(), sample.big_result(), again)
    assert again.read_bytes() == path.read_bytes()
