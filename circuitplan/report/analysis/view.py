"""What the load analysis prints: tables and sentences, from the plan and its result.

Content after the written load analysis that NFPA 1901 (now 1900) asks for: alternator nameplate
rating, its rating under the test condition, each component of the minimum continuous load,
additional loads up to the total continuous load, each intermittent load (second-hand).
"""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.report import show
from circuitplan.report.analysis import day_tables, forms
from circuitplan.report.analysis.loads import Line, Loads, loads
from circuitplan.report.analysis.pictures import day_pictures
from circuitplan.report.margin_bars import margin_bars
from circuitplan.report.sections.supply.view import scenario_bar
from circuitplan.report.table import Cell, Column, Picture, Table, cells
from circuitplan.report.words import heading

STANDARDS = (
    "Arranged after the written load analysis of NFPA 1901 (now in NFPA 1900), the load sheets of "
    "MIL-E-7016F and the capacity tag of KKK-A-1822; values from them are second-hand or from "
    "memory. It is an aid to such an analysis and no claim of compliance: the standard in force, "
    "the purchaser and the authority decide what must be on the list.",
    "Local codes, the makers' instructions and licensed practice take precedence.",
)


@dataclass(frozen=True, slots=True)
class View:
    title: str
    facts: tuple[tuple[str, str], ...]
    answers: tuple[str, ...]
    standards: tuple[str, ...]
    sources: tuple[Table, ...]
    loads: tuple[Table, ...]
    balance: Table
    bars: Picture | None
    scenarios: Table
    cures: Table
    days: tuple[Table, ...]
    pictures: tuple[Picture, ...]
    forms: tuple[Table, ...]
    assumptions: Table


def build(plan: Plan, result: Result) -> View:
    """The analysis of a plan; nothing is made up, blanks stay blank."""
    split = loads(plan, result)
    return View(
        title=heading(plan),
        facts=_facts(plan),
        answers=result.supply.answers or ("The plan has no scenario: nothing can be said.",),
        standards=STANDARDS,
        sources=(_alternators(plan, result), _batteries(plan)),
        loads=_loads(split),
        balance=_balance(split, result),
        bars=_bars(result),
        scenarios=_scenarios(result),
        cures=day_tables.cures(result),
        days=day_tables.build(result),
        pictures=day_pictures(result),
        forms=forms.build(plan, split),
        assumptions=_assumptions(result),
    )


def _facts(plan: Plan) -> tuple[tuple[str, str], ...]:
    job = plan.job
    return (
        ("Document type", "Electrical load analysis"),
        ("Vehicle", job.vehicle or ""),
        ("Legal owner", job.owner or ""),
        ("Creator", job.by or ""),
        ("Approved by", job.approved_by or ""),
        ("Identification number", job.number or ""),
        ("Revision", plan.revision or ""),
        ("Date of issue", job.date or ""),
        ("System voltage", f"{plan.nominal_v:g} V DC nominal"),
        ("Practice", plan.practice),
        ("Plan SHA-256, first 12", plan.sha256[:12]),
    )


def _alternators(plan: Plan, result: Result) -> Table:
    plate = {
        "alternator": plan.supply.alternator, "second alternator": plan.supply.second_alternator,
    }
    rows = []
    for point in result.supply.alternators:
        one = plate.get(point.alternator)
        rows.append(
            cells(
                Cell(point.alternator.capitalize(), f"rated {show.rating(one.rated_a)} A"
                     if one is not None else ""),
                point.engine,
                show.near(point.shaft_rpm, 0),
                show.down(point.cold_a),
                Cell(show.down(point.hot_a), point.how),
            )
        )  # fmt: skip
    return Table(
        "Alternator: nameplate rating, and output under each condition",
        (
            Column("Machine", 40), Column("Engine", 24), Column("Shaft, r/min", 22, "right"),
            Column("Cold, A", 22, "right"), Column("Hot, A", 72, "right"),
        ),
        tuple(rows), "the plan names no alternator.",
    )  # fmt: skip


def _batteries(plan: Plan) -> Table:
    rows = tuple(
        cells(
            b.name, b.type or show.BLANK,
            f"{show.rating(b.capacity_ah)}", show.rating(b.cranking_a),
            forms.reserve_minutes_text(b),
            show.BLANK if b.health is None else f"{show.down(100.0 * b.health, 0)} %",
        )
        for b in plan.supply.batteries
    )
    return Table(
        "Batteries",
        (
            Column("Battery", 36), Column("Type", 26), Column("20 h capacity, Ah", 30, "right"),
            Column("Cold cranking, A", 28, "right"),
            Column("Minutes at 25 A, computed", 34, "right"), Column("Health", 22, "right"),
        ),
        rows, "the plan names no battery.",
    )  # fmt: skip


def _loads(split: Loads) -> tuple[Table, ...]:
    columns = (
        Column("Circuit", 18), Column("Component", 70), Column("Current, A", 26, "right"),
        Column("Remark", 66),
    )  # fmt: skip

    def table(
        caption: str, lines: tuple[Line, ...], first: tuple[tuple[Cell, ...], ...] = ()
    ) -> Table:
        rows = first + tuple(
            cells(x.circuit, x.name, show.up(x.current_a), x.note) for x in lines
        )
        return Table(caption, columns, rows)

    vehicle = (
        cells("–", "The vehicle itself", show.up(split.vehicle_a), "engine on, worst state"),
    )
    total = (cells("all", "Sum", show.up(split.minimum_a), "minimum continuous load"),)
    more = (cells("all", "Sum with the minimum", show.up(split.total_a), "total continuous load"),)
    base = table("Minimum continuous load: never left out", split.minimum, vehicle)
    extra = table("Additional continuous loads", split.additional)
    return (
        Table(base.caption, columns, base.rows + total),
        Table(extra.caption, columns, extra.rows + more),
        table("Intermittent loads, each", split.intermittent),
    )


def _balance(split: Loads, result: Result) -> Table:
    """What is left at each engine state: the capacity tag."""
    rows = []
    for engine in ("idle", "high idle", "cruise"):
        here = [p for p in result.supply.alternators if p.engine == engine]
        if not here:
            continue
        hot = None if any(p.hot_a is None for p in here) else sum(p.hot_a or 0.0 for p in here)
        rows.append(
            cells(
                engine, show.down(hot),
                _left(hot, split.minimum_a), _left(hot, split.total_a),
            )
        )  # fmt: skip
    return Table(
        "Hot output left over",
        (
            Column("Engine", 40), Column("Hot output, A", 40, "right"),
            Column("Left beside the minimum, A", 50, "right"),
            Column("Left beside the total, A", 50, "right"),
        ),
        tuple(rows), "no alternator: nothing is left over.",
    )  # fmt: skip


def _left(hot_a: float | None, load_a: float) -> Cell:
    if hot_a is None:
        return Cell(show.BLANK)
    return Cell(show.down(hot_a - load_a), "", "short" if hot_a < load_a else "")


def _bars(result: Result) -> Picture | None:
    found = result.supply.scenarios
    if not found:
        return None
    svg, words = margin_bars(tuple(scenario_bar(s) for s in found))
    return Picture(
        "Frame: alternator output. Plain bar: the vehicle's own load. Hatched: accessories. Dashed "
        "stroke: most that may be taken for the margin asked for. Solid black: taken from the "
        "battery although the engine runs.", svg, words,
    )  # fmt: skip


def _scenarios(result: Result) -> Table:
    rows = []
    for s in result.supply.scenarios:
        short = s.margin_a is not None and s.engine != "off" and (
            s.margin_a < 0.0 or (s.margin_percent or 0.0) < (s.margin_limit_percent or 0.0) - 1e-9
        )
        rows.append(
            cells(
                Cell(s.name, f"engine {s.engine}, {s.battery}"),
                Cell(", ".join(f"{n} {show.up(a)} A" for n, a in s.running) or show.BLANK),
                show.up(s.demand_a), show.down(s.alternator_a),
                Cell(show.down(s.margin_a), "", "short" if short else ""),
                show.BLANK if s.alternator_share is None
                else f"{show.down(100.0 * s.alternator_share, 0)} %",
                show.hours(s.hours_to_reserve), _hours_up(s.recharge_h),
            )
        )  # fmt: skip
    return Table(
        "Operating conditions",
        (
            Column("Condition", 30), Column("Running, mean", 52), Column("Demand, A", 16, "right"),
            Column("Output, A", 16, "right"), Column("Margin, A", 16, "right"),
            Column("Carried", 14, "right"), Column("To reserve", 18, "right"),
            Column("Recharge", 18, "right"),
        ),
        tuple(rows), "the plan has no scenarios.",
    )  # fmt: skip


def _hours_up(hours: float | None) -> str:
    """A time that recharging takes, rounded up."""
    return show.BLANK if hours is None else f"{show.up(hours, 1)} h"


def _assumptions(result: Result) -> Table:
    subjects = ("alternator", "second alternator", "supply", "vehicle", "starter")
    days = {d.name for d in result.supply.days} | {d.battery for d in result.supply.days}
    rows = tuple(
        cells(f"{a.subject}: {a.what}", a.value, Cell(a.status, a.source))
        for a in result.assumptions if a.subject in subjects or a.subject in days
    )
    return Table(
        "Assumed for this analysis",
        (Column("What", 62), Column("Value", 48), Column("Status, source", 70)), rows,
    )
