"""The load analysis as a workbook: numbers as numbers, units in the heads."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.report.analysis import forms
from circuitplan.report.analysis.draws_picture import drawn
from circuitplan.report.analysis.loads import loads
from circuitplan.report.spreadsheet import Sheet, Value, write_sheets


def write_analysis(plan: Plan, result: Result, path: Path) -> None:
    """Write the sheets of the analysis to ``path``."""
    write_sheets(plan, sheets(plan, result), path, result.answer == "ok")


def sheets(plan: Plan, result: Result) -> Iterator[Sheet]:
    """(name, heads, rows) of each sheet; values as computed, unrounded."""
    supply = result.supply
    yield "answers", ("answer",), [(line,) for line in supply.answers]
    yield "alternator", _heads("machine, engine, shaft r/min, cold A, hot A, how"), [
        (p.alternator, p.engine, p.shaft_rpm, p.cold_a, p.hot_a, p.how) for p in supply.alternators
    ]
    yield "batteries", _heads(
        "battery, type, 20 h capacity Ah, cold cranking A, minutes at 25 A computed, health"
    ), [
        (b.name, b.type, b.capacity_ah, b.cranking_a, forms.reserve_minutes(b), b.health)
        for b in plan.supply.batteries
    ]
    yield "loads", _heads("kind, circuit, component, current A, remark"), _loads(plan, result)
    yield "conditions", _heads(
        "condition, engine, battery, demand A, vehicle A, output A, margin A, margin %, asked %, "
        "carried, hours to reserve, recharge h, lasts h, leave out, enough, shaft r/min that "
        "cures, alternator A that cures, battery Ah that cures"
    ), [
        (
            s.name, s.engine, s.battery, s.demand_a, s.vehicle_a, s.alternator_a, s.margin_a,
            s.margin_percent, s.margin_limit_percent, s.alternator_share, s.hours_to_reserve,
            s.recharge_h, s.duration_h, ", ".join(name for name, _ in s.shed) or None,
            s.shed_cures, s.cure_shaft_rpm, s.cure_rated_a, s.cure_capacity_ah,
        )
        for s in supply.scenarios
    ]  # fmt: skip
    yield "day", _heads(
        "day, battery, hour, condition, charge, volts V, supplied A, drawn A, out of battery A"
    ), [
        (d.name, d.battery, p.hours, p.scenario, p.charge, p.volts, p.supplied_a, p.drawn_a,
         p.battery_a)
        for d in supply.days for p in d.curve
    ]  # fmt: skip
    yield "draws", _heads("day, battery, what, Ah over the day"), [
        (d.name, d.battery, x.name, x.charge_ah)
        for d in supply.days for x in drawn(d, supply.scenarios)
    ]  # fmt: skip
    yield "runs", _heads(
        "day, condition, accessory, runs, each s, current A, least V at the posts, Ah, Wh, pull N"
    ), [
        (d.name, e.scenario, e.accessory, e.count, e.seconds, e.current_a, e.least_v, e.charge_ah,
         e.energy_wh, e.pull_n)
        for d in supply.days for e in d.events
    ]  # fmt: skip
    yield "tests", _heads("test, step, wanted, read, passed"), [
        (table.caption, *(cell.text for cell in row))
        for table in forms.build(plan, loads(plan, result)) for row in table.rows
    ]


def _loads(plan: Plan, result: Result) -> list[tuple[Value, ...]]:
    split = loads(plan, result)
    rows: list[tuple[Value, ...]] = [
        ("minimum continuous", None, "The vehicle itself", split.vehicle_a, "engine on")
    ]
    for kind, lines in (
        ("minimum continuous", split.minimum), ("additional continuous", split.additional),
        ("intermittent", split.intermittent),
    ):
        rows += [(kind, x.circuit, x.name, x.current_a, x.note) for x in lines]
    rows.append(("sum", None, "minimum continuous load", split.minimum_a, None))
    rows.append(("sum", None, "total continuous load", split.total_a, None))
    return rows


def _heads(text: str) -> tuple[str, ...]:
    return tuple(text.split(", "))
