"""What each fuse must carry in a block of samples, where it is as hot as it may get."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

from circuitplan.design.draft import CircuitDraft, Node, Slot
from circuitplan.design.protection.protect import CONTINUOUS_SHARE, Device, ambient_share
from circuitplan.design.sizing import Sizer
from circuitplan.design.state import State
from circuitplan.design.tolerance.arrays import Floats, Incidence, Rows
from circuitplan.design.tolerance.frozen import Frozen, slot_place
from circuitplan.design.ways import Ways
from circuitplan.library.fuses import HOTTEST_C

Owner = CircuitDraft | Node


@dataclass(slots=True)
class Carried:
    """What fuses must carry: In >= (loads @ current + constant) / ka, one a row [A]."""

    loads: Incidence
    constant_a: Floats
    rating_a: Floats
    planned_c: Floats  # of each distinct (place, planned temperature)
    place: Rows
    at: Rows  # fuse -> which of these

    def margin(self, current_a: Floats, place_k: Floats, outside_c: float) -> Floats:
        """1 - needed / rating, shape (fuses, samples)."""
        warm = np.maximum(self.planned_c + place_k[self.place],
                          np.minimum(self.planned_c, outside_c))
        share = np.interp(warm, *_shares())
        needed = (self.loads @ current_a + self.constant_a) / share[self.at]
        found: Floats = 1.0 - needed / self.rating_a
        return found


@cache
def _shares() -> tuple[Floats, Floats]:
    """Share of the rating by ambient, straight between points 0.5 K apart: (°C, share)."""
    warm = np.linspace(20.0, HOTTEST_C, 211)
    return warm, np.array([ambient_share(float(c)) for c in warm])


def owners_of(state: State) -> list[Owner]:
    """Circuits and panels: whatever has wires and fuses of its own."""
    return [*state.wiring.circuits, *state.wiring.nodes.values()]


def fitted(state: State) -> dict[str, tuple[Owner, Slot, Device]]:
    """Slots that hold a device, by key."""
    found: dict[str, tuple[Owner, Slot, Device]] = {}
    for owner in owners_of(state):
        slots = [owner.slot] if owner.slot is not None else []
        if isinstance(owner, CircuitDraft):
            slots += owner.inline
        for slot in slots:
            device = state.fuse.get(slot.key)
            if device is not None:
                found[slot.key] = (owner, slot, device)
    return found


def carried(
    frozen: Frozen, sizer: Sizer, ways: Ways, fuse_names: tuple[str, ...]
) -> tuple[Carried, list[Owner]]:
    """Rows of all fuses but those that only guard against short circuits, and their owners."""
    state = frozen.state
    loads = state.wiring.loads
    known = fitted(state)
    rows: list[tuple[Floats, float, float, float, int]] = []
    owners: list[Owner] = []
    for key in fuse_names:
        owner, slot, device = known[key]
        if slot.short_circuit_only:
            continue
        weights, constant = np.zeros(len(loads)), 0.0
        for load, current_a in sizer.currents(owner, slot):
            if load is None:
                constant += current_a / CONTINUOUS_SHARE
                continue
            index = next(i for i, other in enumerate(loads) if other is load)
            frozen_a = float(state.demand.worst_a[index])
            share = CONTINUOUS_SHARE if load.continuous else 1.0
            weights[index] = current_a / frozen_a * load.thermal_factor / share
        planned, _ = ways.ambient(slot.place)
        place = frozen.place_names.rows[slot_place(slot.place)]
        rows.append((weights, constant, device.rating_a, planned, place))
        owners.append(owner)

    def column(index: int) -> Floats:
        return np.array([row[index] for row in rows], dtype=np.float64).reshape(-1, 1)

    spots = sorted({(row[4], row[3]) for row in rows})
    return (
        Carried(
            Incidence.of(np.array([row[0] for row in rows]).reshape(len(rows), len(loads))),
            column(1), column(2), np.array([c for _, c in spots]).reshape(-1, 1),
            np.array([p for p, _ in spots], dtype=np.intp),
            np.array([spots.index((row[4], row[3])) for row in rows], dtype=np.intp),
        ),
        owners,
    )
