"""A vehicle wired as planned passes its test sheet, unless the plan itself loses too much."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest

from circuitplan.design.bench.chain import chains, sized
from circuitplan.design.bench.readings import expected, judge_one
from circuitplan.model.readings import Reading
from circuitplan.planner import study


@pytest.fixture(scope="module")
def random_plans() -> ModuleType:
    path = Path(__file__).parents[1] / "properties" / "random_plans.py"
    spec = importlib.util.spec_from_file_location("paper_random_plans", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


@pytest.mark.parametrize("seed", range(12, 24))
def test_as_planned_passes(random_plans: ModuleType, seed: int) -> None:
    """Ohm's law at the middle of the current's band, wires at 20 °C, joints as designed."""
    plan = random_plans.plan(seed)
    over = {f.subject for f in study(plan).findings if f.rule == "D01"}
    for chain in chains(sized(plan)):
        supply = chain.source_v or 12.6 * chain.nominal_v / 12.0
        plus = sum(s.cold_ohm + s.contact_ohm for s in chain.plus)
        minus = sum(s.cold_ohm + s.contact_ohm for s in chain.minus) + chain.body_ohm
        amps = sum(chain.current_band(supply - chain.load.rated_a * (plus + minus))) / 2.0
        reading = Reading(
            chain.accessory, supply, amps, supply - amps * (plus + minus), amps * plus, amps * minus
        )
        judged = judge_one(chain, reading)
        if chain.accessory in over:
            assert {d.cause for d in judged.deviations} <= {"drop over its limit"}
        else:
            assert judged.passed is True, (chain.accessory, judged.deviations)
            band = expected(chain, supply)
            assert band.low_a <= amps <= band.high_a
