"""Picture: how much of its allowed load each switch carries, a row a switch."""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.report.fonts import wrap
from circuitplan.report.svg import Canvas

_WIDTH_MM = 180.0
_NAME_MM = 40.0
_FULL_MM = 92.0  # the length that means "at the limit"
_OVER_MM = 10.0  # room past the limit; a longer excess is cut with a break mark
_BAR_MM = 3.6
_LINE_MM = 3.4
_TEXT_MM = 3.0


@dataclass(frozen=True, slots=True)
class LoadBar:
    """``limit`` None: unknown, drawn as a dashed frame without filling."""

    name: str
    label: str
    load: float
    limit: float | None
    text: str


def load_bars(bars: tuple[LoadBar, ...], title: str) -> tuple[str, str]:
    """(SVG, the same in words). Hatched: within the limit; solid black: what exceeds it."""
    names = [wrap(f"{b.name}  {b.label}".strip(), _TEXT_MM, _NAME_MM - 2.0, 600) for b in bars]
    heights = [max(6.2, _LINE_MM * len(lines) + 2.6) for lines in names]
    alternative = f"{title}. " + "; ".join(f"{b.name} {b.label} {b.text}" for b in bars) + "."
    canvas = Canvas(_WIDTH_MM, sum(heights) + 5.0, alternative)
    left, limit_x = _NAME_MM, _NAME_MM + _FULL_MM
    for share in (0, 25, 50, 75, 100):
        x = left + _FULL_MM * share / 100.0
        canvas.text(x, 3.0, f"{share} %", 2.6, anchor="middle")
        canvas.line((x, 4.0), (x, sum(heights) + 4.8), width=0.5 if share == 100 else 0.12)
    y = 5.0
    for bar, lines, height in zip(bars, names, heights, strict=True):
        middle = y + height / 2.0
        first = middle - _LINE_MM * (len(lines) - 1) / 2.0 + 1.0
        for i, line in enumerate(lines):
            canvas.text(0.0, first + i * _LINE_MM, line, _TEXT_MM, bold=True)
        _bar(canvas, left, middle - _BAR_MM / 2.0, bar)
        canvas.text(limit_x + _OVER_MM + 2.0, middle + 1.0, bar.text, _TEXT_MM)
        y += height
    return canvas.render("drawing bars"), alternative


def _bar(canvas: Canvas, x: float, y: float, bar: LoadBar) -> None:
    if not bar.limit:
        canvas.line(
            (x + _FULL_MM, y), (x, y), (x, y + _BAR_MM), (x + _FULL_MM, y + _BAR_MM), dash="1.2 1"
        )
        return
    share = max(0.0, bar.load / bar.limit)
    within = _FULL_MM * min(1.0, share)
    canvas.box(x, y, _FULL_MM, _BAR_MM, fill="#fff")
    if within > 0.0:
        canvas.box(x, y, within, _BAR_MM, fill="#fff")
        canvas.hatch(x, y, within, _BAR_MM)
    if share > 1.0:
        over = min(_OVER_MM, max(1.0, _FULL_MM * (share - 1.0)))
        canvas.box(x + _FULL_MM, y, over, _BAR_MM, fill="#000")
        if _FULL_MM * (share - 1.0) > _OVER_MM:
            cut = x + _FULL_MM + over - 3.0
            canvas.shape(
                (cut, y + _BAR_MM + 0.2), (cut + 1.0, y - 0.2), (cut + 2.0, y - 0.2),
                (cut + 1.0, y + _BAR_MM + 0.2), fill="#fff", width=0.1,
            )  # fmt: skip
