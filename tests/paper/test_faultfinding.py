"""Fault finding: volts against a nodal solution, sequences against every order, leaves by trial."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np
import pytest

from circuitplan.design.bench.chain import chains, sized
from circuitplan.design.bench.faultfinding import (
    OPEN_OHM,
    WEAK_SHARE,
    Fault,
    Point,
    Step,
    Symptom,
    faults_of,
    points_of,
    reads,
    shortest,
    volts_at,
)
from circuitplan.design.bench.way import Element, Way, way_of
from circuitplan.model.plan import Plan
from circuitplan.model.result import Result

Worked = tuple[Plan, Result]


def _nodal(ohms: list[float], source_v: float) -> list[float]:
    """Volts behind each resistor of a ladder, by Kirchhoff's current law at every node."""
    n = len(ohms)
    g = np.zeros((n + 1, n + 1))
    for i, ohm in enumerate(ohms):
        for a, b in ((i, i + 1), (i + 1, i)):
            g[a, a] += 1.0 / ohm
            g[a, b] -= 1.0 / ohm
    free = list(range(1, n))
    inner = np.linalg.solve(g[np.ix_(free, free)], -g[np.ix_(free, [0])] @ [source_v])
    return [*inner.tolist(), 0.0]


WAY = Way(
    "Lamp", 1, 12.6,
    (
        Element("fuse", 0.005, "fuse, far side", 4.0),
        Element("relay contact", 0.005, "87", 2.0),
        Element("wire", 0.02, "lamp, positive", 1.0),
        Element("Lamp", 1.2, "lamp, negative", 3.0, load=True),
        Element("return", 0.02, "negative", 4.0),
    ),
    1,
    (
        Element("coil fuse", 0.01, "coil fuse, far side", 4.0),
        Element("switch", 0.02, "86", 2.0),
        Element("coil", 80.0, "85", 1.0, load=True),
        Element("coil's negative", 0.02, "", 1.0),
    ),
)  # fmt: skip


def test_volts_against_a_nodal_solution() -> None:
    for symptom in ("dead", "weak"):
        for fault in faults_of(WAY, symptom):
            if fault.on_coil:
                continue
            ohms = [e.ohm for e in WAY.main]
            extra = OPEN_OHM if symptom == "dead" else 1.2 * WEAK_SHARE / (1.0 - WEAK_SHARE)
            ohms[fault.index] += extra
            wanted = _nodal(ohms, 12.6)
            for i in range(len(ohms)):
                found = volts_at(WAY, Point("", False, i), fault)
                assert found == pytest.approx(wanted[i], abs=1e-6)


def test_a_broken_coil_circuit_opens_the_contact() -> None:
    fault = Fault("switch", "dead", True, 1, 1.0)
    assert volts_at(WAY, Point("", False, 0), fault) == pytest.approx(12.6, abs=0.01)
    assert volts_at(WAY, Point("", False, 1), fault) == pytest.approx(0.0, abs=0.01)
    assert volts_at(WAY, Point("", True, 0), fault) == pytest.approx(12.6, abs=0.01)
    assert volts_at(WAY, Point("", True, 1), fault) == pytest.approx(0.0, abs=0.01)


def _worst_of_every_order(table: list[list[str]], count: int) -> int:
    """Fewest measurements at worst over all decision trees, by plain recursion on lists."""

    @cache
    def best(left: tuple[int, ...]) -> int:
        depths = []
        for row in table:
            groups: dict[str, list[int]] = {}
            for i in left:
                groups.setdefault(row[i], []).append(i)
            if len(groups) > 1:
                depths.append(1 + max(best(tuple(g)) for g in groups.values()))
        return min(depths, default=0)

    return best(tuple(range(count)))


def _follow(step: Step | None, way: Way, fault: Fault) -> tuple[tuple[str, ...], int]:
    """Where the printed steps lead when this fault is there, and in how many measurements."""
    count = 0
    while step is not None:
        count += 1
        kind = reads(volts_at(way, step.point, fault), way.source_v)
        branch = next(b for b in step.branches if b.reads == kind)
        if branch.then is None:
            return branch.faults, count
        step = branch.then
    raise AssertionError("no step")


@pytest.mark.parametrize("symptom", ["dead", "weak"])
def test_every_fault_is_found_with_the_fewest_measurements(symptom: Symptom) -> None:
    step = shortest(WAY, symptom)
    assert step is not None
    faults = faults_of(WAY, symptom)
    depth = 0
    for fault in faults:
        names, count = _follow(step, WAY, fault)
        assert fault.element in names
        depth = max(depth, count)
    table = [[reads(volts_at(WAY, p, f), 12.6) for f in faults] for p in points_of(WAY)]
    assert depth == step.depth == _worst_of_every_order(table, len(faults))
    assert 2**depth >= len(faults) or symptom == "weak"  # two outcomes a reading, at least


def test_every_fault_of_every_accessory_leads_home(worked: Worked) -> None:
    plan, result = worked
    for chain in chains(sized(plan)):
        way = way_of(chain, result)
        for symptom in ("dead", "weak"):
            step = shortest(way, symptom)
            if step is None:
                continue
            for fault in faults_of(way, symptom):
                names, count = _follow(step, way, fault)
                assert fault.element in names
                assert count <= step.depth


def test_relayed_way_holds_fuse_contact_and_coil(work_of: Callable[[str], Worked]) -> None:
    plan, result = work_of("rescue-pickup")
    roof = next(c for c in chains(sized(plan)) if c.accessory == "Roof bar")
    way = way_of(roof, result)
    circuit = next(c for c in result.circuits if c.label == "Roof bar")
    names = [e.name for e in way.main]
    assert names.index(f"fuse {circuit.fuses[0].id}") < names.index(f"relay {circuit.relays[0].id}")
    assert way.coil
    assert any(e.at.endswith("86") for e in way.coil)
