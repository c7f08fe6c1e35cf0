"""How long the rescue pickup's day takes to step through, and with half the step. Prints only."""

from __future__ import annotations

import statistics
import time
from pathlib import Path

from circuitplan.design import demand, levels, load, switchgear, wiring
from circuitplan.design.assume import Ledger
from circuitplan.design.maker import Maker
from circuitplan.design.sizing import Sizer
from circuitplan.design.state import State
from circuitplan.design.supplying.day import STEP_H
from circuitplan.design.supplying.supply import Supply
from circuitplan.design.ways import Ways
from circuitplan.library import practices
from circuitplan.planfile import read_plan

PLAN = Path(__file__).parent.parent / "examples" / "rescue-pickup.yaml"


def main() -> None:
    plan, ledger = read_plan(PLAN), Ledger()
    ways = Ways(plan, ledger)
    practice = practices.get(plan.practice)
    assert practice is not None
    drafted = wiring.build(Maker(plan, ways, ledger), load.resolve_all(plan, ledger))
    ends = levels.supply_levels(plan, drafted, ledger)
    state = State(plan, drafted, ends, demand.reckon(plan, drafted, ends, practice), practice)
    switchgear.choose_relays(state)
    Sizer(state, ways).run()
    days = Supply(state, ledger).days()
    scenarios = days.scenarios.results()
    days.results(scenarios)  # tables read, code warm
    times = []
    for _ in range(9):
        began = time.perf_counter()
        days.results(scenarios)
        times.append(time.perf_counter() - began)
    print(f"day with all its results: median {statistics.median(times) * 1e3:.1f} ms of 9")
    day = plan.days[0]
    for step_h in (STEP_H, STEP_H / 2.0):
        stores = days.stores(day.temperature_c or 20.0)
        stages = days.stages(day, stores, day.temperature_c or 20.0)
        assert stages is not None
        began = time.perf_counter()
        trace = days.simulate(day, stages, stores, step_h)
        spent = time.perf_counter() - began
        steps = sum(len(found) for found in trace.intervals.values())
        shares = [stores[n].wells.share_of(trace.ends[n][-1][4]) for n in stores]
        shown = ", ".join(f"{s:.6f}" for s in shares)
        print(f"step {step_h * 60:.2f} min: {steps} steps, {spent * 1e3:.1f} ms, ends at {shown}")


if __name__ == "__main__":
    main()
