"""Parts to buy, counted from the finished circuits and panels."""

from __future__ import annotations

from collections import defaultdict

from circuitplan.design.bench import plugged
from circuitplan.model.result import Circuit, Fuse, PanelResult, Part, Run


def parts(circuits: tuple[Circuit, ...], panels: tuple[PanelResult, ...]) -> tuple[Part, ...]:
    """Wire by size, insulation and colour (drawn length, no slack), fuses and more to buy."""
    wire: dict[tuple[str, str, str], float] = defaultdict(float)
    pieces: dict[tuple[str, str, str | None], int] = defaultdict(int)
    runs: list[Run] = [r for c in circuits for r in c.runs] + [r for p in panels for r in p.feeder]
    for run in runs:
        if not (run.given and run.unknown):
            material = "" if run.material == "copper" else f", {run.material}"
            wire[(f"wire, {run.insulation}{material}", run.size, run.colour)] += (
                run.length_m * run.pieces
            )
    fuses: list[Fuse] = [f for c in circuits for f in c.fuses]
    fuses += [p.fuse for p in panels if p.fuse is not None]
    for fuse in fuses:
        if fuse.type != "output":
            pieces[(f"fuse, type {fuse.type}", f"{fuse.rating_a:g} A", fuse.colour)] += 1
    for circuit in circuits:
        for relay in circuit.relays:
            pieces[(relay.type, f"{relay.contact_a:g} A", None)] += 1
            if relay.diodes:
                pieces[("diode between trigger and coil", "1 A, 100 V", None)] += relay.diodes
    for connector in plugged.of(circuits, panels):
        for need in plugged.needs(connector):
            pieces[(need.what, need.size, None)] += need.quantity
    found = [
        Part(what, size, colour, 1, round(length, 3))
        for (what, size, colour), length in wire.items()
    ]
    found += [Part(what, size, colour, n, None) for (what, size, colour), n in pieces.items()]
    return tuple(sorted(found, key=lambda p: (p.what, p.size, p.colour or "")))


def isolation(circuits: tuple[Circuit, ...], batteries: tuple[str, ...]) -> tuple[str, ...]:
    """How to cut every source, what sticks first: isolators, then negatives, then posts."""
    steps = [
        f"{c.label}: open its isolator ({c.isolator_a:g} A)" for c in circuits if c.isolator_a
    ]
    for name in batteries:
        shown = name if "battery" in name.casefold().split() else f"{name} battery"
        steps.append(f"{shown}: take off the negative post first, fit it last")
    return tuple(steps)
