"""Invented tasks and plans for the choice of sizes, the same for the same seed."""

from __future__ import annotations

import random
from dataclasses import replace

from circuitplan.design.copper.task import Limit, Task, Wire

AREAS = (1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0, 50.0)


def random_task(seed: int, feeders: int, branches: int, sizes: int = 5, tight: float = 1.0) -> Task:
    """Branches on feeders, every branch with a limit of its own over both."""
    draw = random.Random(seed)
    wires: list[Wire] = []
    amps = [draw.randint(1, 20) for _ in range(branches)]
    fed = [draw.randrange(feeders) for _ in range(branches)]
    start = draw.randrange(3)
    areas = AREAS[start : start + sizes]
    lengths = [draw.uniform(1.0, 6.0) for _ in range(feeders + branches)]
    for n, length in enumerate(lengths):
        cost = tuple(round(179.2 * length * area) for area in areas)
        wires.append(Wire(f"W{n}", tuple(f"{a:g} mm2" for a in areas), cost, draw.randrange(2)))
    limits: list[Limit] = []
    for b in range(branches):
        feeder = fed[b]
        through = sum(a for a, f in zip(amps, fed, strict=True) if f == feeder)
        uses = {
            w: tuple(round(2e6 * 0.0172 * lengths[w] * i / area) for area in areas)
            for w, i in ((feeder, through), (feeders + b, amps[b]))
        }
        least = sum(u[-1] for u in uses.values())
        most = sum(u[0] for u in uses.values())
        limits.append(Limit(f"L{b}", uses, round(least + draw.uniform(0.02, 0.6) * (most - least)
                                                 / tight)))
    return Task(tuple(wires), tuple(limits))


def priced_task(task: Task, seed: int) -> Task:
    """The same wires by a price list without rhyme: thicker may be cheaper, some sizes missing."""
    draw = random.Random(seed)
    sizes = sorted({size for wire in task.wires for size in wire.sizes})
    prices = {size: draw.randint(1, 60) for size in sizes}
    missing = {size for size in prices if draw.random() < 0.2}
    return Task(
        tuple(
            replace(
                w, cost=tuple(round(w.cost[0] / 10) * prices[s] for s in w.sizes),
                barred=frozenset(i for i, s in enumerate(w.sizes) if s in missing),
            )
            for w in task.wires
        ),
        task.limits,
    )


def plan_text(seed: int, accessories: int) -> str:
    """A vehicle with 1 panel and 4 switch leads to 10 accessories: 200 have 300 wires.

    In odd seeds the first panel feeds the others, so that all hang on one wire.
    """
    draw = random.Random(seed)
    amps = (0.5, 1, 2, 3, 4) if seed % 2 == 0 else (0.3, 0.5, 1, 1.5)
    panels = max(1, accessories // 10)
    switches = max(1, accessories * 2 // 5)
    lines = [
        "circuitplan: 1", "system: 12 V", "supply:",
        "  battery: {type: agm, capacity: 200 Ah, cranking: 1200 A, place: bay}",
        "  alternator: 300 A",
        "places: {bay: 50 °C, cab: 40 °C, bed: 40 °C}",
        "legs: [[bay, cab, 2 m], [cab, bed, 3 m]]",
        "panels:",
    ]
    for p in range(panels):
        place = draw.choice(["cab", "bed"])
        above = "battery" if p == 0 or seed % 2 == 0 else "p0"
        lines.append(f"  p{p}: {{place: {place}, fed_from: {above}}}")
    lines.append("switches:")
    for s in range(switches):
        lines.append(f"  S{s}: {{rating: 40 A, place: {draw.choice(['cab', 'bed'])}}}")
    lines.append("accessories:")
    for a in range(accessories):
        s = a % switches
        lines.append(
            f"  - {{name: A{a}, current: {draw.choice(amps)} A, load: resistance, "
            f"place: {draw.choice(['cab', 'bed', 'bay'])}, fed_from: p{s % panels}, switch: S{s}, "
            f"tail: {draw.uniform(0.3, 2):.1f} m, return: wire}}"
        )
    return "\n".join(lines) + "\n"
