"""Guaranteed volts against the solution of every set of loads that interlocks allow.

U_k >= E - sum of Z I must hold whatever else is on or off, at both supply ends.
"""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest
import random_plans

from circuitplan.design import paths, solve
from circuitplan.design.load import COLD_COIL_FACTOR
from circuitplan.design.state import State
from circuitplan.physics import network
from circuitplan.planner import design

PLANS = 60


def finished(monkeypatch: pytest.MonkeyPatch, seed: int) -> tuple[State, solve.Solved]:
    """The sized state behind a design, as the planner solved it."""
    seen: list[tuple[State, solve.Solved]] = []

    def kept(state: State) -> solve.Solved:
        seen.append((state, electrical(state)))
        return seen[-1][1]

    electrical = solve.electrical
    monkeypatch.setattr(solve, "electrical", kept)
    design(random_plans.plan(seed), ())
    monkeypatch.undo()
    return seen[-1]


@pytest.mark.parametrize("seed", range(PLANS))
def test_no_set_of_loads_leaves_less_than_guaranteed(
    monkeypatch: pytest.MonkeyPatch, seed: int
) -> None:
    state, solved = finished(monkeypatch, seed)
    net = paths.network(state)
    z = network.port_matrix(net.paths, net.wire_ohm + net.contact_ohm)
    loads = state.wiring.loads
    rated_a = np.array([
        load.rated_a * (COLD_COIL_FACTOR if load.model == "solenoid" else 1.0) for load in loads
    ])
    rated_v = np.array([load.rated_v for load in loads])
    # A motor of unknown kind may follow either exponent: every combination is tried.
    models = list(itertools.product(*(load.exponents for load in loads)))
    apart = state.demand.never_with
    looked_at = 0
    ends = [(min(state.levels.low_v), solved.low_v), (max(state.levels.high_v), solved.high_v)]
    for emf, promised in ends:
        if np.isnan(promised).any() or len(set(state.levels.low_v)) > 1:
            continue
        for picked in itertools.product((False, True), repeat=len(loads)):
            on = np.array(picked)
            if apart is not None and apart[np.ix_(on, on)].any():
                continue
            for exponents in models:
                point = network.solve(emf, z, rated_a, rated_v, np.array(exponents), on)
                assert point.found
                assert (point.volts[on] >= promised[on] - 1e-9 * emf).all()
                assert (point.currents[on] <= solved.current_a[on] * (1 + 1e-9)).all()
                looked_at += 1
    assert looked_at > 0 or np.isnan(solved.low_v).any()


def test_a_load_that_feeds_itself_from_nothing_is_told_apart() -> None:
    """A supply that collapses has no operating point: P > E2/4R (maximum power transfer).

    120 W beyond 0.35 ohm at 12 V: at most 12 x 12 / (4 x 0.35) = 102.9 W.
    """
    z, one = np.array([[0.35]]), np.array([10.0])
    collapsed = network.solve(12.0, z, one, np.array([12.0]), np.array([-1.0]))
    assert not collapsed.found
    assert collapsed.share == pytest.approx(102.857 / 120.0, abs=2e-3)


def test_the_same_plan_without_interlocks_promises_less(monkeypatch: pytest.MonkeyPatch) -> None:
    """Freeing loads that were kept apart never raises the guaranteed volts of a given wiring."""
    compared = 0
    for seed in range(60):
        state, solved = finished(monkeypatch, seed)
        if state.demand.never_with is None:
            continue
        free = replace(state.demand, never_with=None, _sums={})
        state.demand = free
        again = solve.electrical(state)
        both = ~np.isnan(solved.low_v) & ~np.isnan(again.low_v)
        assert (again.low_v[both] <= solved.low_v[both] + 1e-9).all()
        compared += int(both.sum())
    assert compared > 0
