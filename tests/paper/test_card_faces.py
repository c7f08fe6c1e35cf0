"""The faces of the card: as few as its letters allow, whole in a browser, no word broken."""

from __future__ import annotations

import html
import json
import re
import shutil
import subprocess
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.report.card import SIZES, card_view, render_card
from circuitplan.report.card_content import content_of
from circuitplan.report.card_layout import lay_out
from circuitplan.report.card_letters import LEVELS, Bit, count

Worked = tuple[Plan, Result]
BROWSER = shutil.which("chromium")
MEASURE = """
<script>
addEventListener('load', () => {
  const doc = document.querySelector('iframe').contentDocument, found = [];
  for (const face of doc.querySelectorAll('.face')) {
    const at = face.getBoundingClientRect(), words = [];
    const walk = doc.createTreeWalker(face, NodeFilter.SHOW_TEXT);
    while (walk.nextNode()) {
      const node = walk.currentNode;
      for (const m of node.textContent.matchAll(/\\S+/g)) {
        const range = doc.createRange();
        range.setStart(node, m.index);
        range.setEnd(node, m.index + m[0].length);
        const rects = [...range.getClientRects()].filter(r => r.width > 0);
        if (!rects.length) continue;
        const r = rects[0], foot = node.parentElement.closest('.foot') !== null;
        words.push([m[0], r.left - at.left, r.top - at.top, r.right - at.left, r.bottom - at.top,
                    new Set(rects.map(x => Math.round(x.top))).size, foot]);
      }
    }
    found.push({width: at.width, height: at.height, words});
  }
  const out = document.createElement('pre');
  out.id = 'measured';
  out.textContent = JSON.stringify(found);
  document.body.append(out);
});
</script>
"""
MM = 96.0 / 25.4


def _measured(page: str, width_px: int, folder: Path) -> list[dict[str, Any]]:
    """Every word of every face as the browser sets it: (left, top, right, bottom, lines) [px]."""
    assert BROWSER is not None
    path = folder / "frame.html"
    frame = f'<iframe width="{width_px}" height="900" srcdoc="{html.escape(page)}"></iframe>'
    path.write_text(f"<!DOCTYPE html><body>{frame}{MEASURE}</body>", encoding="utf-8")
    dom = subprocess.run(
        [BROWSER, "--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={folder}/me",
         "--window-size=1400,900", "--virtual-time-budget=4000", "--dump-dom", path.as_uri()],
        capture_output=True, text=True, timeout=120, check=True,
    ).stdout
    found: list[dict[str, Any]] = json.loads(
        html.unescape(re.findall(r'id="measured">(.*?)</pre>', dom, re.S)[0])
    )
    return found


def _faces(work: Worked, size: str) -> int:
    plan, result = work
    content = content_of(card_view(plan, result), result, SIZES[size], "Revision B", "")
    return len(lay_out(content, SIZES[size]).faces)


@pytest.mark.parametrize(("size", "most"), [("A5", 2), ("A6", 5), ("100x150mm", 5), ("4x6in", 5)])
def test_a_job_of_seventeen_accessories_needs_few_faces(
    work_of: Callable[[str], Worked], size: str, most: int
) -> None:
    """Front and back of one A5 sheet; it took eight of A5 and fourteen of A6 in one column."""
    assert _faces(work_of("rescue-pickup"), size) <= most


def test_letters_grow_where_they_cost_no_face(work_of: Callable[[str], Worked]) -> None:
    """Four accessories leave room for larger letters than seventeen; the rule of ``LEVELS``."""
    def letters(name: str) -> float:
        plan, result = work_of(name)
        view = card_view(plan, result)
        content = content_of(view, result, SIZES["A5"], "Revision B", "")
        return lay_out(content, SIZES["A5"]).letters.second

    assert letters("owner") > letters("rescue-pickup")
    for level in LEVELS:
        assert level.name >= 4.07  # 20 minutes of arc at 70 cm
        assert min(level.second, level.small) >= 2.5


@pytest.mark.slow
@pytest.mark.skipif(BROWSER is None, reason="chromium not installed")
@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", ["rescue-pickup", "outputs"])
def test_every_word_stands_on_its_face_and_above_the_foot(
    work_of: Callable[[str], Worked], name: str, size: str, tmp_path: Path
) -> None:
    """Boxes as the browser computes them: within the margins, no word on another."""
    plan, result = work_of(name)
    faces = _measured(render_card(plan, result, SIZES[size]), 1300, tmp_path)
    assert len(faces) == _faces((plan, replace(result)), size) or name == "outputs"
    for face in faces:
        foot = min(w[2] for w in face["words"] if w[6])
        assert foot > 0.9 * face["height"]
        body = [w for w in face["words"] if not w[6]]
        assert len(body) > 20
        for word, left, top, right, bottom, _, _ in body:
            assert left >= 4.9 * MM, word
            assert right <= face["width"] - 4.9 * MM, word
            assert top >= 4.0 * MM, word
            assert (top + bottom) / 2.0 < foot, word
        for i, a in enumerate(body):
            for b in body[i + 1 :]:
                wide = min(a[3], b[3]) - max(a[1], b[1])
                middle = abs((a[2] + a[4]) - (b[2] + b[4])) / 2.0
                assert wide < 1.0 or middle > 2.3 * MM, (a, b)


@pytest.mark.slow
@pytest.mark.skipif(BROWSER is None, reason="chromium not installed")
@pytest.mark.parametrize("size", ["A5", "100x150mm"])
def test_no_word_is_broken_on_a_phone(
    work_of: Callable[[str], Worked], size: str, tmp_path: Path
) -> None:
    """390 px wide: the table stands restacked, each word in one line."""
    plan, result = work_of("rescue-pickup")
    faces = _measured(render_card(plan, result, SIZES[size]), 390, tmp_path)
    words = [w for face in faces for w in face["words"]]
    assert {"Compressor", "panel", "reverse"} <= {w[0] for w in words}
    assert [w[0] for w in words if w[5] > 1] == []
    assert max(w[3] for w in words) <= 390


def test_lines_are_counted_as_they_break() -> None:
    """By hand: three words that each need more than half a line stand in three lines."""
    letters = LEVELS[-1]
    assert count((Bit("Compressor Compressor Compressor", "name"),), letters, 45.0) == 3
    assert count((Bit("Compressor", "name"), Bit("S3", "name", True)), letters, 60.0) == 1
