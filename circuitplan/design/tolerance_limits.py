"""Every limit of a sized plan as a margin a sample: not negative where the limit holds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from circuitplan.design.draft import CircuitDraft, Node
from circuitplan.design.numbering import Numbers
from circuitplan.design.sizing import Sizer
from circuitplan.design.state import State
from circuitplan.design.tolerance_faults import Carried, Faults, carried, far_shorts, fitted
from circuitplan.design.tolerance_frozen import Frozen, freeze
from circuitplan.design.tolerance_inputs import Drawing, Inputs, drawing, outside_c
from circuitplan.design.tolerance_solve import Volts, class_margins, solve
from circuitplan.design.ways import Ways

Floats = NDArray[np.float64]

DROP, LEAST_VOLTS, WIRE_CLASS = "drop", "minimum volts", "wire class"
FAULT, CARRIES = "fault clears", "fuse carries"
LIMITS = (DROP, LEAST_VOLTS, WIRE_CLASS, FAULT, CARRIES)
SLACK = -1e-9
"""Rounding that a limit met exactly is forgiven."""


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit of one circuit or feeder; ``rows`` of the family's margins that must hold."""

    circuit: str
    label: str
    name: str
    rows: tuple[int, ...]


@dataclass(slots=True)
class Margins:
    """All that is needed to judge samples of one plan."""

    frozen: Frozen
    drawing: Drawing
    faults: Faults
    carried: Carried
    limits: tuple[Limit, ...]
    unknown: tuple[str, ...]  # devices of which no curve is known

    def of(self, inputs: Inputs) -> Floats:
        """Margins of shape (limits, samples)."""
        found = self.parts(inputs)
        margins = np.empty((len(self.limits), inputs.supply.shape[1]))
        for row, limit in enumerate(self.limits):
            rows = found[limit.name]
            margins[row] = rows[limit.rows[0]]
            for other in limit.rows[1:]:
                np.minimum(margins[row], rows[other], out=margins[row])
        return margins

    def parts(self, inputs: Inputs) -> dict[str, Floats]:
        """Margins of the loads, wires and fuses behind each limit."""
        solved = solve(self.frozen, inputs)
        faults, _ = self.faults.margin(
            solved.wire_ohm, inputs.fault_contact_ohm, inputs.fault_chassis_ohm,
            inputs.fault_ohm, inputs.clearing,
        )
        return {
            DROP: self._drops(solved),
            LEAST_VOLTS: np.where(
                solved.held, solved.volts - self.frozen.loads.least_v, -np.inf
            ),
            WIRE_CLASS: class_margins(self.frozen, inputs, solved),
            FAULT: faults,
            CARRIES: self.carried.margin(
                solved.current_a, inputs.place_k, outside_c(self.frozen)
            ),
        }

    def _drops(self, solved: Volts) -> Floats:
        """1 - drop / limit of each load; of critical ones also in conductors alone."""
        loads, critical = self.frozen.loads, self.frozen.net.critical
        found = 1.0 - (solved.supply_v - solved.volts) / loads.limit_v
        if len(critical):
            thin = 1.0 - solved.conductor_v / loads.conductor_limit_v[critical]
            found[critical] = np.minimum(found[critical], thin)
        return np.where(solved.held, found, -np.inf)


def margins_of(state: State, sizer: Sizer, ways: Ways, numbers: Numbers) -> Margins:
    """Margins of a sized plan."""
    frozen = freeze(state, ways)
    known = fitted(state)
    names = {key: numbers.fuse.get(key, key) for key in known}
    drawn = drawing(frozen, names, numbers.run)
    shorts, short_owners = far_shorts(frozen, drawn.fuse_names)
    fuses, fuse_owners = carried(frozen, sizer, ways, drawn.fuse_names)
    limits: list[Limit] = []
    owners: list[CircuitDraft | Node] = sorted(
        state.wiring.circuits, key=lambda c: numbers.circuit[c.key]
    )
    owners += [n for n in sorted(state.wiring.nodes.values(), key=lambda n: (n.depth, n.name))
               if n.panel is not None]
    for owner in owners:
        if isinstance(owner, CircuitDraft):
            circuit, label = str(numbers.circuit[owner.key]), owner.label
            segments, loads = owner.segments, owner.loads
        else:
            circuit, label = owner.name, f"feeder of {owner.name}"
            segments, loads = owner.feeder, ()
        guarded = [i for i in loads if np.isfinite(frozen.loads.least_v[i, 0])]
        bodies = {int(frozen.wires.body[frozen.wires.row[s.key]]) for s in segments}
        families: list[tuple[str, list[int]]] = [
            (DROP, list(loads)), (LEAST_VOLTS, guarded), (WIRE_CLASS, sorted(bodies)),
            (FAULT, _of(owner, short_owners)), (CARRIES, _of(owner, fuse_owners)),
        ]
        limits += [Limit(circuit, label, name, tuple(rows)) for name, rows in families if rows]
    unknown = tuple(sorted(names[key] for key, (_, _, d) in known.items() if not d.gates))
    return Margins(frozen, drawn, shorts, fuses, tuple(limits), unknown)


def _of(owner: object, owners: list[CircuitDraft | Node]) -> list[int]:
    return [row for row, other in enumerate(owners) if other is owner]
