"""On random plans with fixed wires and fuses: every proposed change mends its finding when the
whole plan is designed anew, and puts no new danger in its place.

CURE_PLANS=400 tries more of them.
"""

from __future__ import annotations

import os
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from circuitplan.model.plan import FuseSpec, Plan
from circuitplan.model.result import Circuit, Cure, Result
from circuitplan.planner import design
from circuitplan.units import parse_fuse, parse_wire

sys.path.insert(0, str(Path(__file__).parents[1] / "properties"))
import random_plans

PLANS = int(os.environ.get("CURE_PLANS", "16"))


def with_change(plan: Plan, words: str) -> Plan:
    """The change made on the model, as the words say it."""
    for field in ("accessories", "panels", "switches"):
        entries = getattr(plan, field)
        for item in entries:
            if not words.startswith(item.name + " "):
                continue
            key, value = words[len(item.name) + 1 :].split(" ", 1)
            if key == "fuse":
                fuse = parse_fuse(value)
                made = replace(item, fuse=FuseSpec(fuse.rating_a, fuse.type))
            elif key == "size":
                size = parse_wire(value, plan.gauge)
                spec = replace(item.wire, gauge=size.gauge, size=size.size, unknown=False)
                made = replace(item, wire=spec)
            else:
                number = float(value.split()[0])
                made = replace(item, **{{"length": "length_m", "inrush": "inrush_a"}[key]: number})
            changed = tuple(made if e is item else e for e in entries)
            return replace(plan, **{field: changed})
    raise AssertionError(f"no such thing: {words}")


def subject(circuit: Circuit) -> str:
    one = len(circuit.accessories) == 1
    return circuit.accessories[0].name if one else circuit.label


def failing(result: Result) -> set[tuple[str, str]]:
    return {(f.rule, f.subject) for f in result.findings if f.fails}


def proposed(result: Result) -> list[tuple[str, Cure]]:
    found = [(p.id, c) for p in result.panels for c in p.cures or ()]
    found += [(subject(one), c) for one in result.circuits for c in one.cures or ()]
    return [(name, c) for name, c in found if c.change and (c.rule, name) in failing(result)]


@pytest.mark.slow
def test_proposed_changes_cure() -> None:
    tried = 0
    for seed in range(1, PLANS + 1):
        plan = random_plans.fixed_plan(seed)
        result = design(plan, ()).result
        before = failing(result)
        for name, cure in proposed(result):
            assert cure.change is not None
            after = failing(design(with_change(plan, cure.change), ()).result)
            assert (cure.rule, name) not in after, (seed, cure)
            assert {k for k in after - before if k[1] == name and k[0][0] in "AF"} == set(), (
                seed, cure,
            )  # fmt: skip
            tried += 1
    assert tried >= PLANS // 2
