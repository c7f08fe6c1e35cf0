"""Plans with fixed sizes and fuses: what is wrong is said, and nothing wrong is added to it.

Every plan is looked at, good or bad: no wire stands behind a fuse above what it carries, over its
class, without protection or beyond its drop, unless a failing finding on its circuit says so.
"""

from __future__ import annotations

import os

import independent
import numpy as np
import pytest
import random_plans

from circuitplan.model.result import Circuit, Result
from circuitplan.planner import design

PLANS = int(os.environ.get("CIRCUITPLAN_PLANS", "600")) // 5
PARTS = 4
OVER = 1 + 1e-9


def said(result: Result, circuit: Circuit) -> set[str]:
    """Rules that fail on a circuit, on its label, accessories or switches."""
    names = {circuit.label, *(a.name for a in circuit.accessories), *circuit.switches}
    folded = {n.casefold() for n in names}
    return {
        f.rule for f in result.findings
        if f.fails and (f.circuit == circuit.id or f.subject.casefold() in folded)
    }


def wrongs(result: Result, circuit: Circuit) -> list[tuple[str, set[str]]]:
    """(what is wrong in words, rules any of which says it)."""
    fuses = {f.id: f for f in circuit.fuses}
    found: list[tuple[str, set[str]]] = []
    for run in circuit.runs:
        guard = fuses.get(run.protected_by or "")
        if guard is None:
            found.append((f"{run.id} has no fuse", {"F05", "S04"}))
        elif not guard.short_circuit_only and guard.rating_a > run.ampacity_a * OVER:
            found.append((f"{guard.rating_a} A before {run.id} of {run.ampacity_a:.1f} A",
                          {"F01", "S04", "A01", "T01", "T02", "X31"}))
        if not run.peak_c and run.thermal_a > run.ampacity_a * OVER:
            found.append((f"{run.id} carries {run.thermal_a} A", {"A01", "T01", "T02"}))
    for drop in circuit.drops:
        if drop.percent > drop.limit_percent * OVER:
            found.append((f"{drop.accessory} loses {drop.percent} %", {"D01"}))
    if circuit.fault is not None:
        run = next(r for r in circuit.runs if r.id == circuit.fault.run)
        fuse = fuses.get(run.protected_by or "")
        if fuse is not None and independent.gates(fuse.type):
            clears = independent.clears_s(fuse.type, circuit.fault.current_a / fuse.rating_a)
            if clears > circuit.fault.allowed_s * OVER:
                found.append((f"short of {circuit.fault.current_a} A", {"F03", "X24", "F01"}))
    if len(circuit.drops) < len(circuit.accessories):
        found.append(("no operating point", {"B03", "D01"}))
    return found


@pytest.fixture(scope="module", params=range(PARTS))
def results(request: pytest.FixtureRequest) -> list[tuple[int, Result]]:
    seeds = range(request.param * PLANS // PARTS, (request.param + 1) * PLANS // PARTS)
    return [(seed, design(random_plans.fixed_plan(seed), ()).result) for seed in seeds]


def test_whatever_is_wrong_is_said(results: list[tuple[int, Result]]) -> None:
    unsaid, bad, circuits = [], 0, 0
    for seed, result in results:
        for circuit in result.circuits:
            rules = said(result, circuit)
            circuits += 1
            found = wrongs(result, circuit)
            bad += bool(found)
            unsaid += [
                f"plan {seed}, circuit {circuit.id} ({circuit.label}): {words}; said: {rules}"
                for words, able in found if not able & rules
            ]  # fmt: skip
    assert unsaid == []
    assert 0.05 * circuits < bad < 0.9 * circuits  # there was something to say


def over_their_wires(result: Result) -> list[str]:
    """Chosen fuses above what a chosen wire behind them carries."""
    found = []
    for circuit in result.circuits:
        fuses = {f.id: f for f in circuit.fuses}
        for run in circuit.runs:
            guard = fuses.get(run.protected_by or "")
            if guard is None or guard.given or run.given or guard.short_circuit_only:
                continue
            if guard.rating_a > run.ampacity_a * OVER:
                found.append(
                    f"{circuit.label}: {guard.rating_a} A before chosen {run.id} {run.size} of "
                    f"{run.ampacity_a:.1f} A"
                )
    return found


def test_a_chosen_wire_is_never_thinner_than_a_chosen_fuse(
    results: list[tuple[int, Result]],
) -> None:
    """A fixed wire or fuse elsewhere in the circuit is no reason to leave the others unguarded."""
    assert [(seed, w) for seed, result in results for w in over_their_wires(result)] == []


def test_the_generator_fixes_things() -> None:
    plans = [random_plans.fixed_plan(seed) for seed in range(100)]
    every = [a for p in plans for a in p.accessories]
    assert any(a.wire.size for a in every)
    assert any(a.wire.unknown for a in every)
    assert any(a.fuse is not None and a.fuse.none for a in every)
    assert any(s.type == "output" for p in plans for s in p.switches)
    assert np.mean([a.wire.given for a in every]) < 0.6
