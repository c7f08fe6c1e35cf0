"""Small things that the arrays of a frozen design are made of, and its loads as columns."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from circuitplan.design.load import COLD_COIL_FACTOR, Load
from circuitplan.design.state import State
from circuitplan.physics.exclusion import Exclusion

Floats = NDArray[np.float64]
Rows = NDArray[np.intp]
Groups = tuple[tuple[Rows, Floats], ...]


@dataclass(slots=True)
class Names:
    """Row numbers of names, in the order of the names."""

    rows: dict[str, int]

    @staticmethod
    def of(names: set[str]) -> Names:
        return Names({name: row for row, name in enumerate(sorted(names))})

    def __len__(self) -> int:
        return len(self.rows)


@dataclass(slots=True)
class Incidence:
    """A matrix of few entries, multiplied with blocks of samples in one thread."""

    matrix: Any

    @staticmethod
    def of(dense: Floats) -> Incidence:
        from scipy.sparse import csr_array  # type: ignore[import-untyped]

        return Incidence(csr_array(dense))

    def __matmul__(self, block: Floats) -> Floats:
        found: Floats = self.matrix @ block
        return found


@dataclass(slots=True)
class Loads:
    """Columns of shape (loads, 1). ``varying``: rows whose exponent is drawn."""

    loads: list[Load]
    rated_a: Floats
    rated_v: Floats
    falling: Floats
    rising: Floats
    varying: Rows
    frozen_a: Floats  # worst current of the design, rated draw
    frozen_ends_v: Floats  # (loads, 2): volts at which it is reckoned
    limit_v: Floats
    conductor_limit_v: Floats  # inf where there is none
    least_v: Floats  # -inf where there is none
    groups: Groups  # interlocks


def column(values: list[float]) -> Floats:
    """Values as an array of shape (rows, 1)."""
    return np.array(values, dtype=np.float64).reshape(-1, 1)


def rows_of(values: list[int]) -> Rows:
    """Row numbers as an array."""
    return np.array(values, dtype=np.intp)


def loads_of(state: State) -> Loads:
    """All loads of a sized state as columns."""
    loads, demand, ends = state.wiring.loads, state.demand, state.levels
    cold = [COLD_COIL_FACTOR if load.model == "solenoid" else 1.0 for load in loads]
    never = demand.never_with
    floors = [
        (max(ends.low_v[i] - demand.limits[i].total_v, 0.5 * demand.limits[i].nominal_v),
         ends.high_v[i])
        for i in range(len(loads))
    ]
    inf = float("inf")
    return Loads(
        loads,
        column([load.rated_a * c for load, c in zip(loads, cold, strict=True)]),
        column([load.rated_v for load in loads]),
        column([min(load.exponents) for load in loads]),
        column([max(load.exponents) for load in loads]),
        np.array([i for i, load in enumerate(loads) if len(load.exponents) > 1], dtype=np.intp),
        demand.worst_a.reshape(-1, 1).copy(),
        np.array(floors, dtype=np.float64).reshape(-1, 2),
        column([limit.total_v for limit in demand.limits]),
        column([inf if x.conductor_v is None else x.conductor_v for x in demand.limits]),
        column([-inf if x.least_v is None else x.least_v for x in demand.limits]),
        () if never is None else Exclusion.of(never).groups,
    )
