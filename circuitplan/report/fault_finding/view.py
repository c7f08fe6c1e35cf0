"""Fault finding on paper: a table of steps for a dead and for a weak accessory."""

from __future__ import annotations

from circuitplan.design.bench.chain import chains, sized
from circuitplan.design.bench.faultfinding import FULL, NONE, Branch, Step, shortest
from circuitplan.design.bench.way import Way, way_of
from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.report import show
from circuitplan.report.paper.sheet import Block, Sheet
from circuitplan.report.table import Cell, Column, Table, cells

LEAD = (
    "Set the meter to volts, black lead on the negative post of the source, everything of the "
    "circuit switched on, the accessory plugged in. Each reading names the next step or the fault.",
    "A fuse that blows again: stop, leave it out. Unplug the accessory and fit the same rating "
    "once more. It holds: the accessory is shorted. It blows: the wire is shorted to the body "
    "somewhere before it; isolate the battery and measure ohms from each wire to the body.",
    "Never bridge a fuse. Keep hands, rings and tools off live studs; keep off airbag wiring.",
)


def view(plan: Plan, result: Result) -> Sheet:
    """One block an accessory."""
    blocks = []
    for chain in chains(sized(plan)):
        way = way_of(chain, result)
        tables = []
        for symptom, said in (("dead", "Dead"), ("weak", "Weak: dim or slow")):
            step = shortest(way, "dead" if symptom == "dead" else "weak")
            if step is not None:
                tables.append(_table(said, step, way))
        blocks.append(Block(f"{chain.circuit} {chain.title}", tables=tuple(tables),
                            words=_order(way), together=True))
    return Sheet("Fault finding", LEAD, tuple(blocks))


def _order(way: Way) -> tuple[str, ...]:
    names = " → ".join(e.name for e in way.main)
    coil = f" Coil: {' → '.join(e.name for e in way.coil)}." if way.coil else ""
    return (f"From the source's positive: {names}.{coil}",)


def numbered(step: Step) -> list[Step]:
    """Steps in the order in which they are met, first one first."""
    found = [step]
    for here in found:
        found += [b.then for b in here.branches if b.then is not None]
    return found


def _table(said: str, first: Step, way: Way) -> Table:
    steps = numbered(first)
    at = {id(s): n for n, s in enumerate(steps, start=1)}
    rows = []
    for n, step in enumerate(steps, start=1):
        by = {b.reads: b for b in step.branches}
        said_by = [_then(by.get(kind), at) for kind in ("full", "part", "none")]
        rows.append(cells(str(n), step.point.at, *said_by))
    full, none = (show.rating(round(share * way.source_v, 1)) for share in (FULL, NONE))
    many = f"{first.depth} measurement{'s' if first.depth > 1 else ''}"
    return Table(f"{said}: {many} at worst", (
        Column("Step", 6), Column("Red lead at", 26), Column(f"{full} V or more", 26),
        Column(f"{none} to {full} V", 26), Column(f"{none} V or less", 26),
    ), tuple(rows))


def _then(branch: Branch | None, at: dict[int, int]) -> Cell:
    """Where a reading leads: a step, the fault, or nowhere (no likely fault reads so)."""
    if branch is None:
        return Cell("–")
    if branch.then is not None:
        return Cell(f"go to step {at[id(branch.then)]}")
    return Cell(", or ".join(branch.faults), mark="fault")
