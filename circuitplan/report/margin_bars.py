"""Picture: what the alternator gives and what is taken, a row a scenario."""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.report.fonts import wrap
from circuitplan.report.svg import Canvas

_WIDTH_MM = 180.0
_NAME_MM = 42.0
_SCALE_MM = 92.0
_BAR_MM = 4.2
_LINE_MM = 3.4
_TEXT_MM = 3.0


@dataclass(frozen=True, slots=True)
class MarginBar:
    """``state``: engine and battery; ``output_a`` None: engine off.

    ``taken_a`` holds the vehicle's own load.
    """

    name: str
    state: str
    output_a: float | None
    vehicle_a: float
    taken_a: float
    wanted_a: float | None  # most that may be taken, for the margin that is asked for
    text: str


def margin_bars(bars: tuple[MarginBar, ...]) -> tuple[str, str]:
    """(SVG, the same in words). Frame: output; plain: vehicle; hatched: accessories."""
    names = [
        (wrap(b.name, _TEXT_MM, _NAME_MM - 3.0, 600), wrap(b.state, _TEXT_MM, _NAME_MM - 3.0))
        for b in bars
    ]
    notes = [wrap(b.text, _TEXT_MM, _WIDTH_MM - _NAME_MM - _SCALE_MM - 6.0) for b in bars]
    heights = [
        max(_BAR_MM + 4.0, _LINE_MM * max(len(n) + len(s), len(t)) + 3.0)
        for (n, s), t in zip(names, notes, strict=True)
    ]
    told = "; ".join(f"{b.name}, {b.state}: {b.text}" for b in bars)
    alternative = f"Supply by scenario. {told}."
    canvas = Canvas(_WIDTH_MM, sum(heights) + 5.0, alternative)
    step = _step(max(max(b.output_a or 0.0, b.taken_a) for b in bars))
    per_a = _SCALE_MM / (4.0 * step)
    for i in range(5):
        x = _NAME_MM + i * step * per_a
        canvas.text(x, 3.0, f"{i * step:g} A", 2.6, anchor="middle")
        canvas.line((x, 4.0), (x, sum(heights) + 4.8), width=0.12)
    y = 5.0
    for bar, (name, state), note, height in zip(bars, names, notes, heights, strict=True):
        middle = y + height / 2.0
        _stack(canvas, 0.0, middle, (*name, *state), bold_first=len(name))
        _bar(canvas, middle - _BAR_MM / 2.0, per_a, bar)
        _stack(canvas, _NAME_MM + _SCALE_MM + 5.0, middle, note, bold_first=0)
        y += height
    return canvas.render("drawing bars"), alternative


def _stack(
    canvas: Canvas, x: float, middle: float, lines: tuple[str, ...], bold_first: int
) -> None:
    first = middle - _LINE_MM * (len(lines) - 1) / 2.0 + 1.0
    for i, line in enumerate(lines):
        canvas.text(x, first + i * _LINE_MM, line, _TEXT_MM, bold=i < bold_first)


def _bar(canvas: Canvas, y: float, per_a: float, bar: MarginBar) -> None:
    x = _NAME_MM
    vehicle = min(bar.vehicle_a, bar.taken_a) * per_a
    rest = max(0.0, bar.taken_a * per_a - vehicle)
    inset = 0.7
    if vehicle:
        canvas.box(x, y + inset, vehicle, _BAR_MM - 2 * inset, fill="#fff")
    if rest:
        canvas.box(x + vehicle, y + inset, rest, _BAR_MM - 2 * inset, fill="#fff")
        canvas.hatch(x + vehicle, y + inset, rest, _BAR_MM - 2 * inset)
    if bar.output_a is None:
        return
    end = x + bar.output_a * per_a
    canvas.box(x, y, bar.output_a * per_a, _BAR_MM, width=0.5)
    if bar.taken_a > bar.output_a:
        lacking = (bar.taken_a - bar.output_a) * per_a
        canvas.box(end, y + inset, lacking, _BAR_MM - 2 * inset, fill="#000")
    if bar.wanted_a is not None:
        wanted = x + bar.wanted_a * per_a
        canvas.line((wanted, y - 1.4), (wanted, y + _BAR_MM + 1.4), width=0.4, dash="0.8 0.6")


def _step(largest: float) -> float:
    """A quarter of the scale: the smallest of 1, 2, 2.5, 5 times a power of ten that holds it."""
    power = 1.0
    while 4.0 * 5.0 * power < largest:
        power *= 10.0
    return next(m * power for m in (1.0, 2.0, 2.5, 5.0) if 4.0 * m * power >= largest)
