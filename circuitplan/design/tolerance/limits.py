"""Every limit of a sized plan as a margin a sample: not negative where the limit holds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from circuitplan.design.draft import CircuitDraft, Node, Segment
from circuitplan.design.numbering import Numbers
from circuitplan.design.sizing import Sizer
from circuitplan.design.state import State
from circuitplan.design.tolerance.carried import Carried, carried, fitted
from circuitplan.design.tolerance.faults import Faults, far_shorts
from circuitplan.design.tolerance.frozen import Frozen, freeze
from circuitplan.design.tolerance.inputs import Drawing, Inputs, drawing, outside_c
from circuitplan.design.tolerance.solve import Volts, solve
from circuitplan.design.tolerance.warmth import cycle_peaks, temperatures
from circuitplan.design.ways import Ways
from circuitplan.model.record import record

Floats = NDArray[np.float64]

DROP, LEAST_VOLTS, WIRE_CLASS = "drop", "minimum volts", "wire class"
FAULT, CARRIES = "fault clears", "fuse carries"
LIMITS = (DROP, LEAST_VOLTS, WIRE_CLASS, FAULT, CARRIES)
SLACK = -1e-9
"""Rounding that a limit met exactly is forgiven."""


@record
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


MORE_CURRENT, MORE_RISE = 1.1, 0.35
"""With 10 % more current no wire below its class rises 35 % more (computed; a test holds it)."""


def class_margins(frozen: Frozen, inputs: Inputs, solved: Volts) -> Floats:
    """Class less temperature of each body at the solved currents [K].

    The temperatures of the design's worst currents, known already, stand for bodies that cannot
    be near their class. On a duty cycle the hottest moment counts.
    """
    bodies = frozen.bodies
    warm, around = solved.body_c, solved.around_c
    found = bodies.class_c - warm
    near = (found - MORE_RISE * (warm - around)).min(axis=1) < 0.0
    grown = (solved.current_a > MORE_CURRENT * solved.frozen_a).any(axis=1)
    near |= (bodies.carries[:, grown] > 0.0).any(axis=1)
    rows = np.flatnonzero(near)
    if len(rows):
        warm = temperatures(frozen, inputs, solved.current_a, around, rows)
        found[rows] = bodies.class_c[rows] - warm
    peaks = cycle_peaks(frozen, inputs, solved.current_a, around)
    for row, (body, *_) in enumerate(bodies.cycled):
        found[body] = bodies.class_c[body] - peaks[row]
    return found


def margins_of(state: State, sizer: Sizer, ways: Ways, numbers: Numbers) -> Margins:
    """Margins of a sized plan."""
    frozen = freeze(state, ways)
    known = fitted(state)
    names = {slot: numbers.fuse.get(slot, slot) for slot in known}
    drawn = drawing(frozen, names, numbers.run)
    shorts, short_owners = far_shorts(frozen, drawn.fuse_names)
    fuses, fuse_owners = carried(frozen, sizer, ways, drawn.fuse_names)
    limits: list[Limit] = []
    circuits = sorted(state.wiring.circuits, key=lambda c: numbers.circuit[c.key])
    panels = [n for n in state.wiring.nodes.values() if n.panel is not None]
    owners: list[CircuitDraft | Node] = [
        *circuits, *sorted(panels, key=lambda n: (n.depth, n.name))
    ]
    for owner in owners:
        segments: list[Segment]
        loads: tuple[int, ...]
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
