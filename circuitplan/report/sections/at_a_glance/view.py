"""The circuits on the first sheet: switch, what, current, wire in both gauges, fuse."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from circuitplan.design.bench.pieces import both_gauges
from circuitplan.model.plan import Plan
from circuitplan.model.result import Circuit, Fuse, PanelResult, Result, Run
from circuitplan.planner.holding import MARK, failing
from circuitplan.report import show
from circuitplan.report.table import Cell, Column, Table, cells


@dataclass(frozen=True, slots=True)
class View:
    table: Table
    more: str


def build(plan: Plan, result: Result) -> View:
    """A line a circuit that feeds something, then the feeders of panels; coils are counted."""
    bad = failing(result)
    feeding = [c for c in result.circuits if c.accessories]
    coils = len(result.circuits) - len(feeding)
    rows = [_circuit(c, c.id in bad) for c in feeding]
    rows += [_panel(p, p.id in bad) for p in result.panels if p.feeder]
    more = "One gauge is the size as planned, the other the first with no more resistance."
    if coils:
        more += (
            f" {coils} more circuit{'s' if coils > 1 else ''} of relay coils: see the circuit "
            "schedule."
        )
    return View(
        Table(
            "Circuits at a glance",
            (
                Column("No.", 6), Column("Feeds", 34), Column("Switch", 18),
                Column("Current, A", 17), Column("Wire, mm²", 14), Column("AWG", 13),
                Column("Fuse", 28),
            ),
            tuple(rows),
            "the plan has no circuits.",
        ),
        more,
    )


def _circuit(c: Circuit, bad: bool) -> tuple[Cell, ...]:
    names = ", ".join(a.name for a in c.accessories)
    peak = f", peak {show.up(c.peak_a)}" if c.peak_a else ""
    fuse = _fuses(c.fuses)
    if not fuse:
        fuse = (
            f"none: isolator {show.rating(c.isolator_a)} A" if c.isolator_a is not None else "none"
        )
    feeds = [r for r in c.runs if r.role == "feed"]
    return cells(
        str(c.number), Cell(names, MARK if bad else "", "!" if bad else ""),
        show.listed(c.switches) if c.switches else "no switch",
        show.up(c.current_a) + peak, *_sizes(feeds), fuse,
    )


def _panel(p: PanelResult, bad: bool) -> tuple[Cell, ...]:
    return cells(
        show.BLANK, Cell(f"feeder of {p.id}", MARK if bad else "", "!" if bad else ""), show.BLANK,
        show.up(p.current_a), *_sizes([r for r in p.feeder if r.role == "feed"]),
        _fuses([p.fuse] if p.fuse else []) or "none",
    )


def _sizes(runs: Iterable[Run]) -> tuple[str, str]:
    """Both gauges of every size, thickest first; a wire of unknown size says so."""
    both = [
        ("unknown", "unknown") if r.unknown else both_gauges(r)
        for r in sorted(runs, key=lambda r: -r.area_mm2)
    ]
    metric = dict.fromkeys(m.removesuffix(" mm²") for m, _ in both)
    awg = dict.fromkeys(a.removesuffix(" AWG") for _, a in both)
    return ", ".join(metric) or show.BLANK, ", ".join(awg) or show.BLANK


def _fuses(fuses: Iterable[Fuse]) -> str:
    return ", ".join(
        f"{f.id} {show.rating(f.rating_a)} A{f' {f.colour}' if f.colour else ''}" for f in fuses
    )
