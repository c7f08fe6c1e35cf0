"""Every wire: where it runs, what it is, what it carries and what it may carry."""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.design.bench.pieces import both_gauges
from circuitplan.design.bench.plugged import Plugs, connectors, ends, where
from circuitplan.model.plan import Plan
from circuitplan.model.result import Result, Run
from circuitplan.planner.holding import MARK, unheld_parts
from circuitplan.report import show
from circuitplan.report.table import Cell, Column, Table, cells
from circuitplan.report.words import all_runs


@dataclass(frozen=True, slots=True)
class View:
    table: Table
    sources: tuple[tuple[str, str], ...]  # letter, source of the ampacity


def build(plan: Plan, result: Result) -> View:
    """Feeders first, then circuits in order; the note under a size says what ruled it."""
    runs = tuple(all_runs(result))
    sources = dict.fromkeys(r.ampacity_source for _, r in runs)
    letters = {source: _letter(i) for i, source in enumerate(sources)}
    bad, plugs = unheld_parts(result), ends(connectors(result))
    return View(
        Table(
            "Wires",
            (
                Column("Wire", 14),
                Column("From", 19),
                Column("To", 22),
                Column("Colour", 11),
                Column("Size", 38),
                Column("Insulation, way", 29),
                Column("Length, m", 11, "right"),
                Column("Current, A", 15, "right"),
                Column("May carry, A", 17, "right"),
                Column("Loading, %", 13, "right"),
                Column("Fuse", 11),
            ),
            tuple(
                _row(run, letters[run.ampacity_source], run.id in bad, plugs) for _, run in runs
            ),
            "the plan has no wires.",
        ),
        tuple((letter, source) for source, letter in letters.items()),
    )


def _other(run: Run) -> str:
    """The other gauge's first size with no more resistance, if its table goes so far."""
    other = next(x for x in both_gauges(run) if x != run.size)
    return "" if other == "—" else f" ({other})"


def _letter(index: int) -> str:
    """a to z, then aa, ab, ..."""
    prefix = _letter(index // 26 - 1) if index >= 26 else ""
    return prefix + chr(ord("a") + index % 26)


def _row(r: Run, source: str, bad: bool, plugs: Plugs) -> tuple[Cell, ...]:
    pieces = f"{r.pieces} × " if r.pieces > 1 else ""
    origin = "given in the plan" if r.given else f"ruled by {r.limited_by}"
    if r.unknown:
        origin = "existing, size unknown: thinnest it can be"
    next_ = f"; {r.next_smaller}" if r.next_smaller else ""
    ambient = f"{show.up(r.ambient_c, 0)} °C{' assumed' if r.ambient_assumed else ''}"
    hot = r.peak_c if r.peak_c is not None else r.conductor_c
    bundle = f"{r.bundle_wires} in bundle" if r.bundle_wires > 1 else ""
    way = ", ".join(x for x in (" – ".join(r.places), ambient, bundle) if x)
    return cells(
        Cell(r.id, r.role),
        where(r, r.from_, plugs),
        where(r, r.to, plugs),
        r.colour,
        Cell(
            f"{pieces}{r.size}{_other(r)}", f"{MARK}; {origin}" if bad else f"{origin}{next_}",
            "!" * bad,
        ),
        Cell(f"{r.insulation}", way),
        show.up(r.length_m, 2),
        Cell(show.up(r.current_a), f"at {show.up(hot, 0)} °C"),
        Cell(show.down(r.ampacity_a), f"source {source}"),
        Cell(show.up(100.0 * r.loading, 0), mark="over" if r.loading > 1.0 else ""),
        r.protected_by or "none",
    )
