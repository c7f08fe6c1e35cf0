"""Every value that the plan did not give, with its source and how well it is known."""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.report import show
from circuitplan.report.table import Cell, Column, Table, cells


@dataclass(frozen=True, slots=True)
class View:
    table: Table
    unused: tuple[str, ...]


def build(plan: Plan, result: Result) -> View:
    """Assumptions in the order of the result; keys the plan holds but nothing reads, apart."""
    rows = tuple(
        cells(
            a.subject,
            a.what,
            a.value,
            Cell(a.status, mark="decides" if a.decides else ""),
            a.source,
            f"rule{'s' if len(a.decides) > 1 else ''} {show.listed(a.decides)}"
            if a.decides
            else show.listed(a.decides),
        )
        for a in result.assumptions
    )
    return View(
        Table(
            "Values that the plan did not give",
            (
                Column("Subject", 28),
                Column("What", 30),
                Column("Value used", 28),
                Column("Status", 22),
                Column("Source", 46),
                Column("Verdict hangs on it", 26),
            ),
            rows,
        ),
        plan.unused,
    )
