"""One line a circuit: what it feeds, its wire, fuse, relay and drop."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from circuitplan.model.plan import Plan
from circuitplan.model.result import Circuit, PanelResult, Result
from circuitplan.planner.holding import MARK, failing
from circuitplan.report import show
from circuitplan.report.table import Cell, Column, Table, cells
from circuitplan.report.words import switch_names


@dataclass(frozen=True, slots=True)
class View:
    table: Table
    panels: Table


def build(plan: Plan, result: Result) -> View:
    """Circuits in the order of the result, then what feeds them."""
    names = switch_names(result)
    bad = failing(result)
    return View(
        Table(
            "Circuits",
            (
                Column("No.", 8),
                Column("Feeds", 34),
                Column("Fed from", 20),
                Column("Worked by", 20),
                Column("Current, A", 15, "right"),
                Column("Wire", 20),
                Column("Length, m", 13, "right"),
                Column("Fuse", 23),
                Column("Relay", 24),
                Column("Drop, %", 14, "right"),
                Column("Volts at load, V", 12, "right"),
            ),
            tuple(_row(c, names, c.id in bad) for c in result.circuits),
            "the plan has no circuits.",
        ),
        _panels(result, bad),
    )


def _row(c: Circuit, names: dict[str, str], bad: bool) -> tuple[Cell, ...]:
    """``bad``: a finding fails it, so that wire and fuse stand there marked, never as sound."""
    mark = "!" if bad else ""
    unheld = MARK if bad else ""
    unknown = "existing, size unknown" if any(r.unknown for r in c.runs if r.role == "feed") else ""
    feeds = [f for f in c.runs if f.role == "feed"] or [f for f in c.runs if f.role == "control"]
    sizes = tuple(dict.fromkeys(r.size for r in feeds))
    peak = f"peak {show.up(c.peak_a)}" if c.peak_a else ""
    duty = next(
        (
            f"{show.seconds(a.on_s)} in {show.seconds(a.period_s)}"
            for a in c.accessories
            if a.on_s is not None and a.period_s is not None
        ),
        "",
    )
    over = c.drop is not None and c.drop.percent > c.drop.limit_percent
    return cells(
        str(c.number),
        Cell(c.label, _pieces(c)),
        Cell(c.panel, c.live),
        Cell(show.listed([names.get(s, s) for s in c.switches]) if c.switches else "no switch"),
        Cell(show.up(c.current_a), ", ".join(x for x in (peak, duty) if x)),
        Cell(show.listed(sizes), "; ".join(x for x in (unheld, unknown) if x), mark),
        show.up(max((r.length_m for r in feeds), default=None), 1),
        Cell(
            ", ".join(f"{f.id} {show.rating(f.rating_a)} A" for f in c.fuses) or "none",
            ", ".join(f"{f.type} {f.colour or ''}".strip() for f in c.fuses)
            or (c.fuse_reason or ""),
            mark,
        ),
        Cell(", ".join(r.id for r in c.relays) or show.BLANK, c.relay_reason or ""),
        Cell(
            show.up(c.drop.percent, 1) if c.drop else show.BLANK,
            f"of {show.rating(c.drop.limit_percent)}" if c.drop else "",
            "over" if over else "",
        ),
        show.down(c.drop.accessory_v, 1) if c.drop else show.BLANK,
    )


def _pieces(c: Circuit) -> str:
    """What the circuit feeds, where that says more than its label."""
    parts = [f"{a.quantity} × {a.name}" if a.quantity > 1 else a.name for a in c.accessories]
    text = ", ".join(parts)
    return "" if text == c.label else text


def _unheld(panel: PanelResult, bad: Collection[str]) -> str:
    return MARK if panel.id in bad else ""


def _panels(result: Result, bad: Collection[str]) -> Table:
    rows = tuple(
        cells(
            Cell(p.id, "assumed" if p.assumed else (p.place or "")),
            p.fed_from,
            Cell(
                show.listed(tuple(dict.fromkeys(r.size for r in p.feeder))),
                "; ".join(x for x in (_unheld(p, bad), ", ".join(r.id for r in p.feeder)) if x),
                "!" if p.id in bad else "",
            ),
            Cell(
                f"{p.fuse.id} {show.rating(p.fuse.rating_a)} A" if p.fuse else "none",
                p.fuse.position if p.fuse else (p.fuse_reason or ""),
                "!" if p.id in bad else "",
            ),
            show.up(p.current_a),
            show.rating(p.rating_a),
            Cell(
                show.down(p.spare_a),
                mark="over" if p.spare_a is not None and p.spare_a < 0.0 else "",
            ),
            show.BLANK if p.free_ways is None else f"{p.free_ways} of {p.ways}",
            show.BLANK if p.output_v is None else f"{show.rating(p.output_v)} V",
        )
        for p in result.panels
    )
    return Table(
        "Panels and feeders",
        (
            Column("Panel", 26),
            Column("Fed from", 22),
            Column("Feeder", 28),
            Column("Fuse", 36),
            Column("Current, A", 15, "right"),
            Column("Rated, A", 14, "right"),
            Column("Spare, A", 14, "right"),
            Column("Free ways", 14, "right"),
            Column("Output", 14, "right"),
        ),
        rows,
        "every circuit hangs on the battery.",
    )
