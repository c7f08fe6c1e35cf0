"""The wiring summary as HTML: whole, safe, self-contained, readable by everybody."""

from __future__ import annotations

import dataclasses
import re
import subprocess
import sys
from html.parser import HTMLParser
from itertools import pairwise
from pathlib import Path
from types import ModuleType

import pytest

from circuitplan.design.bench.pieces import both_gauges
from circuitplan.report.html import render_html
from circuitplan.report.words import all_fuses, all_relays, all_runs

GOLD = Path(__file__).with_name("gold") / "small.html"


class Page(HTMLParser):
    """Tags in order, and the visible text."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []
        self._hidden = 0
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self._hidden += tag == "style"

    def handle_endtag(self, tag: str) -> None:
        self._hidden -= tag == "style"

    def handle_data(self, data: str) -> None:
        if not self._hidden:
            self.words.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.words).split())


@pytest.fixture(scope="module")
def page(sample: ModuleType) -> Page:
    return Page(render_html(sample.big_plan(), sample.big_result(), working=True))


def test_everything_of_the_result_is_printed(page: Page, sample: ModuleType) -> None:
    result = sample.big_result()
    wanted = {c.label for c in result.circuits} | {s.id for s in result.switches}
    wanted |= {f.id for _, f in all_fuses(result)} | {r.id for _, r in all_runs(result)}
    wanted |= {r.id for _, r in all_relays(result)} | {p.id for p in result.panels}
    wanted |= {f.message for f in result.findings} | {a.value for a in result.assumptions}
    wanted |= {s.name for s in result.supply.scenarios} | set(result.supply.isolate)
    wanted |= {w.formula for c in result.circuits for w in c.working}
    assert len(wanted) > 100
    assert [w for w in sorted(wanted) if w not in page.text] == []


def test_verdict_comes_first_and_deferral_is_printed(page: Page) -> None:
    assert page.text.index("NOT OK") < page.text.index("Before work begins")
    assert "licensed practice take precedence" in page.text
    assert "Local codes" in page.text


def test_sections_stand_in_the_order_of_use(page: Page) -> None:
    ids = [a["id"] for t, a in page.tags if t == "section"]
    assert ids == [
        "title_block", "verdict", "at_a_glance", "cautions", "switches", "circuits",
        "distribution", "supply", "findings", "wires", "protection", "coordination", "warm_wires",
        "assumptions", "sign_off", "working",
    ]  # fmt: skip


def test_first_sheet_lists_the_circuits_before_the_safety_messages(
    page: Page, sample: ModuleType
) -> None:
    """Switch, thing, current, wire in both gauges and fuse right after the verdict; the warning to
    read section 1 first stands above it."""
    text = page.text
    start, end = text.index("Circuits at a glance"), text.index("Contents")
    glance = text[start:end]
    warned = text.index("Read section 1, Before work begins, before any work")
    assert text.index("NOT OK") < warned < start
    assert end < text.index("Safety messages")
    for circuit in sample.big_result().circuits:
        if circuit.accessories:
            assert all(a.name in glance for a in circuit.accessories)
            assert all(f"{f.id} " in glance for f in circuit.fuses)
            assert all(s in glance for s in circuit.switches)
            for run in circuit.runs:
                if run.role == "feed" and not run.unknown:
                    metric, awg = both_gauges(run)
                    assert metric.removesuffix(" mm²") in glance
                    assert awg.removesuffix(" AWG") in glance


def test_working_is_an_appendix_that_is_asked_for(page: Page, sample: ModuleType) -> None:
    """Left out, it alone is gone, and the page says how to get it."""
    short = Page(render_html(sample.big_plan(), sample.big_result()))
    whole, left = ([a["id"] for t, a in p.tags if t == "section"] for p in (page, short))
    assert whole == [*left, "working"]
    assert "print PLAN --working" in short.text
    assert "print PLAN --working" not in page.text
    for circuit in sample.big_result().circuits:
        assert all(w.formula in page.text for w in circuit.working)


def test_nothing_comes_from_outside(sample: ModuleType) -> None:
    html = render_html(sample.big_plan(), sample.big_result())
    bare = html.replace("http://www.w3.org/2000/svg", "")  # a name, never fetched
    bare = re.sub(r"base64,[A-Za-z0-9+/=]+", "", bare)
    assert not re.search(r"https?:|//[a-z]|@import|<script|<link|<iframe|javascript:", bare)
    assert {u[:5] for u in re.findall(r'url\("?([^)]*)', html)} == {"data:"}
    assert not re.search(r'\s(src|href)="(?!#)', html)


def test_markup_in_names_is_shown_as_text(sample: ModuleType) -> None:
    nasty = '<img src=x onerror="a()">&amp; \\65 "</style><script>'
    plan = dataclasses.replace(sample.small_plan(), title=nasty, revision=nasty)
    result = sample.small_result()
    circuit = result.circuits[0]
    lamp = dataclasses.replace(circuit.accessories[0], name=nasty)
    circuit = dataclasses.replace(circuit, label=nasty, accessories=(lamp,))
    switch = dataclasses.replace(result.switches[0], label=nasty, works=(nasty,))
    result = dataclasses.replace(result, circuits=(circuit,), switches=(switch,))
    page = Page(render_html(plan, result))
    assert {t for t, _ in page.tags}.isdisjoint({"img", "script"})
    assert sum(t == "style" for t, _ in page.tags) == 2
    assert page.text.count(" ".join(nasty.split())) > 5


def test_missing_values_stay_blank(sample: ModuleType) -> None:
    page = Page(render_html(sample.small_plan(), sample.small_result()))
    assert not re.search(r"\b(None(?!\.)|nan|20\d\d-\d\d-\d\d)\b", page.text)


def test_readable_without_eyes(page: Page) -> None:
    assert ("html", {"lang": "en"}) in page.tags
    levels = [int(t[1]) for t, _ in page.tags if re.fullmatch("h[1-6]", t)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    # PDF/UA-1 (ISO 14289-1, 7.4.2, second-hand): no heading level is skipped on the way down.
    assert all(b <= a + 1 for a, b in pairwise(levels))
    assert all(a.get("scope") in ("row", "col") for t, a in page.tags if t == "th")
    pictures = [a for t, a in page.tags if t == "svg" and a.get("role") == "img"]
    assert len(pictures) >= 4
    assert all(len(str(a["aria-label"])) > 8 for a in pictures)


def _luminance(colour: str) -> float:
    """Relative luminance of WCAG 2.2 (W3C), sRGB ``#rrggbb`` or ``#rgb``."""
    digits = colour[1:] if len(colour) == 7 else "".join(2 * c for c in colour[1:])
    parts = [int(digits[i : i + 2], 16) / 255.0 for i in (0, 2, 4)]
    r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def test_contrast_of_every_colour_pair() -> None:
    """WCAG 2.2, 1.4.3: text at least 4.5 to 1; white is the ground where a rule names none."""
    import circuitplan.report.environment as environment

    pairs = set()
    for name in ("summary.css", "screen.css", "card.css"):
        for body in re.findall(r"\{([^{}]*)\}", (environment.HERE / name).read_text("utf-8")):
            text = re.search(r"(?<![-\w])color: (#\w+)", body)
            ground = re.search(r"background: (#\w+)", body)
            if text:
                pairs.add((text[1], ground[1] if ground else "#fff"))
    assert len(pairs) >= 6
    for text, ground in pairs:
        light, dark = sorted((_luminance(text), _luminance(ground)), reverse=True)
        assert (light + 0.05) / (dark + 0.05) >= 4.5, (text, ground)


def test_same_result_same_bytes(sample: ModuleType) -> None:
    twice = {render_html(sample.big_plan(), sample.big_result()) for _ in range(2)}
    assert len(twice) == 1


def test_gold(sample: ModuleType) -> None:
    """The small result's page without its style sheets; delete the file to have it made anew."""
    html = render_html(sample.small_plan(), sample.small_result())
    bare = re.sub(r"<style.*?</style>\n", "", html, flags=re.S)
    if not GOLD.exists():
        GOLD.write_text(bare, encoding="utf-8")
        pytest.fail(f"{GOLD.name} was missing and has been written: read it, then run again")
    assert bare == GOLD.read_text(encoding="utf-8")


def test_import_is_light() -> None:
    code = (
        "import sys, circuitplan.report.html, circuitplan.report.pdf, circuitplan.report.card, "
        "circuitplan.report.workbook; print([m for m in ('weasyprint', 'pandas', 'openpyxl', "
        "'jinja2', 'fontTools') if m in sys.modules])"
    )
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"
