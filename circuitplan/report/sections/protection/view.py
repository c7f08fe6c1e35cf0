"""Fuses with their limits on both sides, fault clearing, relays with their coils."""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.model.plan import Plan
from circuitplan.model.result import Fault, Fuse, Relay, Result
from circuitplan.planner.holding import MARK, unheld_parts
from circuitplan.report import show
from circuitplan.report.table import Cell, Column, Table, cells
from circuitplan.report.words import all_fuses, all_relays, circuit_name, switch_names, unprotected


@dataclass(frozen=True, slots=True)
class View:
    fuses: Table
    unfused: Table
    faults: Table
    relays: Table


def build(plan: Plan, result: Result) -> View:
    """Every device of the result, feeders first."""
    names = switch_names(result)
    bad = unheld_parts(result)
    faults = [(f"feeder of {p.id}", p.fault) for p in result.panels if p.fault]
    faults += [(circuit_name(c), c.fault) for c in result.circuits if c.fault]
    return View(
        Table(
            "Fuses and breakers",
            (
                Column("Fuse", 13),
                Column("Protects", 25),
                Column("Rating", 20),
                Column("Position", 28),
                Column("Load asks, A", 12, "right"),
                Column("Wire allows, A", 13, "right"),
                Column("Breaks, kA", 13, "right"),
                Column("May see, kA", 13, "right"),
                Column("Why this one", 43),
            ),
            tuple(_fuse(owner, f, f.id in bad) for owner, f in all_fuses(result)),
            "there are no fuses.",
        ),
        Table(
            "Without a fuse",
            (Column("What", 50), Column("Reason", 130)),
            tuple(cells(name, reason) for name, reason in unprotected(result)),
        ),
        Table(
            "A short circuit at the far end",
            (
                Column("Circuit", 40),
                Column("Wire", 20),
                Column("Fault, A", 18, "right"),
                Column("Cleared within, s", 28, "right"),
                Column("Wire stands, s", 22, "right"),
                Column("Overload band", 24),
                Column("Opens before the feeder's fuse", 28),
            ),
            tuple(_fault(owner, f) for owner, f in faults),
            "not computed.",
        ),
        Table(
            "Relays",
            (
                Column("Relay", 11),
                Column("Circuit", 28),
                Column("Type", 19),
                Column("Contact, A", 14, "right"),
                Column("Needs, A", 13, "right"),
                Column("Coil, A", 15, "right"),
                Column("Pulls in hot, V", 14, "right"),
                Column("Coil gets, V", 13, "right"),
                Column("Terminals", 18),
                Column("Worked by", 20),
                Column("Position", 20),
            ),
            tuple(_relay(circuit_name(c), r, names) for c, r in all_relays(result)),
        ),
    )


def _kilo(value: float | None) -> float | None:
    return None if value is None else value / 1000.0


def _fuse(owner: str, f: Fuse, bad: bool) -> tuple[Cell, ...]:
    notes = [f"type {f.type}", f.colour or ""]
    if f.short_circuit_only:
        notes.append("short circuit only")
    weak = f.breaking_capacity_a is not None and f.breaking_capacity_a < f.prospective_a
    mark = "" if not weak else ("backed up" if f.behind_sufficient else "too weak")
    return cells(
        f.id,
        Cell(owner, f.protects),
        Cell(f"{show.rating(f.rating_a)} A", ", ".join(n for n in notes if n), "!" * bad),
        Cell(f.position, f"{show.up(f.ambient_c, 0)} °C"),
        show.up(f.min_a),
        show.down(f.max_a),
        Cell(show.down(_kilo(f.breaking_capacity_a)), mark=mark),
        show.up(_kilo(f.prospective_a)),
        Cell(MARK if bad else f.why, "given in the plan" if f.given else ""),
    )


def _fault(owner: str, f: Fault) -> tuple[Cell, ...]:
    slow = f.clears_s is None or (f.allowed_s is not None and f.clears_s > f.allowed_s)
    return cells(
        owner,
        f.run,
        show.down(f.current_a, 0),
        Cell(
            "not shown to clear" if f.clears_s is None else show.up(f.clears_s),
            mark="too slow" if slow and f.clears_s is not None else "",
        ),
        show.down(f.allowed_s),
        "proved" if f.overload_proved else "not proved",
        {"single": "no fuse above"}.get(f.selective, f.selective),
    )


def _relay(owner: str, r: Relay, names: dict[str, str]) -> tuple[Cell, ...]:
    return cells(
        r.id,
        owner,
        r.type,
        Cell(show.rating(r.contact_a),
             "" if r.break_a is None else f"break {show.rating(r.break_a)}"),
        show.up(r.needed_a),
        Cell(show.up(r.coil_a), f"cold {show.up(r.cold_coil_a)}"),
        show.up(r.pick_up_hot_v, 1),
        show.down(r.coil_low_v, 1),
        r.terminals,
        Cell(
            f"{show.listed([names.get(s, s) for s in r.switches])} {r.at}".strip(),
            "each through a diode of its own" if r.diodes else "",
        ),
        r.position,
    )
