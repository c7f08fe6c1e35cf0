"""Every panel as it sits: a box a way with its fuse, then its relays; free ways stay empty."""

from __future__ import annotations

import re

from circuitplan.model.plan import Plan
from circuitplan.model.result import Circuit, Fuse, PanelResult, Relay, Result
from circuitplan.report import show
from circuitplan.report.fonts import wrap
from circuitplan.report.paper.sheet import Block, Sheet
from circuitplan.report.svg import Canvas
from circuitplan.report.table import Cell, Column, Picture, Table, cells

COLUMNS, BOX_W, BOX_H, GAP = 4, 43.0, 22.5, 1.5
_WAY = re.compile(r"way (\d+)$")


def view(plan: Plan, result: Result) -> Sheet:
    """One block a panel, and one for the fuses that sit elsewhere."""
    blocks = [_panel(result, p) for p in result.panels]
    loose = _elsewhere(result)
    if loose.rows:
        blocks.append(Block("Outside the panels", tables=(loose,)))
    lead = (
        "Ways are numbered as planned, left to right and down; an empty box is a free way. "
        "Never fit a larger fuse than is printed here.",
    )
    return Sheet("Panel map", lead, tuple(blocks))


def ways(result: Result, panel: PanelResult) -> dict[int, tuple[Fuse, str, str]]:
    """Way -> (fuse, number of the circuit, what it feeds)."""
    found: dict[int, tuple[Fuse, str, str]] = {}
    for circuit in result.circuits:
        for fuse in circuit.fuses:
            if way := _way(fuse, panel.id):
                found[way] = fuse, str(circuit.number), circuit.label
    for other in result.panels:
        if other.fuse is not None and (way := _way(other.fuse, panel.id)):
            found[way] = other.fuse, "", f"feeder of {other.id}"
    return dict(sorted(found.items()))


def _way(fuse: Fuse, panel: str) -> int | None:
    if not fuse.position.startswith(f"{panel}, way"):
        return None
    match = _WAY.search(fuse.position)
    return int(match.group(1)) if match else None


def _panel(result: Result, panel: PanelResult) -> Block:
    used = ways(result, panel)
    count = max([panel.ways or 0, *used])
    relays = [(c, r) for c in result.circuits for r in c.relays if r.position == panel.id]
    rows = -(-count // COLUMNS)
    canvas = Canvas(
        COLUMNS * BOX_W + (COLUMNS - 1) * GAP, max(rows, 1) * (BOX_H + GAP),
        f"Ways of {panel.id}: "
        + ("; ".join(f"{w} {f.id} {show.rating(f.rating_a)} A {n}" for w, (f, _, n) in used.items())
           or "none in use"),
    )
    for way in range(1, count + 1):
        column, row = (way - 1) % COLUMNS, (way - 1) // COLUMNS
        _box(canvas, column * (BOX_W + GAP), row * (BOX_H + GAP), way, used.get(way))
    feed = (
        f"Fed from {panel.fed_from} through {panel.fuse.id}, {show.rating(panel.fuse.rating_a)} A, "
        f"{panel.fuse.position}."
        if panel.fuse else f"Fed from {panel.fed_from} without a fuse: {panel.fuse_reason}."
    )
    spare = f" {show.down(panel.spare_a)} A to spare." if panel.spare_a is not None else ""
    free = f" {max(panel.free_ways, 0)} free ways." if panel.free_ways is not None else ""
    pictures = (Picture(f"Ways of {panel.id}", canvas.render(), canvas.title),) if count else ()
    return Block(
        f"{panel.id}{f', {panel.place}' if panel.place else ''}", (feed + free + spare,),
        tables=(_relays(relays),) if relays else (), pictures=pictures, together=rows < 8,
    )


def _box(
    canvas: Canvas, x: float, y: float, way: int, what: tuple[Fuse, str, str] | None
) -> None:
    canvas.box(x, y, BOX_W, BOX_H, width=0.5 if what else 0.2)
    canvas.text(x + 1.5, y + 4.5, str(way), 4.0, bold=True)
    if what is None:
        canvas.text(x + BOX_W / 2, y + BOX_H / 2 + 1.0, "free", 3.6, anchor="middle")
        return
    fuse, number, label = what
    canvas.text(x + BOX_W - 1.5, y + 4.5, fuse.id, 4.0, bold=True, anchor="end")
    words = f"{show.rating(fuse.rating_a)} A {fuse.type}"
    canvas.text(x + 1.5, y + 10.0, words, 4.2, bold=True)
    if fuse.colour:
        canvas.text(x + BOX_W - 1.5, y + 10.0, fuse.colour, 3.4, anchor="end")
    lines = wrap(f"{number} {label}".strip(), 3.4, BOX_W - 3.0)
    if len(lines) > 3:
        lines = (*lines[:2], lines[2][: max(1, len(lines[2]) - 2)] + "…")
    for n, line in enumerate(lines):
        canvas.text(x + 1.5, y + 14.6 + 3.9 * n, line, 3.4)


def _relays(found: list[tuple[Circuit, Relay]]) -> Table:
    rows = []
    for circuit, relay in found:
        rows.append(cells(
            relay.id, Cell(relay.type, f"{show.rating(relay.contact_a)} A"),
            f"{circuit.number} {circuit.label}",
            f"{show.listed(relay.switches)} {relay.at}".strip(), relay.terminals,
        ))
    return Table("Relays", (
        Column("Relay", 10), Column("Type", 26), Column("Works", 30), Column("Worked by", 18),
        Column("Terminals (DIN 72552)", 20),
    ), tuple(rows))


def _elsewhere(result: Result) -> Table:
    owned = [(c.label, f) for c in result.circuits for f in c.fuses]
    owned += [(f"feeder of {p.id}", p.fuse) for p in result.panels if p.fuse]
    panels = [p.id for p in result.panels]
    rows = [
        cells(f.id, f"{show.rating(f.rating_a)} A {f.type}", f.colour or "–", f.position, name)
        for name, f in owned
        if not any(_way(f, p) for p in panels)
    ]
    return Table("Fuses outside the panels", (
        Column("Fuse", 10), Column("Rating and type", 24), Column("Colour", 16),
        Column("Where", 30), Column("Protects", 30),
    ), tuple(rows))
