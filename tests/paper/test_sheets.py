"""The sheets as printed: everything is on them, inside the paper, and no text on another."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Callable
from itertools import combinations
from pathlib import Path

import pytest

from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.report.circuit_sheets.draw import WIDTH, draw
from circuitplan.report.circuit_sheets.pen import TextBox
from circuitplan.report.labels.view import own_size, stocks
from circuitplan.report.paper.bench import AS_CSV, WORDS, Wishes, csv_of, render
from circuitplan.report.pdf import write_pdf
from circuitplan.report.words import all_fuses, all_relays, all_runs

Worked = tuple[Plan, Result]
MM = 72.0 / 25.4
PAPER = pytest.mark.skipif(shutil.which("pdftotext") is None, reason="no poppler-utils")


def _apart(a: TextBox, b: TextBox) -> bool:
    return (
        a.x + a.w <= b.x or b.x + b.w <= a.x or a.y + a.h <= b.y + 0.05 or b.y + b.h <= a.y + 0.05
    )


def test_no_text_of_a_circuit_sheet_touches_another(worked: Worked) -> None:
    _, result = worked
    for circuit in result.circuits:
        if not circuit.accessories:
            continue
        drawn = draw(circuit, result)
        height = drawn.pen.canvas.height_mm
        for a, b in combinations(drawn.pen.boxes, 2):
            assert _apart(a, b), f"{circuit.label}: {a.text!r} on {b.text!r}"
        for box in drawn.pen.boxes:
            assert 0.0 <= box.x + 0.1 <= box.x + box.w <= WIDTH + 0.1, box
            assert 0.0 <= box.y + 0.1 <= box.y + box.h <= height, box


def test_each_circuit_sheet_names_all_its_parts(worked: Worked) -> None:
    _, result = worked
    for circuit in result.circuits:
        if not circuit.accessories:
            continue
        texts = {b.text for b in draw(circuit, result).pen.boxes}
        assert {r.id for r in circuit.runs} <= texts
        assert {f.id for f in circuit.fuses} <= texts
        assert {r.id for r in circuit.relays} <= texts
        direct = {s.id for s in result.switches if s.type == "direct"} & set(circuit.switches)
        assert direct <= texts
        if circuit.relays:
            assert {"30", "87", "86", "85"} <= texts


def _wanted(word: str, result: Result) -> list[str]:
    wires = [r.id for _, r in all_runs(result) if not r.unknown]
    fuses = [f.id for _, f in all_fuses(result)]
    things = [a.name for c in result.circuits for a in c.accessories]
    return {
        "labels": wires,
        "cuts": wires,
        "parts": [f"{f.rating_a:g} A" for _, f in all_fuses(result) if f.type != "output"],
        "drawings": [r.id for c in result.circuits for r in c.runs],
        "panels": [*fuses, *(r.id for _, r in all_relays(result))],
        "test": [*fuses, *(s.id for s in result.switches if s.works and not s.signal)],
        "faults": things,
    }[word]


@PAPER
@pytest.mark.slow
@pytest.mark.parametrize("word", WORDS)
@pytest.mark.parametrize("name", ["workboat", "outputs", "motors"])
def test_everything_is_on_paper(
    work_of: Callable[[str], Worked], word: str, name: str, tmp_path: Path
) -> None:
    plan, result = work_of(name)
    path = tmp_path / "sheet.pdf"
    write_pdf(render(word, plan, result, Wishes()), path)
    text = subprocess.run(
        ["pdftotext", "-raw", str(path), "-"], capture_output=True, text=True, check=True
    ).stdout
    plain = re.sub(r"[\s-]+", "", text)
    assert [w for w in _wanted(word, result) if re.sub(r"[\s-]+", "", w) not in plain] == []
    box = subprocess.run(
        ["pdftotext", "-bbox", str(path), "-"], capture_output=True, text=True, check=True
    ).stdout
    for page in box.split("<page ")[1:]:
        wide, high = map(float, re.findall(r'width="([\d.]+)" height="([\d.]+)"', page)[0])
        sides = r'xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.]+)" yMax="([\d.]+)"'
        words = re.findall(sides, page)
        for x0, y0, x1, y1 in (tuple(map(float, w)) for w in words):
            assert 5.0 * MM <= x0 <= x1 <= wide - 5.0 * MM
            assert 0.0 <= y0 <= y1 <= high


@PAPER
@pytest.mark.slow
def test_single_labels_are_pages_of_their_size(
    work_of: Callable[[str], Worked], tmp_path: Path
) -> None:
    plan, result = work_of("owner")
    path = tmp_path / "labels.pdf"
    wishes = Wishes(label=own_size(50.0, 12.0), single=True)
    write_pdf(render("labels", plan, result, wishes), path)
    info = subprocess.run(["pdfinfo", str(path)], capture_output=True, text=True, check=True).stdout
    wires = sum(r.pieces for _, r in all_runs(result) if not r.unknown)
    assert re.search(rf"Pages:\s+{2 * wires}\n", info)
    assert re.search(rf"Page size:\s+{50 * MM:.2f}\d* x {12 * MM:.1f}", info)


def test_self_contained_escaped_and_the_same_each_time(worked: Worked) -> None:
    plan, result = worked
    for word in WORDS:
        html = render(word, plan, result, Wishes(label=stocks()["sleeve"]))
        assert "<script" not in html
        assert 'src="http' not in html
        assert html == render(word, plan, result, Wishes(label=stocks()["sleeve"]))
        assert "take precedence" in html or word == "labels"
    for word in AS_CSV:
        assert csv_of(word, plan, result, Wishes()).count("\r\n") > 2


def test_each_circuit_is_told_in_words(worked: Worked) -> None:
    """Who cannot see the drawing is told every wire, fuse, relay and accessory on it."""
    _, result = worked
    for circuit in result.circuits:
        if not circuit.accessories:
            continue
        drawn = draw(circuit, result)
        words = re.findall(r'aria-label="([^"]*)"', drawn.svg)[0]
        names = [r.id for r in circuit.runs] + [f.id for f in circuit.fuses]
        names += [r.id for r in circuit.relays]
        assert [n for n in names if not re.search(rf"\b{re.escape(n)}\b", words)] == []
        assert all(a.name in words for a in circuit.accessories)
