"""The working of every circuit: formula, numbers put in, result, source."""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.report import show
from circuitplan.report.table import Column, Table, cells
from circuitplan.report.words import circuit_name

_COLUMNS = (
    Column("Step", 38),
    Column("Formula with numbers", 58),
    Column("Result", 42),
    Column("Source", 42),
)


@dataclass(frozen=True, slots=True)
class Working:
    heading: str
    drop: str
    table: Table


@dataclass(frozen=True, slots=True)
class View:
    circuits: tuple[Working, ...]


def build(plan: Plan, result: Result) -> View:
    """One table a circuit, steps in the order in which they were computed."""
    circuits = []
    for c in result.circuits:
        drop = ""
        if c.drop:
            d, parts = c.drop, c.drop.parts
            drop = (
                f"Worst drop, {d.accessory} at {show.down(d.supply_v, 1)} V: "
                f"feeder {show.near(parts.feeder_v, 3)} V + contacts "
                f"{show.near(parts.contacts_v, 3)} V + wire {show.near(parts.run_v, 3)} V + "
                f"return {show.near(parts.return_v, 3)} V = {show.near(d.total_v, 3)} V, "
                f"{show.up(d.percent, 2)} % of nominal (limit {show.rating(d.limit_percent)} %)."
            )
        rows = tuple(cells(w.what, w.formula, w.result, w.source) for w in c.working)
        circuits.append(
            Working(
                circuit_name(c),
                drop,
                Table(f"Working of circuit {c.number}", _COLUMNS, rows, "none recorded."),
            )
        )
    return View(tuple(circuits))
