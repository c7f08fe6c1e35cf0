"""What the battery and the alternator can give, scenario by scenario and over a day."""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.model.plan import Plan
from circuitplan.model.result import DayResult, Result, ScenarioResult
from circuitplan.report import show
from circuitplan.report.analysis.pictures import day_pictures
from circuitplan.report.margin_bars import MarginBar, margin_bars
from circuitplan.report.table import Cell, Column, Picture, Table, cells
from circuitplan.units import show_days, show_drain


@dataclass(frozen=True, slots=True)
class View:
    picture: Picture | None
    scenarios: Table
    days: Table
    parked: str
    volts: str
    answers: tuple[str, ...]
    pictures: tuple[Picture, ...]  # charge and volts over each day, and what draws what


def build(plan: Plan, result: Result) -> View:
    """Scenarios and days in the order of the result."""
    supply = result.supply
    picture = None
    if supply.scenarios:
        svg, alternative = margin_bars(tuple(scenario_bar(s) for s in supply.scenarios))
        picture = Picture(
            "Frame: alternator output. Plain bar: the vehicle's own load. Hatched: accessories. "
            "Dashed stroke: most that may be taken for the margin asked for. Solid black: taken "
            "from the battery although the engine runs.",
            svg,
            alternative,
        )
    days = (
        ""
        if supply.parked_days is None
        else (
            f", from a full battery down to its reserve in {show_days(supply.parked_days)}"
        )
    )
    return View(
        picture,
        _scenarios(supply.scenarios),
        _days(supply.days),
        f"Drain when parked: {show_drain(supply.parked_a)}{days}.",
        f"Computed for {show.near(supply.low_v, 1)} V to {show.near(supply.high_v, 1)} V at the "
        "battery posts.",
        supply.answers,
        day_pictures(result),
    )


def taken_a(s: ScenarioResult) -> float:
    """All current taken [A], the vehicle's own load included."""
    if s.alternator_a is not None and s.margin_a is not None and s.engine != "off":
        return s.alternator_a - s.margin_a
    return s.demand_a


def scenario_bar(s: ScenarioResult) -> MarginBar:
    """One scenario as a row of the margin bars."""
    runs = s.engine != "off" and s.alternator_a is not None
    taken = taken_a(s)
    if runs:
        share = "" if s.margin_percent is None else f" ({show.down(s.margin_percent, 0)} %)"
        text = f"margin {show.down(s.margin_a)} A{share}"
    else:
        text = f"{show.up(taken)} A from the battery"
    if s.hours_to_reserve is not None:
        text += f"; reserve reached in {show.hours(s.hours_to_reserve)}"
    wanted = None
    if runs and s.alternator_a is not None and s.margin_limit_percent is not None:
        wanted = s.alternator_a * (1.0 - s.margin_limit_percent / 100.0)
    return MarginBar(
        s.name,
        f"engine {s.engine}, {s.battery}",
        s.alternator_a if runs else None,
        s.vehicle_a,
        taken,
        wanted,
        text,
    )


def _scenarios(scenarios: tuple[ScenarioResult, ...]) -> Table:
    rows = []
    for s in scenarios:
        short = s.margin_percent is not None and (
            s.margin_percent < (s.margin_limit_percent or 0.0)
        )
        running = ", ".join(f"{n} {show.up(a)} A" for n, a in s.running)
        rows.append(
            cells(
                Cell(s.name, f"engine {s.engine}"),
                Cell(s.battery, running),
                show.up(s.demand_a),
                show.up(s.vehicle_a),
                show.down(s.alternator_a),
                Cell(
                    show.down(s.margin_a),
                    "" if s.margin_percent is None else f"{show.down(s.margin_percent, 0)} %",
                    "short" if short else "",
                ),
                show.BLANK
                if s.margin_limit_percent is None
                else f"{show.rating(s.margin_limit_percent)} %",
                show.asked_hours(s.duration_h),
                Cell(show.hours(s.hours_to_reserve), s.note),
            )
        )
    return Table(
        "Scenarios",
        (
            Column("Scenario", 24),
            Column("Battery, running on average", 50),
            Column("Demand, A", 15, "right"),
            Column("Vehicle, A", 15, "right"),
            Column("Alternator, A", 17, "right"),
            Column("Margin, A", 16, "right"),
            Column("Margin asked", 14, "right"),
            Column("Lasts", 13, "right"),
            Column("To reserve", 20, "right"),
        ),
        tuple(rows),
        "the plan has no scenarios.",
    )


def _percent(value: float | None) -> str:
    return show.BLANK if value is None else f"{show.down(100.0 * value, 0)} %"


def _days(days: tuple[DayResult, ...]) -> Table:
    starts = {True: "yes", False: "no", None: "not known"}
    rows = tuple(
        cells(
            d.name,
            Cell(d.battery, "; ".join(f"after {n}: {_percent(c)}" for n, c in d.steps)),
            _percent(d.start_charge),
            _percent(d.lowest_charge),
            _percent(d.end_charge),
            _percent(d.reserve_charge),
            Cell(
                starts[d.starts],
                f"{show.down(d.cranking_v, 1)} V, limit {show.up(d.cranking_limit_v, 1)} V"
                if d.cranking_v is not None
                else "",
            ),
        )
        for d in days
    )
    return Table(
        "Days",
        (
            Column("Day", 18),
            Column("Battery, charge after each scenario", 74),
            Column("Starts at", 15, "right"),
            Column("Lowest", 15, "right"),
            Column("Ends at", 15, "right"),
            Column("Reserve", 15, "right"),
            Column("Engine starts", 28),
        ),
        rows,
        "the plan has no days.",
    )
