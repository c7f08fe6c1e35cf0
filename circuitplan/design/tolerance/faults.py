"""Fuses in the samples: what each must carry, and the far-end short that each must clear."""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from circuitplan.design import groups
from circuitplan.design.draft import CircuitDraft, Node, Segment, Slot
from circuitplan.design.groups import Group
from circuitplan.design.protection import faults
from circuitplan.design.protection.protect import (
    LONGEST_CLEARING_S,
    Device,
)
from circuitplan.design.tolerance.arrays import Incidence
from circuitplan.design.tolerance.carried import owners_of
from circuitplan.design.tolerance.frozen import Frozen
from circuitplan.physics.fuses import BEYOND_LAST_GATE, FASTEST_CLEARING_S, Gate

Floats = NDArray[np.float64]
Owner = CircuitDraft | Node


@dataclass(slots=True)
class GateTable:
    """Gates of one device as logarithms: of multiples, and of t x² at melting and clearing."""

    multiples: Floats
    melts: Floats  # (gates + 1,)
    upper: Floats  # of the gates with an upper limit
    clears: Floats  # (upper + 1,), infinite before the first

    @staticmethod
    def of(gates: tuple[Gate, ...]) -> GateTable:
        limited = [(g, t) for g, _, t in gates if t is not None]
        melts = [math.log(t * g * g) for g, t, _ in gates]
        melts.append(melts[-1] + math.log(BEYOND_LAST_GATE))
        return GateTable(
            np.array([math.log(g) for g, _, _ in gates]), np.array(melts),
            np.array([math.log(g) for g, _ in limited]),
            np.array([math.inf, *(math.log(t * g * g) for g, t in limited)]),
        )

    def log_time(self, log_multiple: Floats, slowness: Floats) -> Floats:
        """ln of the clearing time [s]; ``slowness`` 0 at the earliest melting, 1 at the latest.

        The time is log-uniform between the two; infinite where nothing makes the fuse clear.
        """
        log2 = 2.0 * log_multiple
        if log_multiple.min() > self.multiples[-1]:
            melts: Floats | float = float(self.melts[-1])
            clears: Floats | float = float(self.clears[-1])
        else:
            melts = self.melts[np.searchsorted(self.multiples, log_multiple, side="left")]
            clears = self.clears[np.searchsorted(self.upper, log_multiple, side="right")]
        latest = np.maximum(clears - log2, math.log(FASTEST_CLEARING_S))
        earliest = np.minimum(melts - log2, latest)
        open_ = np.isinf(latest)
        if not open_.any():
            found: Floats = earliest + slowness * (latest - earliest)
            return found
        spread = np.where(open_, 0.0, latest - np.where(open_, 0.0, earliest))
        return np.where(open_, math.inf, earliest + slowness * spread)


@dataclass(slots=True)
class Faults:
    """Far-end shorts, one a row: ohms are wires @ own + joints @ contact + battery + body.

    ``always``: a converter too weak to overload the wire. ``tables``: rows of each gate table.
    """

    wires: Incidence  # (faults, wires) [ohm/m at its fault temperature over that at 20 °C]
    joints: Incidence
    battery: NDArray[np.intp]
    emf_v: Floats
    chassis: Floats
    most_a: Floats
    rating_a: Floats
    withstand: Floats  # ln (kS)²
    fuse: NDArray[np.intp]
    always: NDArray[np.bool_]
    tables: list[tuple[NDArray[np.intp], GateTable]]

    def margin(
        self, wire_ohm: Floats, contact_ohm: Floats, chassis_ohm: Floats, battery_ohm: Floats,
        clearing: Floats,
    ) -> tuple[Floats, Floats]:
        """(ln of allowed over clearing time, fault current [A]), of shape (faults, samples)."""
        total = self.wires @ wire_ohm
        total += self.joints @ contact_ohm
        total += battery_ohm[self.battery]
        total += self.chassis * chassis_ohm
        current = np.minimum(self.emf_v / total, self.most_a)
        log_current = np.log(current)
        allowed = np.minimum(self.withstand - 2.0 * log_current, math.log(LONGEST_CLEARING_S))
        multiple = log_current - np.log(self.rating_a)
        for rows, table in self.tables:
            allowed[rows] -= table.log_time(multiple[rows], clearing[self.fuse[rows]])
        allowed[self.always] = 1.0
        return allowed, current


def far_shorts(frozen: Frozen, fuse_names: tuple[str, ...]) -> tuple[Faults, list[Owner]]:
    """One row for each group of stretches that a fuse guards, and whose it is.

    A device without a known curve has no row: nothing is known of when it opens.
    """
    state = frozen.state
    count = len(frozen.wires.segments)
    shorts = [
        short
        for owner in owners_of(state)
        for short in _shorts(frozen, owner, count)
    ]
    by_gates: dict[tuple[Gate, ...], list[int]] = defaultdict(list)
    for row, short in enumerate(shorts):
        by_gates[short.device.gates].append(row)
    numbers = {key: row for row, key in enumerate(fuse_names)}

    def column(values: list[float]) -> Floats:
        return np.array(values, dtype=np.float64).reshape(-1, 1)

    return (
        Faults(
            Incidence.of(np.array([s.wires for s in shorts]).reshape(len(shorts), count)),
            Incidence.of(np.array([s.joints for s in shorts]).reshape(len(shorts), count)),
            np.array([frozen.battery_names.rows[s.battery] for s in shorts], dtype=np.intp),
            column([state.levels.batteries[s.battery].low_emf_v for s in shorts]),
            column([1.0 if s.chassis else 0.0 for s in shorts]),
            column([math.inf if s.most_a is None else s.most_a for s in shorts]),
            column([s.device.rating_a for s in shorts]),
            column([s.withstand for s in shorts]),
            np.array([numbers[s.slot.key] for s in shorts], dtype=np.intp),
            np.array([s.always for s in shorts], dtype=bool),
            [(np.array(rows, dtype=np.intp), GateTable.of(gates))
             for gates, rows in by_gates.items()],
        ),
        [s.owner for s in shorts],
    )


@dataclass(slots=True)
class _Short:
    owner: Owner
    slot: Slot
    device: Device
    wires: Floats
    joints: Floats
    battery: str
    chassis: bool
    most_a: float | None
    withstand: float
    always: bool


def parts_of(owner: Owner) -> list[Group]:
    """Groups of an owner's stretches, shared lead first."""
    if isinstance(owner, CircuitDraft):
        return groups.of_circuit(owner)
    if owner.panel is None:
        return []
    return [Group(f"feeder {owner.name}", owner, list(owner.feeder), None)]


def _shorts(frozen: Frozen, owner: Owner, count: int) -> list[_Short]:
    state = frozen.state
    found: list[_Short] = []
    upstream: list[Segment] = []
    for group in parts_of(owner):
        slot = owner.slot
        if group.inline is not None and state.fuse.get(group.inline.key) is not None:
            slot = group.inline
        device = state.fuse.get(slot.key) if slot is not None else None
        if slot is not None and device is not None and device.gates and group.segments:
            found.append(_short(frozen, group, slot, device, upstream, count))
        if group.segments and group.segments[0].kind == "trunk":
            upstream = group.segments
    return found


def _short(
    frozen: Frozen, group: Group, slot: Slot, device: Device, upstream: list[Segment], count: int
) -> _Short:
    state, owner = frozen.state, group.owner
    node = groups.node_of(state, owner)
    circuit = owner if isinstance(owner, CircuitDraft) else None
    index = None
    if circuit is not None:
        index = group.load if group.load is not None else next(iter(circuit.loads), None)
    wires, joints = np.zeros(count), np.zeros(count)

    def put(segment: Segment, temperature_c: float, pieces: int) -> None:
        row = frozen.wires.row[segment.key]
        alpha = state.wire[segment.key].material.alpha_per_k
        wires[row] += pieces * (1.0 + alpha * (temperature_c - 20.0))
        joints[row] += pieces

    for segment in (*upstream, *group.series):
        put(segment, faults.hot_c(state.wire[segment.key]), segment.pieces)
    for link in faults.above(state, circuit, index, node):
        put(link.segment, state.wire[link.segment.key].insulation.class_c, 1)
    wire = state.wire[group.segments[0].key]
    limit = faults.source_limit(state, node)
    rated = wire.ampacity(state.around(group.segments[0]))
    chassis = any(s.kind == "earth lead" for s in group.segments) or (
        group.load is None and circuit is not None and bool(circuit.loads)
        and circuit.chassis.get(circuit.loads[0], False)
    )
    return _Short(
        owner, slot, device, wires, joints, node.battery, chassis, limit,
        2.0 * math.log(wire.adiabatic_k * wire.conductor.area_mm2),
        limit is not None and rated >= limit,
    )
