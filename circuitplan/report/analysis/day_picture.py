"""Picture: charge and volts of one battery over a day, with the reserve line and the scenarios."""

from __future__ import annotations

import math
from itertools import pairwise

from circuitplan.model.result import DayPoint, DayResult
from circuitplan.report import show
from circuitplan.report.fonts import width_mm, wrap
from circuitplan.report.svg import Canvas

_WIDTH_MM = 180.0
_LEFT_MM, _RIGHT_MM = 16.0, 4.0
_CHARGE_MM, _VOLTS_MM, _GAP_MM = 42.0, 30.0, 9.0
_SMALL_MM = 2.6
_LINE_MM = 3.0
_THICK_MM, _THIN_MM = 0.55, 0.12
_DASH = "2 1.2"


def day_picture(day: DayResult) -> tuple[str, str]:
    """(SVG, the same in words) of a day that was followed; the curve must hold two points."""
    points = day.curve
    hours = points[-1].hours
    per_h = (_WIDTH_MM - _LEFT_MM - _RIGHT_MM) / hours
    spans = _spans(points)
    heads = [
        wrap(f"{i} {name}", _SMALL_MM, max((right - left) * per_h - 1.0, 4.0), 600)
        if width_mm(f"{i}", _SMALL_MM) < (right - left) * per_h else ()
        for i, (name, left, right) in enumerate(spans, 1)
    ]
    head_mm = _LINE_MM * max((len(lines) for lines in heads), default=0) + 2.0
    whole_mm = head_mm + _CHARGE_MM + _GAP_MM + _VOLTS_MM + 8.0
    canvas = Canvas(_WIDTH_MM, whole_mm, _in_words(day))
    top = head_mm
    reserve = 100.0 * day.reserve_charge
    _grid(canvas, top, _CHARGE_MM, (0.0, 25.0, 50.0, 75.0, 100.0), "{:g} %", without=reserve)
    low_v, high_v, step_v = _volt_scale(points)
    marks = tuple(low_v + i * step_v for i in range(round((high_v - low_v) / step_v) + 1))
    below = top + _CHARGE_MM + _GAP_MM
    _grid(canvas, below, _VOLTS_MM, marks, "{:g} V")
    for (_, left, _), lines in zip(spans, heads, strict=True):
        x = _LEFT_MM + left * per_h
        canvas.line((x, 1.0), (x, below + _VOLTS_MM), width=_THIN_MM, dash="0.6 0.8")
        for i, line in enumerate(lines):
            canvas.text(x + 0.7, 3.0 + i * _LINE_MM, line, _SMALL_MM, bold=True)
    _hours(canvas, below + _VOLTS_MM, hours, per_h)

    def x_of(point: DayPoint) -> float:
        return _LEFT_MM + point.hours * per_h

    canvas.line(
        *((x_of(p), top + _CHARGE_MM * (1.0 - min(1.0, p.charge))) for p in points),
        width=_THICK_MM,
    )
    y = top + _CHARGE_MM * (1.0 - day.reserve_charge)
    canvas.line((_LEFT_MM, y), (_WIDTH_MM - _RIGHT_MM, y), width=0.4, dash=_DASH)
    canvas.text(_LEFT_MM + 1.0, y + 3.2, f"reserve {show.up(reserve, 0)} %",
                _SMALL_MM, bold=True)  # fmt: skip
    canvas.text(0.0, top + 3.0, "Charge", _SMALL_MM, bold=True)
    canvas.text(0.0, below + 3.0, "Volts", _SMALL_MM, bold=True)
    per_v = _VOLTS_MM / (high_v - low_v)
    canvas.line(
        *((x_of(p), below + _VOLTS_MM - per_v * (p.volts - low_v)) for p in points),
        width=_THICK_MM,
    )
    return canvas.render("drawing day"), _in_words(day)


def _spans(points: tuple[DayPoint, ...]) -> list[tuple[str, float, float]]:
    """(scenario, from, to) of each stretch of the day [h]."""
    found: list[tuple[str, float, float]] = []
    for a, b in pairwise(points):
        if b.hours <= a.hours:
            continue
        if found and found[-1][0] == a.scenario:
            found[-1] = (a.scenario, found[-1][1], b.hours)
        else:
            found.append((a.scenario, a.hours, b.hours))
    return found


def _grid(
    canvas: Canvas, top: float, height: float, marks: tuple[float, ...], form: str,
    without: float | None = None,
) -> None:
    """Level lines; none at ``without``, where a line of the picture's own lies."""
    span = marks[-1] - marks[0]
    for mark in marks:
        y = top + height * (1.0 - (mark - marks[0]) / span)
        if without is None or abs(mark - without) > 1e-6:
            canvas.line((_LEFT_MM, y), (_WIDTH_MM - _RIGHT_MM, y), width=_THIN_MM)
        canvas.text(_LEFT_MM - 1.2, y + 0.9, form.format(round(mark, 3)), _SMALL_MM, anchor="end")
    canvas.line((_LEFT_MM, top), (_LEFT_MM, top + height), width=0.3)


def _hours(canvas: Canvas, y: float, hours: float, per_h: float) -> None:
    step = next(s for s in (0.25, 0.5, 1.0, 2.0, 3.0, 6.0, 12.0, 24.0, 48.0, 96.0, 1e6)
                if hours / s <= 12.0)  # fmt: skip
    for i in range(math.floor(hours / step + 1e-9) + 1):
        x = _LEFT_MM + i * step * per_h
        canvas.line((x, y), (x, y + 1.2), width=0.3)
        canvas.text(x, y + 4.2, f"{i * step:g} h", _SMALL_MM, anchor="middle")


def _volt_scale(points: tuple[DayPoint, ...]) -> tuple[float, float, float]:
    """(lowest, highest, step) of the volts' scale."""
    low, high = min(p.volts for p in points), max(p.volts for p in points)
    step = next(s for s in (0.5, 1.0, 2.0, 5.0, 10.0, 20.0) if high - low <= 5.0 * s)
    bottom = math.floor(low / step) * step
    top = max(math.ceil(high / step - 1e-9) * step, bottom + step)
    return bottom, top, step


def _in_words(day: DayResult) -> str:
    after = "; ".join(f"after {name} {show.down(100.0 * c, 0)} %" for name, c in day.steps)
    volts = [p.volts for p in day.curve]
    return (
        f"Charge and volts of {day.battery} over {day.name}: starts at "
        f"{show.down(100.0 * day.start_charge, 0)} %; {after}; reserve "
        f"{show.up(100.0 * day.reserve_charge, 0)} %; volts from {show.down(min(volts), 1)} to "
        f"{show.up(max(volts), 1)} V."
    )
