"""The finished network at both supply ends: guaranteed volts, largest currents, drops and parts."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from circuitplan.design import paths
from circuitplan.design.load import COLD_COIL_FACTOR
from circuitplan.design.state import State
from circuitplan.model.record import record
from circuitplan.model.result import Drop, DropParts
from circuitplan.physics.exclusion import Exclusion
from circuitplan.physics.network import guaranteed, port_matrix, solve

Floats = NDArray[np.float64]


@record
class Solved:
    """Per load, index as in the wiring. NaN where the supply collapses."""

    current_a: Floats  # largest at either end
    low_v: Floats  # guaranteed at the low end
    high_v: Floats
    solved_low_v: Floats  # network solution with everything allowed on, low end
    low_a: Floats
    high_a: Floats
    drops: tuple[Drop | None, ...]


def electrical(state: State) -> Solved:
    """Solve the sized plan; each battery or converter is a network of its own."""
    net = paths.network(state)
    z = port_matrix(net.paths, net.wire_ohm + net.contact_ohm)
    count = len(state.wiring.loads)
    low_v, high_v = np.full(count, np.nan), np.full(count, np.nan)
    low_a, high_a = np.full(count, np.nan), np.full(count, np.nan)
    actual = np.full(count, np.nan)
    for root in dict.fromkeys(state.wiring.root[i] for i in range(count)):
        members = [i for i in range(count) if state.wiring.root[i] == root]
        _one_root(state, z, members, low_v, low_a, actual, high_v, high_a)
    current = np.fmax(low_a, high_a)
    drops = tuple(
        _drop(state, net, i, low_v, high_v, low_a, high_a) for i in range(count)
    )
    return Solved(current, low_v, high_v, actual, low_a, high_a, drops)


def _one_root(
    state: State, z: Floats, members: list[int], low_v: Floats, low_a: Floats, actual: Floats,
    high_v: Floats, high_a: Floats,
) -> None:
    loads = [state.wiring.loads[i] for i in members]
    part = z[np.ix_(members, members)]
    cold = np.array([COLD_COIL_FACTOR if load.model == "solenoid" else 1.0 for load in loads])
    rated_a = np.array([load.rated_a for load in loads]) * cold
    rated_v = np.array([load.rated_v for load in loads])
    falling = np.array([min(load.exponents) for load in loads])
    rising = np.array([max(load.exponents) for load in loads])
    apart = state.demand.never_with
    never = apart[np.ix_(members, members)] if apart is not None else None
    ends = np.array([state.levels.low_v[i] for i in members])
    tops = np.array([state.levels.high_v[i] for i in members])
    for emf in sorted(set(ends.tolist())):
        # Whatever another load sees at its own low end, it draws no more than at the higher one.
        least = rated_a * (float(ends.max()) / rated_v) ** rising
        bound = guaranteed(emf, part, rated_a, rated_v, falling, never, least)
        here = [k for k, value in enumerate(ends) if value == emf]
        point = solve(emf, part, rated_a, rated_v, falling, _all_on(never, len(members)))
        for k in here:
            if bound.found:
                low_v[members[k]] = bound.volts[k]
                low_a[members[k]] = _own(loads[k].exponents, rated_a[k], rated_v[k],
                                         bound.volts[k], emf, bound.currents[k])
            if point.found:
                actual[members[k]] = point.volts[k]
    for emf in sorted(set(tops.tolist())):
        least = rated_a * (emf / rated_v) ** rising
        bound = guaranteed(emf, part, rated_a, rated_v, falling, never, least)
        for k, value in enumerate(tops):
            if value == emf and bound.found:
                high_v[members[k]] = bound.volts[k]
                high_a[members[k]] = bound.currents[k]


def _own(
    exponents: tuple[float, ...], rated_a: float, rated_v: float, volts: float, emf: float,
    bound_a: float,
) -> float:
    """Largest current of one load at the low end: of its own volts where it rises as they fall."""
    if len(exponents) == 1 and exponents[0] > 0.0:
        return float(rated_a * (emf / rated_v) ** exponents[0])
    return float(bound_a)


def _all_on(never: NDArray[np.bool_] | None, count: int) -> NDArray[np.bool_]:
    """Everything on; of pairs kept apart, the first in order."""
    on = np.ones(count, dtype=bool)
    if never is not None:
        for i in range(count):
            if on[i]:
                on[i + 1 :] &= ~never[i, i + 1 :]
    return on


def _drop(
    state: State, net: paths.Network, index: int, low_v: Floats, high_v: Floats, low_a: Floats,
    high_a: Floats,
) -> Drop | None:
    if np.isnan(low_v[index]) or np.isnan(high_v[index]):
        return None
    limit = state.demand.limits[index]
    load = state.wiring.loads[index]
    low_drop = state.levels.low_v[index] - low_v[index]
    high_drop = state.levels.high_v[index] - high_v[index]
    low = low_drop >= high_drop
    total = float(max(low_drop, high_drop))
    currents = np.nan_to_num(low_a if low else high_a)
    parts, conductors = _parts(state, net, index, currents, total)
    supply = state.levels.low_v[index] if low else state.levels.high_v[index]
    return Drop(
        load.name, total, 100.0 * total / limit.nominal_v, limit.percent, supply - total,
        100.0 * conductors / limit.nominal_v, limit.conductor_percent,
        "low" if low else "high", supply, parts,
    )


def _parts(
    state: State, net: paths.Network, index: int, currents: Floats, total: float
) -> tuple[DropParts, float]:
    """Where the drop arises; the parts add up to the guaranteed total."""
    allowed = currents.copy()
    apart = state.demand.never_with
    if apart is not None:
        exclusion = Exclusion.of(apart)
        z = port_matrix(net.paths, net.wire_ohm + net.contact_ohm)
        weights = z * currents
        allowed = currents * exclusion.worst_sets(weights)[index]
    through = net.paths.T @ allowed  # current in every stretch
    mine = net.paths[index]
    wires = mine * through * net.wire_ohm
    contacts = float((mine * through * net.contact_ohm).sum())
    by_role = {
        role: float(sum(v for v, r in zip(wires, net.roles, strict=True) if r == role))
        for role in ("feeder", "run", "return")
    }
    whole = contacts + sum(by_role.values())
    scale = total / whole if whole > 0.0 else 1.0
    return (
        DropParts(
            by_role["feeder"] * scale, contacts * scale, by_role["run"] * scale,
            by_role["return"] * scale,
        ),
        sum(by_role.values()) * scale,
    )
