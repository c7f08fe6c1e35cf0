"""What every wire must carry: worst currents, allowed drops, and who is never on with whom."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from circuitplan.design.draft import Segment, Wiring
from circuitplan.design.levels import Levels
from circuitplan.design.load import Load
from circuitplan.library.practices import Practice
from circuitplan.model.plan import Plan
from circuitplan.model.record import record
from circuitplan.physics.exclusion import heaviest_sum

GENERAL_PERCENT = 5.0
MOTOR_PERCENT = 10.0


@record
class DropLimit:
    """Allowed drop of one load. ``least_v``: its own minimum volts, if any."""

    total_v: float
    percent: float
    conductor_v: float | None
    conductor_percent: float | None
    nominal_v: float
    least_v: float | None


@dataclass(frozen=True, slots=True)
class Demand:
    """Per load, index as in the wiring: frozen worst current [A] and drop limits.

    A load frozen at its worst volts between E - limit and E draws no less than it can in any
    design that keeps the limit, so sizes found with it are safe without iterating.
    """

    worst_a: NDArray[np.float64]
    thermal_a: NDArray[np.float64]
    limits: tuple[DropLimit, ...]
    never_with: NDArray[np.bool_] | None
    _sums: dict[tuple[tuple[int, ...], bool], float] = field(default_factory=dict)

    def of(self, segment: Segment, thermal: bool = False) -> float:
        """Largest current of one wire of a segment [A]."""
        return self.of_loads(segment.loads, thermal) / segment.pieces

    def of_loads(self, loads: tuple[int, ...], thermal: bool = False) -> float:
        """Largest sum over loads that interlocks allow together [A]."""
        known = self._sums.get((loads, thermal))
        if known is None:
            known = self._sums[loads, thermal] = self._sum(loads, thermal)
        return known

    def _sum(self, loads: tuple[int, ...], thermal: bool) -> float:
        values = self.thermal_a if thermal else self.worst_a
        weights = np.zeros(len(values))
        for index in loads:
            weights[index] = values[index]
        if self.never_with is None or len(loads) < 2:
            return float(weights.sum())
        return float(heaviest_sum(weights, self.never_with))

    def allowed(self, loads: tuple[int, ...], with_load: int | None = None) -> list[int]:
        """Members of ``loads``, less those never on with ``with_load``."""
        if self.never_with is None or with_load is None:
            return list(loads)
        return [i for i in loads if i == with_load or not self.never_with[i, with_load]]


def reckon(plan: Plan, wiring: Wiring, levels: Levels, practice: Practice) -> Demand:
    """Freeze every load at its worst volts."""
    limits = tuple(
        drop_limit(load, _nominal(plan, wiring, i), practice)
        for i, load in enumerate(wiring.loads)
    )
    worst = np.zeros(len(wiring.loads))
    thermal = np.zeros(len(wiring.loads))
    for i, load in enumerate(wiring.loads):
        low = levels.low_v[i] - limits[i].total_v
        floor = 0.5 * limits[i].nominal_v
        worst[i] = max(load.current_at(max(low, floor)), load.current_at(levels.high_v[i]))
        thermal[i] = worst[i] * load.thermal_factor
    return Demand(worst, thermal, limits, exclusions(wiring.loads))


def _nominal(plan: Plan, wiring: Wiring, index: int) -> float:
    root = wiring.nodes[wiring.root[index]]
    if root.panel is not None and root.panel.output_v is not None:
        return root.panel.output_v
    return plan.nominal_v


def drop_limit(load: Load, nominal_v: float, practice: Practice) -> DropLimit:
    """The plan's own limit, else that of the drop class; critical ones also in wires alone."""
    motor = load.drop_class == "intermittent motor"
    key = "drop_motor_percent" if motor else "drop_all_in_percent"
    default = MOTOR_PERCENT if motor else GENERAL_PERCENT
    percent = practice.value(key) or default
    if load.accessory.drop_percent is not None:
        percent = load.accessory.drop_percent
    elif load.accessory.drop_v is not None:
        percent = 100.0 * load.accessory.drop_v / nominal_v
    conductor = practice.value("drop_critical_conductors_percent") if load.critical else None
    if load.critical and conductor is None:
        conductor = 3.0
    return DropLimit(
        percent * nominal_v / 100.0, percent,
        None if conductor is None else conductor * nominal_v / 100.0, conductor,
        nominal_v, load.min_v,
    )


def exclusions(loads: list[Load]) -> NDArray[np.bool_] | None:
    """Pairs that are never on together; None if there are none."""
    index = {load.name.casefold(): i for i, load in enumerate(loads)}
    matrix = np.zeros((len(loads), len(loads)), dtype=bool)
    for i, load in enumerate(loads):
        for name in load.accessory.never_with:
            j = index.get(name.casefold())
            if j is not None and j != i:
                matrix[i, j] = matrix[j, i] = True
    return matrix if matrix.any() else None
