"""Which part of the paper is made where: one word each, as ``print --only`` names it."""

from __future__ import annotations

from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING

from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.planner.holding import warning

if TYPE_CHECKING:
    from circuitplan.planfile.prices import Price
    from circuitplan.report.card_parts import Size
    from circuitplan.report.labels.view import Stock

WORDS = ("labels", "cuts", "parts", "drawings", "panels", "test", "faults")
AS_CSV = ("labels", "cuts", "parts", "test")
_ROOMS = {
    "drawings": "circuit_sheets",
    "panels": "panels_map",
    "test": "test_sheet",
    "faults": "fault_finding",
}


@dataclass(frozen=True, slots=True)
class Wishes:
    """What the user may choose; ``reels_mm`` empty: the usual lengths."""

    vehicles: int = 1
    reels_mm: tuple[int, ...] = ()
    prices: tuple[Price, ...] = ()
    label: Stock | None = None
    single: bool = False
    card: Size | None = None
    cut_marks: bool = False
    fold: bool = False
    working: bool = False


def render(word: str, plan: Plan, result: Result, wishes: Wishes) -> str:
    """One part as self-contained HTML; ``word`` is one of WORDS."""
    from circuitplan.report.paper.sheet import render_sheet

    if word == "labels":
        from circuitplan.report.labels.view import render_labels, stocks

        stock = wishes.label or stocks()["flag"]
        return render_labels(plan, result, stock, wishes.vehicles, wishes.single)
    if word == "cuts":
        from circuitplan.report.cuts.view import view as cuts

        sheet = cuts(plan, result, wishes.vehicles, wishes.reels_mm)
        return render_sheet(plan, sheet, warning(result))
    if word == "parts":
        from circuitplan.report.parts_list.view import view as parts

        sheet = parts(plan, result, wishes.vehicles, wishes.reels_mm, wishes.prices)
        return render_sheet(plan, sheet, warning(result))
    room = import_module(f"circuitplan.report.{_ROOMS[word]}.view")
    return render_sheet(plan, room.view(plan, result), warning(result))


def csv_of(word: str, plan: Plan, result: Result, wishes: Wishes) -> str:
    """One part as CSV; ``word`` is one of AS_CSV."""
    if word == "labels":
        from circuitplan.report.labels.view import as_csv as labels

        return labels(result, wishes.vehicles)
    if word == "cuts":
        from circuitplan.report.cuts.view import as_csv as cuts

        return cuts(result, wishes.vehicles, wishes.reels_mm)
    if word == "parts":
        from circuitplan.report.parts_list.view import as_csv as parts

        return parts(plan, result, wishes.vehicles, wishes.reels_mm, wishes.prices)
    from circuitplan.report.test_sheet.view import as_csv as test

    return test(plan)
