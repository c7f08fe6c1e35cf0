"""Picture: what draws what over a day, the largest first."""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.model.result import DayResult, ScenarioResult
from circuitplan.report import show
from circuitplan.report.fonts import wrap
from circuitplan.report.svg import Canvas

_WIDTH_MM = 180.0
_NAME_MM, _FULL_MM = 46.0, 96.0
_BAR_MM, _LINE_MM, _TEXT_MM = 3.4, 3.4, 3.0
VEHICLE = "The vehicle itself"


@dataclass(frozen=True, slots=True)
class Drawn:
    """``charge_ah``: over the day, by the mean currents of its scenarios."""

    name: str
    charge_ah: float


def drawn(day: DayResult, scenarios: tuple[ScenarioResult, ...]) -> tuple[Drawn, ...]:
    """What each consumer takes from a battery's posts over a day, the largest first."""
    known = {s.name: s for s in scenarios if s.battery == day.battery}
    total: dict[str, float] = {}
    for name, _ in day.steps:
        scenario = known.get(name)
        if scenario is None or scenario.duration_h is None:
            continue
        for who, current_a in ((VEHICLE, scenario.vehicle_a), *scenario.running):
            total[who] = total.get(who, 0.0) + current_a * scenario.duration_h
    found = [Drawn(name, ah) for name, ah in total.items() if ah > 0.0]
    return tuple(sorted(found, key=lambda d: (-d.charge_ah, d.name)))


def draws_picture(day: DayResult, scenarios: tuple[ScenarioResult, ...]) -> tuple[str, str] | None:
    """(SVG, the same in words); None where nothing is drawn."""
    rows = drawn(day, scenarios)
    if not rows:
        return None
    whole = sum(r.charge_ah for r in rows)
    words = f"What draws on {day.battery} over {day.name}, largest first: " + "; ".join(
        f"{r.name} {show.up(r.charge_ah)} Ah" for r in rows
    ) + "."
    names = [wrap(r.name, _TEXT_MM, _NAME_MM - 3.0, 600) for r in rows]
    heights = [max(5.4, _LINE_MM * len(lines) + 2.0) for lines in names]
    canvas = Canvas(_WIDTH_MM, sum(heights) + 1.0, words)
    y = 0.5
    for row, lines, height in zip(rows, names, heights, strict=True):
        middle = y + height / 2.0
        first = middle - _LINE_MM * (len(lines) - 1) / 2.0 + 1.0
        for i, line in enumerate(lines):
            canvas.text(0.0, first + i * _LINE_MM, line, _TEXT_MM, bold=True)
        length = max(0.3, _FULL_MM * row.charge_ah / rows[0].charge_ah)
        canvas.box(_NAME_MM, middle - _BAR_MM / 2.0, length, _BAR_MM, fill="#fff")
        canvas.hatch(_NAME_MM, middle - _BAR_MM / 2.0, length, _BAR_MM)
        share = f"{show.up(row.charge_ah)} Ah, {show.near(100.0 * row.charge_ah / whole, 0)} %"
        canvas.text(_NAME_MM + length + 2.0, middle + 1.0, share, _TEXT_MM)
        y += height
    return canvas.render("drawing bars"), words
