"""The fitted temperatures against the heat balance they stand for."""

from __future__ import annotations

import math

import numpy as np
import pytest

from circuitplan.design.draft import Segment
from circuitplan.design.tolerance.heat import warm_law
from circuitplan.design.tolerance.limits import MORE_CURRENT, MORE_RISE
from circuitplan.design.ways import Route, Stretch
from circuitplan.design.wire import FIRST_PRINCIPLES_SHARE, Candidate, Surroundings, candidates
from circuitplan.library import insulation
from circuitplan.model.plan import WireSpec
from circuitplan.physics import heat

TUBE, WIRES, LOADING = 0.9, 6, 0.4
ABOVE_K, BELOW_K = 3.0, 0.1
"""No more than 3 K above the balance; below it only by what lies between points of the fit."""


def offered(class_c: float, material: str) -> tuple[Candidate, ...]:
    known = insulation.get(class_c, material)
    assert known is not None
    route = Route(1.0, (Stretch("way", 1.0, 50.0, 1.0, False),), (), 0, False)
    segment = Segment("w", "branch", "a", "b", route, WireSpec(), known, "copper", "metric", (0,))
    return candidates(segment)


def balance(wire: Candidate, current_a: float, r20_factor: float, ambient_c: float) -> float:
    """``physics.heat`` with the same shares for bundle, tube and margin."""
    around = Surroundings(ambient_c, TUBE, WIRES, LOADING)
    share = FIRST_PRINCIPLES_SHARE * around.tube * around.bundle_factor
    c = wire.conductor
    return heat.conductor_temperature_c(
        wire.r20 * r20_factor, wire.material.alpha_per_k, c.conductor_mm, c.outer_mm,
        wire.insulation.resistivity_k_m_per_w, current_a / share, ambient_c,
    )


CASES = [
    (class_c, material, size, planned)
    for class_c, material in ((70.0, "PVC"), (105.0, "PVC"), (125.0, "cross-linked"),
                              (150.0, "cross-linked"))
    for size in (0, 3, 7, -2) for planned in (20.0, 50.0, 85.0) if planned <= class_c - 25.0
]


@pytest.mark.parametrize(("class_c", "material", "size", "planned"), CASES)
def test_within_three_kelvin_of_the_balance_and_not_below_it(
    class_c: float, material: str, size: int, planned: float
) -> None:
    wire = offered(class_c, material)[size]
    around = Surroundings(planned, TUBE, WIRES, LOADING)
    source = np.random.default_rng(11)
    for loading in (0.1, 0.5, 1.0):
        design_a = loading * wire.ampacity(around)
        law = warm_law([(wire, around, design_a)])
        current = design_a * source.uniform(0.2, 1.3, 30)
        spool = source.uniform(0.94, 1.0, 30)
        ambient = planned + source.uniform(-30.0, 10.0, 30)
        found = law.temperature(current[None], spool[None], ambient[None])[0]
        right = np.array([balance(wire, *x) for x in zip(current, spool, ambient, strict=True)])
        error = (found - right)[right <= class_c + 50.0]
        assert len(error) > 10
        assert error.max() <= ABOVE_K
        assert error.min() >= -BELOW_K


def test_exact_at_the_design_point() -> None:
    around = Surroundings(50.0, TUBE, WIRES, LOADING)
    wires = [(wire, around, 0.6 * wire.ampacity(around)) for wire in offered(105.0, "PVC")]
    law = warm_law(wires)
    current = np.array([[a] for _, _, a in wires])
    found = law.temperature(current, np.ones_like(current), np.full_like(current, 50.0))
    assert found[:, 0] == pytest.approx([w.temperature(a, around) for w, _, a in wires], rel=1e-12)


def test_no_current_is_no_heat_and_a_wire_in_runaway_stays_above_its_class() -> None:
    wire = offered(105.0, "PVC")[3]
    around = Surroundings(50.0, 1.0, 1, 1.0)
    idle = warm_law([(wire, around, 0.0)])
    zero = np.zeros((1, 1))
    assert idle.temperature(zero, zero + 1.0, zero + 40.0)[0, 0] == pytest.approx(40.0, abs=0.05)
    far = 4.0 * wire.ampacity(around)
    assert math.isinf(balance(wire, far, 1.0, 50.0))
    hot = warm_law([(wire, around, far)])
    assert hot.temperature(zero + far, zero + 1.0, zero + 50.0)[0, 0] > 105.0 + 50.0


@pytest.mark.parametrize(("class_c", "material"), [(70.0, "PVC"), (105.0, "PVC"),
                                                    (150.0, "cross-linked")])
def test_a_little_more_current_is_a_little_more_heat(class_c: float, material: str) -> None:
    """What lets temperatures at the design's worst currents stand for those that are not near."""
    for wire in offered(class_c, material)[::5]:
        for ambient in (20.0, class_c - 45.0):
            for rise in (5.0, 30.0):
                current = heat.ampacity_a(
                    wire.r20, wire.material.alpha_per_k, wire.conductor.conductor_mm,
                    wire.conductor.outer_mm, wire.insulation.resistivity_k_m_per_w,
                    ambient + rise, ambient,
                )
                c = wire.conductor
                more = heat.conductor_temperature_c(
                    wire.r20, wire.material.alpha_per_k, c.conductor_mm, c.outer_mm,
                    wire.insulation.resistivity_k_m_per_w, MORE_CURRENT * current, ambient,
                )
                assert more - ambient <= (1.0 + MORE_RISE) * rise
