"""How the time of a study grows with the plan: 25, 50, 100, 200 accessories.

Prints seconds, and the ratio to the plan of half the size; judges nothing.
Run: python benchmarks/solve_growth.py [LARGEST]
"""

from __future__ import annotations

import sys
import time

from circuitplan.model.plan import Accessory, Alternator, Battery, Panel, Plan, Supply, Switch
from circuitplan.planner import study

SIZES = (25, 50, 100, 200)
PER_PANEL = 20
LOADS = ("constant power", "resistance", "torque motor", "filament", "fan motor")


def plan(count: int) -> Plan:
    """An invented vehicle: a panel for every 20 accessories, every other one on a relay."""
    panels = tuple(
        Panel(f"P{i}", place="body", fed_from="battery", length_m=2.0)
        for i in range(-(-count // PER_PANEL))
    )
    switches = tuple(
        Switch(f"S{i:03d}", type="relay", rating_a=1.0) for i in range(0, count, 2)
    )
    accessories = tuple(
        Accessory(
            f"A{i:03d}", current_a=1.0 + i % 7, load=LOADS[i % len(LOADS)],  # type: ignore[arg-type]
            length_m=0.5 + i % 5, back="wire", fed_from=panels[i // PER_PANEL].name,
            switches=(f"S{i:03d}",) if i % 2 == 0 else (),
        )
        for i in range(count)
    )  # fmt: skip
    battery = Battery("battery", "agm", 200.0, 1200.0, "body")
    return Plan(
        supply=Supply(batteries=(battery,), alternator=Alternator(250.0, 150.0)),
        panels=panels, switches=switches, accessories=accessories,
    )  # fmt: skip


def main() -> None:
    """Study each size once, after a small one that loads the tables."""
    largest = int(sys.argv[1]) if len(sys.argv) > 1 else SIZES[-1]
    study(plan(5))
    before: float | None = None
    for count in (size for size in SIZES if size <= largest):
        begin = time.perf_counter()
        result = study(plan(count))
        taken = time.perf_counter() - begin
        growth = "" if before is None else f", {taken / before:.1f} times the one before"
        print(f"{count:4d} accessories, {len(result.circuits)} circuits: {taken:.2f} s{growth}")
        before = taken


if __name__ == "__main__":
    main()
