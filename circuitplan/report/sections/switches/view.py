"""Which switch works what, and how near its contacts are to their limit."""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.model.plan import Plan
from circuitplan.model.result import Result, SwitchResult
from circuitplan.planner.room import Room, rooms
from circuitplan.report import show
from circuitplan.report.load_bars import LoadBar, load_bars
from circuitplan.report.switch_bank import switch_bank
from circuitplan.report.table import Cell, Column, Picture, Table, cells

_KINDS = {
    "direct": "carries the load",
    "relay": "works a relay",
    "output": "vehicle output",
    "signal": "vehicle signal",
}
_BOTH_WAYS = {"direct": "carries a motor, two ways", "relay": "works two relays in turn"}


@dataclass(frozen=True, slots=True)
class View:
    bank: Picture | None
    picture: Picture | None
    table: Table


def build(plan: Plan, result: Result) -> View:
    """Rows in the order of the plan; switches that only the result knows come last."""
    place = {s.name: i for i, s in enumerate(plan.switches)}
    switches = sorted(result.switches, key=lambda s: place.get(s.id, len(place)))
    bars = tuple(
        LoadBar(
            name=s.id,
            label="" if s.label == s.id else s.label,
            load=s.current_a,
            limit=s.usable_a,
            text=_bar_text(s),
        )
        for s in switches
    )
    left = rooms(result)
    picture = bank = None
    if any(s.type != "signal" for s in switches):
        svg, alternative = switch_bank(switches, left, "Switches as they sit, with what they work")
        bank = Picture(
            "Switches as they sit, in the order of the plan, what each works, and what may be "
            "added until what stands in brackets is full. The bar is its load; solid black: over.",
            svg,
            alternative,
        )
    if bars:
        svg, alternative = load_bars(
            bars, "Load of each switch as a share of what its contacts may carry"
        )
        picture = Picture(
            "Load of each switch against what its contacts may carry for this kind of load "
            "(full width = limit). Solid black: over the limit.",
            svg,
            alternative,
        )
    both = {s for c in result.circuits if any(a.motor for a in c.accessories) for s in c.switches}
    return View(bank, picture, _table(switches, both, left))


def _bar_text(s: SwitchResult) -> str:
    if s.usable_a is None:
        return f"{show.up(s.current_a)} A, rating not given"
    return f"{show.up(s.current_a)} A of {show.down(s.usable_a)} A"


def _table(
    switches: list[SwitchResult], both: set[str], left: dict[str, Room]
) -> Table:
    """``both``: those that work a motor in two ways; ``left``: what each may still carry."""
    rows = []
    for s in switches:
        over = s.spare_a is not None and s.spare_a < 0.0
        room = left.get(s.id, Room(s.spare_a, ""))
        factors = "; ".join(f"{n} {show.up(a)} A × {show.rating(f)}" for n, a, f in s.factors)
        kind = (_BOTH_WAYS if s.id in both else _KINDS).get(s.type, s.type)
        rows.append(
            cells(
                Cell(s.id, "" if s.label == s.id else s.label),
                show.listed(s.works),
                Cell(kind, s.signal or ""),
                show.up(s.current_a),
                Cell(show.up(s.needed_a), factors),
                show.rating(s.rating_a),
                show.down(s.usable_a),
                Cell(
                    show.down(min(room.spare_a or 0.0, s.spare_a or 0.0) if over else room.spare_a),
                    room.limit, "over" if over else "",
                ),
                Cell(s.live, s.place or ""),
            )
        )
    return Table(
        "Switch assignments",
        (
            Column("Switch", 20),
            Column("Works", 30),
            Column("How", 20),
            Column("Current, A", 14, "right"),
            Column("Needs, A", 34, "right"),
            Column("Rated, A", 13, "right"),
            Column("Usable, A", 14, "right"),
            Column("Spare, A", 26),
            Column("Live with, place", 20),
        ),
        tuple(rows),
        "the plan has no switches.",
    )
