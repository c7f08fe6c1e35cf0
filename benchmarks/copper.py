"""How long the least copper of a whole plan takes to find and prove.

    python benchmarks/copper.py            200 accessories on 300 wires, 20 plans
    python benchmarks/copper.py growth     25, 50, 100, 200 accessories, 5 plans each

Plans are invented and seeded (tests/copper/random_wires.py). Timed is the choice on a plan sized
already: the program, the checks by the full rules, and the lower bound. Printed: median and slowest
time of those that have sizes which keep every limit, how many of these were proven, what was saved
against each wire alone, the gap to the lower bound.
"""

from __future__ import annotations

import statistics
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "copper"))

from random_wires import plan_text

from circuitplan.design import compose
from circuitplan.design.assume import Ledger
from circuitplan.design.copper.settle import settle
from circuitplan.planfile import read_text


def measure(accessories: int, plans: int) -> None:
    """Time some plans of one size; wall-clock and processor seconds of this process."""
    wall, cpu, saved, gaps, proven, wires, none = [], [], [], [], 0, 0, 0
    for seed in range(plans):
        state, _ = compose.sized(read_text(plan_text(seed, accessories)), Ledger(()))
        start, worked = time.perf_counter(), time.process_time()
        found = settle(state)
        if found is None:
            none += 1
            continue
        wall.append(time.perf_counter() - start)
        cpu.append(time.process_time() - worked)
        wires = len(found.parts)
        proven += found.chosen.proven
        saved.append(1.0 - found.chosen.cost / found.before)
        if found.bound:
            gaps.append(found.chosen.cost / found.bound - 1.0)
    print(
        f"{accessories} accessories, {wires} wires, {plans} plans: "
        f"median {statistics.median(wall):.2f} s (processor {statistics.median(cpu):.2f} s), "
        f"slowest {max(wall):.2f} s (processor {max(cpu):.2f} s); proven {proven}, "
        f"{none} with no sizes that keep every limit; "
        f"saved {100 * min(saved):.1f} to {100 * max(saved):.1f} %; "
        f"above the lower bound by {100 * statistics.median(gaps):.1f} %, "
        f"at most {100 * max(gaps):.1f} %",
        flush=True,
    )


def main() -> None:
    """Run what the command line names."""
    if sys.argv[1:] == ["growth"]:
        for accessories in (25, 50, 100, 200):
            measure(accessories, 5)
    else:
        measure(200, 20)


if __name__ == "__main__":
    main()
