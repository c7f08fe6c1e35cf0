"""The network of a frozen design: which wires each load has alone, which it shares, who solves."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from circuitplan.design import levels as level_tools
from circuitplan.design import paths
from circuitplan.design.assume import Ledger
from circuitplan.design.state import State
from circuitplan.design.tolerance.arrays import (
    Floats,
    Incidence,
    Loads,
    Names,
    Rows,
    column,
    rows_of,
)


@dataclass(slots=True)
class Case:
    """Loads of one source that are solved together, with the supply ends of ``here``.

    ``members`` begin with ``square`` constant-power loads; ``position``, ``by_exponent``, ``drawn``
    and ``critical_position`` count among the members, ``drawn_rows`` among the drawn exponents,
    ``critical`` among the critical loads.
    """

    members: Rows
    here: Rows
    position: Rows
    square: int
    by_exponent: list[tuple[float, Rows]]
    drawn: Rows
    drawn_rows: Rows
    critical: Rows
    critical_position: Rows
    uses: Floats  # (members, shared parts)
    battery: int | None  # row among the batteries; None: a converter
    emf_v: float  # at rest, or a converter's output
    least_sag_v: float
    sag_v: float  # at 1.5 times the warm resistance
    high_v: float
    top: int  # which source: cases of one source share their highest volts


@dataclass(slots=True)
class Net:
    """Own and shared resistances as incidence on wires; who uses which part is in the cases."""

    own: Incidence  # (loads, wires)
    own_chassis: Floats  # (loads, 1)
    shared: Incidence  # (parts, wires)
    shared_chassis: Floats  # (parts, 1)
    cases: list[Case]
    critical: Rows
    own_critical: Incidence  # (critical loads, wires)


def net_of(state: State, wire_row: dict[str, int], batteries: Names, loads: Loads) -> Net:
    """The network of a sized state; ``wire_row``: segment key -> row among the wires."""
    net = paths.network(state)
    count = len(loads.loads)
    own = np.zeros((count, len(wire_row)))
    own_chassis = np.zeros((count, 1))
    shared: dict[tuple[int, ...], Floats] = {}
    chassis_of: set[tuple[int, ...]] = set()
    last = len(net.links)
    for link in range(last + 1):
        users = tuple(int(i) for i in np.flatnonzero(net.paths[:, link]))
        row = wire_row[net.links[link].segment.key] if link < last else None
        if len(users) == 1 and row is not None:
            own[users[0], row] = 1.0
        elif len(users) == 1:
            own_chassis[users[0], 0] = 1.0
        elif users:
            part = shared.setdefault(users, np.zeros(len(wire_row)))
            if row is None:
                chassis_of.add(users)
            else:
                part[row] = 1.0
    order = sorted(shared)
    uses = np.zeros((count, len(order)))
    for part_row, users in enumerate(order):
        uses[list(users), part_row] = 1.0
    critical = np.flatnonzero(np.isfinite(loads.conductor_limit_v[:, 0]))
    return Net(
        Incidence.of(own), own_chassis,
        Incidence.of(
            np.array([shared[users] for users in order]).reshape(len(order), len(wire_row))
        ),
        column([1.0 if users in chassis_of else 0.0 for users in order]),
        _cases(state, batteries, loads, critical, uses), critical,
        Incidence.of(own[critical]),
    )


def _cases(
    state: State, batteries: Names, loads: Loads, critical: Rows, uses: Floats
) -> list[Case]:
    wiring, levels = state.wiring, state.levels
    roots = sorted(set(wiring.root.values()))
    found: dict[tuple[int, float, float], list[int]] = {}
    sags: dict[tuple[int, float, float], float] = {}
    for index, load in enumerate(wiring.loads):
        root = wiring.nodes[wiring.root[index]]
        sag = 0.0
        if root.panel is None:
            # The sag of the scenario that ruled the low end, before the least of the table.
            draws = level_tools._battery_draws(state.plan, wiring, root.name, Ledger())
            current_a, _ = level_tools._worst_draw(draws, load.name)
            sag = level_tools.SAG_FACTOR * levels.batteries[root.name].warm_ohm * current_a
        key = (roots.index(root.name), levels.low_v[index], levels.high_v[index])
        found.setdefault(key, []).append(index)
        sags[key] = max(sags.get(key, 0.0), sag)
    cases = []
    for (top, low_v, high_v), here in sorted(found.items()):
        root = wiring.nodes[roots[top]]
        level = levels.batteries[root.name] if root.panel is None else None
        varying = set(loads.varying.tolist())
        members = [i for i in range(len(wiring.loads)) if wiring.root[i] == root.name]
        squares = [i for i in members if i not in varying and loads.falling[i, 0] == -1.0]
        members = squares + [i for i in members if i not in squares]
        place = {load: row for row, load in enumerate(members)}
        exponents: dict[float, list[int]] = {}
        for index in members:
            if index not in varying:
                exponents.setdefault(float(loads.rising[index, 0]), []).append(place[index])
        drawn = [r for r, i in enumerate(loads.varying.tolist()) if i in place]
        mine = [r for r, i in enumerate(critical.tolist()) if i in here]
        cases.append(
            Case(
                rows_of(members), rows_of(here), rows_of([place[i] for i in here]), len(squares),
                [(m, rows_of(at)) for m, at in sorted(exponents.items())],
                rows_of([place[int(loads.varying[r])] for r in drawn]), rows_of(drawn),
                rows_of(mine), rows_of([place[int(critical[r])] for r in mine]), uses[members],
                None if level is None else batteries.rows[root.name],
                low_v if level is None else level.low_emf_v,
                0.0 if level is None else level.sag_v, sags[top, low_v, high_v], high_v, top,
            )
        )
    return cases
