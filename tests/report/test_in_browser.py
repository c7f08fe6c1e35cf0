"""The pages as a browser computes them: contrast of every text, and what is told in words.

Chromium writes out the document after a script of the test has measured it; WCAG 2.2 (W3C), 1.4.3.
"""

from __future__ import annotations

import html
import json
import re
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from circuitplan.cli import main

EXAMPLES = Path(__file__).parents[2] / "examples"
BROWSER = shutil.which("chromium")
PAPERS = ("", "card", "analysis", "labels", "cuts", "parts", "drawings", "panels", "test", "faults")
pytestmark = [
    pytest.mark.slow, pytest.mark.skipif(BROWSER is None, reason="chromium not installed"),
]
MEASURE = """
<script>
const parse = c => {
  const m = c.match(/[\\d.]+/g).map(Number);
  return [m[0], m[1], m[2], m.length > 3 ? m[3] : 1];
};
const seen = {};
const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
while (walk.nextNode()) {
  const node = walk.currentNode, text = node.textContent.trim(), e = node.parentElement;
  const style = getComputedStyle(e);
  if (!text || ['SCRIPT', 'STYLE', 'TITLE'].includes(e.tagName.toUpperCase())) continue;
  if (style.display === 'none' || style.visibility === 'hidden') continue;
  const drawn = e.closest('svg') !== null;
  const ink = drawn ? style.fill : style.color;
  let ground = [255, 255, 255, 1], opacity = 1;
  for (let up = e; up; up = up.parentElement) {
    const s = getComputedStyle(up), b = parse(s.backgroundColor);
    opacity *= Number(s.opacity);
    if (b[3] > 0) { ground = b; break; }
  }
  const key = [ink, ground.join(), opacity].join('|');
  seen[key] = seen[key] || {ink: parse(ink), ground, opacity, text: text.slice(0, 40), count: 0};
  seen[key].count += 1;
}
const out = document.createElement('pre');
out.id = 'measured';
out.textContent = JSON.stringify({
  pairs: Object.values(seen), scripts: document.scripts.length, lang: document.documentElement.lang,
  wide: document.documentElement.scrollWidth, room: document.documentElement.clientWidth,
  blank: [...document.querySelectorAll('th')].filter(h => !h.textContent.trim()).length,
  unnamed: [...document.querySelectorAll('svg:not([aria-hidden="true"])')]
    .filter(s => !(s.getAttribute('aria-label') || s.querySelector('title')?.textContent)).length,
});
document.body.append(out);
</script>
"""


@pytest.fixture(scope="module", params=PAPERS, ids=lambda word: word or "summary")
def page(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Any:
    folder = tmp_path_factory.mktemp("page")
    path = folder / "paper.html"
    only = ["--only", request.param] if request.param else []
    main(["print", str(EXAMPLES / "workboat.yaml"), *only, "-o", str(path)])
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("</body>", f"{MEASURE}</body>"), encoding="utf-8")
    assert BROWSER is not None
    dom = subprocess.run(
        [BROWSER, "--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={folder}/me",
         "--window-size=1280,900", "--dump-dom", path.as_uri()],
        capture_output=True, text=True, timeout=120, check=True,
    ).stdout
    return json.loads(html.unescape(re.findall(r'id="measured">(.*?)</pre>', dom, re.S)[0]))


def _luminance(colour: list[float]) -> float:
    """Relative luminance of WCAG 2.2; an ink that lets the ground through is mixed before."""
    r, g, b = (
        c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4
        for c in (x / 255.0 for x in colour[:3])
    )
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def test_contrast_of_every_text(page: Any) -> None:
    """4.5 to 1 at least, whatever the size of the letters."""
    assert sum(p["count"] for p in page["pairs"]) > 50
    for pair in page["pairs"]:
        share = pair["ink"][3] * pair["opacity"]
        ink = [
            share * i + (1.0 - share) * g for i, g in zip(pair["ink"], pair["ground"], strict=True)
        ]
        light, dark = sorted((_luminance(ink), _luminance(pair["ground"])), reverse=True)
        assert (light + 0.05) / (dark + 0.05) >= 4.5, pair


def test_language_words_for_pictures_no_script_and_no_sideways_page(page: Any) -> None:
    assert page["lang"] == "en"
    assert page["unnamed"] == 0
    assert page["blank"] == 0  # a head without a word names nothing
    assert page["scripts"] == 1  # that of this test
    assert page["wide"] <= page["room"]
