"""``print``: files written whatever the verdict, never half, never over the plan."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest


def test_a_page_is_written_and_the_verdict_is_the_exit(run: Any, plan: Path) -> None:
    target = plan.with_name("summary.html")
    answer = run("print", plan, "-o", target)
    assert answer.code == 1
    assert answer.first.startswith("NOT OK: ")
    assert f"written: {target}" in answer.out
    assert "Compressor" in target.read_text("utf-8")
    assert sorted(p.name for p in plan.parent.iterdir()) == ["plan.yaml", "summary.html"]


def test_without_a_target_page_and_pdf_lie_beside_the_plan(run: Any, plan: Path) -> None:
    run("print", plan)
    assert plan.with_suffix(".html").read_text("utf-8").startswith("<!DOCTYPE html>")
    assert plan.with_suffix(".pdf").read_bytes().startswith(b"%PDF-")


def test_a_workbook(run: Any, plan: Path) -> None:
    target = plan.with_name("summary.xlsx")
    run("print", plan, "-o", target)
    assert target.read_bytes().startswith(b"PK")


def test_the_card_alone(run: Any, plan: Path) -> None:
    target = plan.with_name("card.html")
    assert run("print", plan, "--only", "card", "-o", target).code in (0, 1)
    assert "Fridge" in target.read_text("utf-8")


@pytest.mark.parametrize("part", ["poetry", "lables"])
def test_a_part_that_is_not_there_says_so(run: Any, plan: Path, part: str) -> None:
    answer = run("print", plan, "--only", part)
    assert answer.code == 2
    assert part in answer.first
    assert [p.name for p in plan.parent.iterdir()] == ["plan.yaml"]


@pytest.mark.parametrize("name", ["out.doc", "nowhere/out.html", "out"])
def test_a_target_that_cannot_be(run: Any, plan: Path, name: str) -> None:
    answer = run("print", plan, "-o", plan.parent / name)
    assert answer.code == 2
    assert [p.name for p in plan.parent.iterdir()] == ["plan.yaml"]


def test_the_plan_itself_is_never_written_over(run: Any, tmp_path: Path) -> None:
    from openpyxl import Workbook

    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["name", "kind", "length m"])
    sheet.append(["Box", "fridge", 2])
    path = tmp_path / "list.xlsx"
    book.save(path)
    before = path.read_bytes()
    answer = run("print", path, "-o", path)
    assert answer.code == 2
    assert path.read_bytes() == before


def test_a_failure_leaves_the_old_file(
    run: Any, plan: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = plan.with_name("summary.pdf")
    target.write_bytes(b"old")

    def fail(html: str, path: Path, enclosed: object = ()) -> None:
        path.write_bytes(b"half")
        raise OSError("disk full")

    monkeypatch.setattr("circuitplan.report.pdf.write_pdf", fail)
    answer = run("print", plan, "-o", target)
    assert answer.code == 2
    assert "disk full" in answer.out
    assert target.read_bytes() == b"old"


def test_without_pango_the_page_is_still_written(
    run: Any, plan: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from circuitplan.errors import MissingSystemLibraryError

    def fail(html: str, path: Path, enclosed: object = ()) -> None:
        raise MissingSystemLibraryError("install libpango-1.0-0")

    monkeypatch.setattr("circuitplan.report.pdf.write_pdf", fail)
    answer = run("print", plan)
    assert answer.code == 1
    assert "install libpango-1.0-0" in " ".join(answer.out.split())
    assert plan.with_suffix(".html").exists()
    assert not plan.with_suffix(".pdf").exists()
    assert run("print", plan, "-o", plan.with_suffix(".pdf")).code == 2
