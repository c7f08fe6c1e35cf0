"""The same plan gives the same result, byte for byte, in any order of entries."""

from __future__ import annotations

import json
import random
from dataclasses import asdict, replace
from pathlib import Path
from typing import TypeVar

import pytest

from circuitplan.model.plan import Plan
from circuitplan.planfile import read_plan
from circuitplan.planner import study

T = TypeVar("T")
EXAMPLES = Path(__file__).parents[2] / "examples"


def shuffled(plan: Plan, seed: int) -> Plan:
    """The plan with its accessories, switches, panels, places, legs and the like mixed."""
    rng = random.Random(seed)

    def mixed(items: tuple[T, ...]) -> tuple[T, ...]:
        return tuple(rng.sample(items, len(items)))

    batteries = plan.supply.batteries
    supply = replace(
        plan.supply,
        # The first battery is the one that starts the engine; "battery" comes first in the file.
        batteries=(*batteries[:1], *mixed(batteries[1:])),
        chargers=mixed(plan.supply.chargers),
        vehicle_load_a=mixed(plan.supply.vehicle_load_a),
    )
    return replace(
        plan, supply=supply, places=mixed(plan.places), legs=mixed(plan.legs),
        panels=mixed(plan.panels), switches=mixed(plan.switches),
        accessories=mixed(plan.accessories), accepted=mixed(plan.accepted),
    )


def text(plan: Plan) -> str:
    return json.dumps(asdict(study(plan)), sort_keys=False)


@pytest.mark.parametrize(
    "name", ["service-truck.yaml", "workboat.yaml", "overloaded-compressor.yaml"]
)
def test_order_of_entries_changes_nothing(name: str) -> None:
    plan = read_plan(EXAMPLES / name)
    expected = text(plan)
    for seed in range(3):
        assert text(shuffled(plan, seed)) == expected


@pytest.mark.slow
def test_order_of_entries_changes_nothing_in_a_whole_job() -> None:
    plan = read_plan(EXAMPLES / "rescue-pickup.yaml")
    assert text(shuffled(plan, 1)) == text(plan)


def test_ends_of_a_leg_and_the_order_of_switches_of_one_thing_change_nothing() -> None:
    plan = read_plan(EXAMPLES / "service-truck.yaml")
    turned = replace(plan, legs=tuple(replace(leg, a=leg.b, b=leg.a) for leg in plan.legs))
    assert text(turned) == text(plan)


def test_the_mixing_itself_does_mix() -> None:
    plan = read_plan(EXAMPLES / "workboat.yaml")
    assert shuffled(plan, 0).accessories != plan.accessories
