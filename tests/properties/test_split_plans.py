"""Plans whose switches split their shared wire: what is wrong is said, as for all others."""

from __future__ import annotations

import os
import random
from dataclasses import replace

import random_plans
from test_fixed_plans import over_their_wires, said, wrongs

from circuitplan.model.plan import Plan
from circuitplan.planner import design

PLANS = int(os.environ.get("CIRCUITPLAN_PLANS", "600")) // 10


def split_plan(seed: int) -> Plan | None:
    """A random plan with a split at every switch that carries; None where none carries."""
    make = random_plans.fixed_plan if seed % 2 else random_plans.plan
    plan = make(seed)
    draw = random.Random(seed)
    places = sorted({place for leg in plan.legs for place in (leg.a, leg.b)})
    if not places:
        return None
    switches = tuple(
        replace(s, split=draw.choice(places)) if s.type in ("direct", "output") else s
        for s in plan.switches
    )
    return None if switches == plan.switches else replace(plan, switches=switches)


def test_no_split_is_left_unguarded_in_silence() -> None:
    split = 0
    unsaid, thin = [], []
    for seed in range(PLANS):
        plan = split_plan(seed)
        if plan is None:
            continue
        result = design(plan, ()).result
        thin += [(seed, words) for words in over_their_wires(result)]
        for circuit in result.circuits:
            split += any(run.to.startswith("splice of S") for run in circuit.runs)
            rules = said(result, circuit)
            unsaid += [(seed, circuit.id, w) for w, able in wrongs(result, circuit)
                       if not able & rules]  # fmt: skip
    assert unsaid == []
    assert thin == []
    assert split >= PLANS // 20
