"""The wiring summary as PDF, read back with an independent reader (poppler)."""

from __future__ import annotations

import builtins
import dataclasses
import re
import shutil
import subprocess
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from circuitplan.errors import CircuitplanError, MissingSystemLibraryError
from circuitplan.report.html import render_html
from circuitplan.report.pdf import write_pdf
from circuitplan.report.words import all_fuses, all_runs

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler-utils not installed"),
]
MM = 72.0 / 25.4


@pytest.fixture(scope="module")
def result(sample: ModuleType) -> Any:
    """A quarter of the big result: enough of every section, quick to lay out."""
    big = sample.big_result()
    return dataclasses.replace(big, circuits=big.circuits[:5], panels=big.panels[:2])


@pytest.fixture(scope="module")
def pdf(sample: ModuleType, result: Any, tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("pdf") / "summary.pdf"
    write_pdf(render_html(sample.big_plan(), result), path)
    return path


def read(tool: str, *args: str) -> str:
    return subprocess.run([tool, *args], capture_output=True, text=True, check=True).stdout


def test_everything_is_on_paper(pdf: Path, result: Any) -> None:
    text = re.sub(r"\s+", "", read("pdftotext", "-layout", str(pdf), "-"))
    raw = re.sub(r"\s+", "", read("pdftotext", "-raw", str(pdf), "-"))
    wanted = [c.label for c in result.circuits] + [s.id for s in result.switches]
    wanted += [f.id for _, f in all_fuses(result)] + [r.id for _, r in all_runs(result)]
    missing = [w for w in wanted if (s := w.replace(" ", "")) not in text and s not in raw]
    assert missing == []


def test_every_word_lies_on_a4_and_letter(pdf: Path) -> None:
    """180 x 259 mm is what A4 (ISO 216) and Letter (ANSI Y14.1 A) share beside the margins."""
    box = read("pdftotext", "-bbox", str(pdf), "-")
    words = re.findall(r'xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)"', box)
    assert len(words) > 500
    for x0, y0, x1, y1 in (tuple(map(float, w)) for w in words):
        assert 20.0 * MM - 0.5 <= x0 <= x1 <= 200.0 * MM + 0.5
        assert 19.0 * MM <= y0 <= y1 <= 278.0 * MM


def test_running_lines(pdf: Path) -> None:
    pages = read("pdftotext", "-layout", str(pdf), "-").split("\f")[:-1]
    for number, page in enumerate(pages, 1):
        assert f"sheet {number} of {len(pages)}" in page
        assert "Quarry rescue pickup" in page
        assert "Revision B" in page


def test_tagged_titled_and_own_fonts_only(pdf: Path) -> None:
    info = read("pdfinfo", str(pdf))
    assert re.search(r"Tagged:\s+yes", info)
    assert re.search(r"Title:\s+Quarry rescue pickup", info)
    fonts = read("pdffonts", str(pdf)).splitlines()[2:]
    assert fonts
    assert all("plan-sans" in line and " yes yes " in line for line in fonts)


def test_same_html_same_bytes(sample: ModuleType, tmp_path: Path) -> None:
    html = render_html(sample.small_plan(), sample.small_result())
    paths = (tmp_path / "a.pdf", tmp_path / "b.pdf")
    for path in paths:
        write_pdf(html, path)
    assert paths[0].read_bytes() == paths[1].read_bytes()


def test_a_reference_to_the_outside_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CircuitplanError, match=r"outside\.png"):
        write_pdf('<img alt="x" src="file:///outside.png">', tmp_path / "x.pdf")


def test_missing_pango_is_said_in_words(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    real = builtins.__import__

    def fail(name: str, *args: Any, **kwargs: Any) -> Any:
        if name.startswith("weasyprint"):
            raise OSError("cannot load library 'libpango-1.0-0'")
        return real(name, *args, **kwargs)

    monkeypatch.setattr(builtins, "__import__", fail)
    with pytest.raises(MissingSystemLibraryError, match="apt install libpango"):
        write_pdf("<p>x</p>", tmp_path / "x.pdf")
