"""Plans whose switches or circuit numbers split their shared wire: what is wrong is said, as for
all others."""

from __future__ import annotations

import os
import random
from collections.abc import Callable
from dataclasses import replace

import pytest
import random_plans
from test_fixed_plans import over_their_wires, said, wrongs

from circuitplan.model.plan import Accessory, FuseSpec, Plan, SharedCircuit, WireSpec
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


def numbered_plan(seed: int) -> Plan | None:
    """A random plan whose accessories on one panel, worked by the same relay or by nothing, share a
    number and a wire up to a split; None where no two do."""
    make = random_plans.fixed_plan if seed % 2 else random_plans.plan
    plan = make(seed)
    draw = random.Random(seed)
    places = sorted({place for leg in plan.legs for place in (leg.a, leg.b)})
    carry = {s.name for s in plan.switches if s.type in ("direct", "output")}
    alike: dict[tuple[str | None, tuple[str, ...]], list[Accessory]] = {}
    for a in plan.accessories:
        if not carry & set(a.switches):
            alike.setdefault((a.fed_from, a.switches), []).append(a)
    numbers: dict[str, int] = {}
    circuits = []
    for number, mine in enumerate((m for m in alike.values() if len(m) > 1), start=1):
        numbers |= {a.name: number for a in mine}
        size = draw.choice(random_plans._sizes(plan.gauge)) if draw.random() < 0.2 else None
        fuse = FuseSpec(draw.choice((10.0, 30.0, 60.0))) if draw.random() < 0.2 else None
        circuits.append(
            SharedCircuit(str(number), draw.choice(places), WireSpec(size=size), fuse)
        )
    if not circuits or not places:
        return None
    return replace(
        plan, circuits=tuple(circuits), accessories=tuple(
            replace(a, number=numbers.get(a.name)) for a in plan.accessories
        ),
    )


@pytest.mark.parametrize(
    ("make", "stem"), [(split_plan, "splice of S"), (numbered_plan, "splice of circuit")]
)
def test_no_split_is_left_unguarded_in_silence(
    make: Callable[[int], Plan | None], stem: str
) -> None:
    split = 0
    unsaid, thin = [], []
    for seed in range(PLANS):
        plan = make(seed)
        if plan is None:
            continue
        result = design(plan, ()).result
        thin += [(seed, words) for words in over_their_wires(result)]
        for circuit in result.circuits:
            split += any(run.to.startswith(stem) for run in circuit.runs)
            rules = said(result, circuit)
            unsaid += [(seed, circuit.id, w) for w, able in wrongs(result, circuit)
                       if not able & rules]  # fmt: skip
    assert unsaid == []
    assert thin == []
    assert split >= PLANS // 20
