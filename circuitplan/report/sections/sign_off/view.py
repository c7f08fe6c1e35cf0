"""Blanks for the people who stand for the work; nothing is filled in for them."""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.report.table import Column, Table, cells


@dataclass(frozen=True, slots=True)
class View:
    table: Table
    identity: str


def build(plan: Plan, result: Result) -> View:
    """Empty name, date and signature for each step of the work."""
    steps = (
        "Plan checked against vehicle and parts",
        "Built as planned, or changes marked",
        "Tested, readings on record",
        "Approved",
        "Handed over, card in the console",
    )
    columns = (
        Column("Step", 56),
        Column("Name", 42),
        Column("Date", 28),
        Column("Signature", 54),
    )
    return View(
        Table("Signatures", columns, tuple(cells(s, "", "", "") for s in steps)),
        f"plan {plan.sha256[:12]}"
        + (f", revision {plan.revision}" if plan.revision else ", no revision given"),
    )
