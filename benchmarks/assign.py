"""How long the best choice of switches takes to find and prove.

    python benchmarks/assign.py            the job of 60 accessories on 24 switches, 20 plans
    python benchmarks/assign.py growth     25, 50, 100, 200 accessories, 3 plans each

Plans are invented and seeded (tests/assign/random_tasks.py, shop_task): two panels, one row of
switches of which about two in three carry their load. Printed: median and slowest time, how many
were proven, and the largest gap of those that were not.
"""

from __future__ import annotations

import statistics
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "assign"))

from random_tasks import shop_task

from circuitplan.design.assigning.decide import Impossible, decide


def measure(items: int, switches: int, plans: int, limit_s: float) -> None:
    """Time some plans of one size; wall-clock and processor seconds of this process."""
    wall, cpu, gaps, unproven, none = [], [], [0.0], 0, 0
    for seed in range(plans):
        task = shop_task(seed, items, switches)
        start, worked = time.perf_counter(), time.process_time()
        try:
            found = decide(task, time_limit_s=limit_s)
        except TimeoutError:
            found = ()
        wall.append(time.perf_counter() - start)
        cpu.append(time.process_time() - worked)
        if isinstance(found, Impossible):
            none += 1
        elif not found or not found[0].proven:
            unproven += 1
            gaps.append(found[0].gap if found else 1.0)
    print(
        f"{items} accessories, {switches} switches, {plans} plans: "
        f"median {statistics.median(wall):.2f} s (processor {statistics.median(cpu):.2f} s), "
        f"slowest {max(wall):.2f} s (processor {max(cpu):.2f} s); "
        f"proven {plans - unproven - none}, impossible {none}, not proven {unproven}, "
        f"largest gap {max(gaps):.2g}",
        flush=True,
    )


def main() -> None:
    """Run what the command line names."""
    if sys.argv[1:] == ["growth"]:
        for items in (25, 50, 100, 200):
            measure(items, items * 2 // 5, 3, 30.0)
    else:
        measure(60, 24, 20, 30.0)


if __name__ == "__main__":
    main()
