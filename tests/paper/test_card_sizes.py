"""The card in every size: letters large enough, everything on it, its code readable."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Callable, Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from circuitplan.cli import main
from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.report.card import SIZES, card_view, render_card
from circuitplan.report.card_content import content_of
from circuitplan.report.card_essentials import LEAST_MODULE_MM, code, code_text
from circuitplan.report.card_parts import Size
from circuitplan.report.fonts import CAP_HEIGHT_EM
from circuitplan.report.pdf import write_pdf

EXAMPLES = Path(__file__).parents[2] / "examples"
Worked = tuple[Plan, Result]
PX_PER_MM = 96.0 / 25.4


def _texts(box: Any) -> Iterator[Any]:
    if getattr(box, "text", "").strip():
        yield box
    for child in getattr(box, "children", ()):
        yield from _texts(child)


@pytest.mark.slow
@pytest.mark.parametrize("size", [*SIZES.values(), Size(120.0, 90.0)])
def test_no_letter_under_2_5_mm_and_none_off_the_face(
    work_of: Callable[[str], Worked], size: Size
) -> None:
    """Capitals of 2.5 mm at least, as restated from MIL-STD-1472; the page is the size asked."""
    from weasyprint import HTML

    plan, result = work_of("rescue-pickup")
    seen = ""
    for page in HTML(string=render_card(plan, result, size)).render().pages:
        assert page.width == pytest.approx(size.width * PX_PER_MM, abs=0.5)
        assert page.height == pytest.approx(size.height * PX_PER_MM, abs=0.5)
        for box in _texts(page._page_box):
            assert box.style["font_size"] / PX_PER_MM * CAP_HEIGHT_EM >= 2.5
            assert box.position_x >= 0.0
            assert box.position_x + box.width <= page.width + 0.5
            assert box.position_y + box.height <= page.height + 0.5
            seen += box.text
    plain = re.sub(r"\s+", "", seen)
    for line in card_view(plan, result).lines:
        for word in (line.name, *(s for s, _ in line.switches), *(f[0] for f in line.fuses)):
            assert re.sub(r"\s+", "", word) in plain


@pytest.mark.slow
@pytest.mark.parametrize("words", ["A6", "A5", "100x150mm", "4x6in", "120 x 90 mm"])
@pytest.mark.parametrize("fold", [False, True])
def test_letters_of_the_finished_pdf(tmp_path: Path, words: str, fold: bool) -> None:
    """Read back by another program: every letter's size from the text matrices of the file.

    No capital under 2.5 mm (MIL-STD-1472, second-hand); the names of the dead things 4.1 mm at
    least, 20 minutes of arc at 70 cm (ISO 9241-303, second-hand).
    """
    pypdf = pytest.importorskip("pypdf")
    plan, target = EXAMPLES / "workboat.yaml", tmp_path / "card.pdf"
    more = ["--fold", "--cut-marks"] if fold else []
    main(["print", str(plan), "--only", "card", "--card-size", words, *more, "-o", str(target)])
    capitals_mm: dict[str, float] = {}

    def seen(text: str, cm: Any, tm: Any, _: Any, size: float) -> None:
        if text.strip():
            up = size * abs(cm[3] * tm[3])
            mm = up * 25.4 / 72.0 * CAP_HEIGHT_EM
            capitals_mm[text.strip()] = min(mm, capitals_mm.get(text.strip(), mm))

    for page in pypdf.PdfReader(target).pages:
        page.extract_text(visitor_text=seen)
    assert len(capitals_mm) > 30
    assert min(capitals_mm.values()) >= 2.5 - 1e-3, min(capitals_mm.items(), key=lambda i: i[1])
    assert max(capitals_mm.values()) >= 4.1


@pytest.mark.slow
@pytest.mark.parametrize("words", ["A6", "A5", "100x150mm", "4x6in"])
def test_two_faces_fold_between_them(tmp_path: Path, words: str) -> None:
    """Two faces wide and the cut marks' 10 mm around; no word within 4.5 mm of the fold, each face
    keeps its margins; the fold is drawn, dashed, from edge to edge; what cuts the power is on one
    face."""
    pypdf = pytest.importorskip("pypdf")
    image = pytest.importorskip("PIL.Image")
    if shutil.which("pdftoppm") is None:
        pytest.skip("no poppler-utils")
    plan, target = EXAMPLES / "rescue-pickup.yaml", tmp_path / "card.pdf"
    main(["print", str(plan), "--only", "card", "--card-size", words, "--fold", "--cut-marks",
          "-o", str(target)])
    size = SIZES[words]
    point = 72.0 / 25.4
    pages = pypdf.PdfReader(target).pages
    for page in pages:
        assert float(page.mediabox.width) == pytest.approx((2 * size.width + 20) * point, abs=0.1)
        assert float(page.mediabox.height) == pytest.approx((size.height + 20) * point, abs=0.1)
        assert float(page.trimbox.width) == pytest.approx(2 * size.width * point, abs=0.1)
    fold_pt = (10.0 + size.width) * point
    box = subprocess.run(["pdftotext", "-bbox", str(target), "-"], capture_output=True, text=True,
                         check=True).stdout
    sides = re.findall(r'xMin="([\d.]+)" yMin="[\d.]+" xMax="([\d.]+)" yMax="[\d.]+">([^<]*)', box)
    assert len(sides) > 100
    near = [w for x0, x1, w in sides
            if float(x0) < fold_pt + 4.5 * point and float(x1) > fold_pt - 4.5 * point]
    assert near == []
    subprocess.run(["pdftoppm", "-r", "100", "-gray", "-png", "card.pdf", "leaf"], cwd=tmp_path,
                   check=True)
    leaves = sorted(tmp_path.glob("leaf*.png"))
    assert len(leaves) == len(pages)
    for leaf in leaves:
        picture = image.open(leaf).convert("L")
        middle = round(picture.width / 2)
        dark = [
            min(picture.getpixel((x, y)) for x in range(middle - 2, middle + 3)) < 140
            for y in range(picture.height)
        ]
        strokes = sum(a and not b for a, b in pairwise(dark))
        assert strokes > 20
        assert any(dark[: len(dark) // 20])
        assert any(dark[-len(dark) // 20 :])
    words_of = [" ".join(p.extract_text().split()) for p in pages]
    (cut,) = [t for t in words_of if "cut the power" in t]
    assert "house battery: take off the negative post first" in cut


def test_lines_stand_as_the_fuses_sit(work_of: Callable[[str], Worked]) -> None:
    plan, result = work_of("rescue-pickup")
    places = [line.fuses[0][2] for line in card_view(plan, result).lines if line.fuses]
    in_main = [int(p.rsplit(" ", 1)[1]) for p in places if p.startswith("main, way")]
    assert in_main == sorted(in_main)


def test_what_else_the_card_must_say(work_of: Callable[[str], Worked]) -> None:
    plan, result = work_of("rescue-pickup")
    view = card_view(plan, result)
    assert "Rescue radio" in view.parked[0]
    assert any("still starts after" in line for line in view.parked)
    assert any(line.startswith("main: 0 free ways") for line in view.spare)
    assert any("Never jump-start from or to: house" in line for line in view.care)
    assert view.isolate[0].startswith("Winch: open its isolator")
    assert any("blows again: stop" in s for s in view.steps)


def test_code_holds_the_words_or_fewer_of_them(work_of: Callable[[str], Worked]) -> None:
    plan, result = work_of("owner")
    view = card_view(plan, result)
    rows = content_of(view, result, SIZES["A5"], "foot", "").rows
    text = code_text(view.title, "foot", rows, view.isolate)
    for line in view.lines:
        assert line.name in text
        for fuse, words, _ in line.fuses[:1]:
            assert f"{fuse} {words.split(',')[0]}" in text
    made = code(text, 70.0)
    assert made is not None
    svg = made.svg
    side = int(re.findall(r'viewBox="0 0 (\d+)', svg)[0])
    width = float(re.findall(r'width="([\d.]+)mm"', svg)[0])
    assert width / side >= LEAST_MODULE_MM - 0.01
    assert width <= 70.0 + 0.01
    assert code("x" * 5000 + "\n" + "y" * 5000, 70.0) is None


@pytest.mark.slow
def test_code_read_back_by_an_independent_reader(
    work_of: Callable[[str], Worked], tmp_path: Path
) -> None:
    """Printed, drawn at 200 dots an inch and read again: the same words."""
    reader = pytest.importorskip("zxingcpp")
    image = pytest.importorskip("PIL.Image")
    if shutil.which("pdftoppm") is None:
        pytest.skip("no poppler-utils")
    plan, result = work_of("workboat")
    write_pdf(render_card(plan, result), tmp_path / "card.pdf")
    subprocess.run(
        ["pdftoppm", "-r", "200", "-gray", "-png", "card.pdf", "face"], cwd=tmp_path, check=True
    )
    faces = [image.open(face) for face in tmp_path.glob("face*.png")]
    found = [b.text for face in faces for b in reader.read_barcodes(face)]
    assert len(found) == 1
    for line in card_view(plan, result).lines:
        assert line.name in found[0]


def test_sizes_that_cannot_be(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    example = Path(__file__).parents[2] / "examples" / "owner.yaml"
    code_ = main(["print", str(example), "--only", "card", "--card-size", "20x90mm",
                  "-o", str(tmp_path / "card.html")])
    assert code_ == 2
    assert "A6" in capsys.readouterr().out
    assert not list(tmp_path.iterdir())
