"""The loads of an analysis: minimum continuous, additional continuous, intermittent.

Minimum continuous is the vehicle's own load and what is never left out: critical accessories and
priority 1. The purchaser of an emergency vehicle may have to add to it.
"""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.model.plan import Plan
from circuitplan.model.result import AccessoryResult, Circuit, Result

KEPT_PRIORITY = 1


@dataclass(frozen=True, slots=True)
class Line:
    """One component. ``current_a``: largest steady current, all pieces, at the worse supply end."""

    circuit: str
    name: str
    current_a: float
    note: str


@dataclass(frozen=True, slots=True)
class Loads:
    """Components by kind, at the battery that starts the engine."""

    vehicle_a: float
    minimum: tuple[Line, ...]
    additional: tuple[Line, ...]
    intermittent: tuple[Line, ...]

    @property
    def minimum_a(self) -> float:
        """Minimum continuous load, the vehicle's own included [A]."""
        return self.vehicle_a + sum(x.current_a for x in self.minimum)

    @property
    def total_a(self) -> float:
        """Total continuous load [A]."""
        return self.minimum_a + sum(x.current_a for x in self.additional)


def loads(plan: Plan, result: Result) -> Loads:
    """The components in the order of the circuit numbers."""
    main = plan.supply.batteries[0].name if plan.supply.batteries else "battery"
    outputs = {f"{c.name} output" for c in plan.supply.chargers}
    outputs |= {c.name for c in plan.supply.chargers if c.kind != "dc-dc"}
    planned = {a.name: a for a in plan.accessories}
    minimum: list[Line] = []
    additional: list[Line] = []
    intermittent: list[Line] = []
    for circuit in sorted(result.circuits, key=lambda c: c.number):
        if circuit.source != main:
            continue
        for one in circuit.accessories:
            if one.name in outputs:
                continue
            given = planned.get(one.name)
            kept = one.drop_class == "critical" or (
                given is not None and (given.critical or given.priority == KEPT_PRIORITY)
            )
            line = _line(circuit, one, given is None)
            if not one.continuous:
                intermittent.append(line)
            elif kept:
                minimum.append(line)
            else:
                additional.append(line)
    return Loads(_vehicle_a(result), tuple(minimum), tuple(additional), tuple(intermittent))


def _line(circuit: Circuit, one: AccessoryResult, charger: bool) -> Line:
    notes = []
    if charger:
        notes.append("charging of another battery")
    if one.quantity > 1:
        notes.append(f"{one.quantity} pieces")
    if one.on_s is not None and one.period_s is not None and not one.continuous:
        notes.append(f"{one.on_s:g} s in {one.period_s:g} s")
    if one.peak_a is not None:
        notes.append(f"peak {one.peak_a:g} A")
    return Line(str(circuit.number), one.name, one.current_a, ", ".join(notes))


def _vehicle_a(result: Result) -> float:
    """The vehicle's own load with the engine on, its worst state."""
    if result.supply.vehicle_on_a is not None:
        return result.supply.vehicle_on_a
    return max((s.vehicle_a for s in result.supply.scenarios), default=0.0)
