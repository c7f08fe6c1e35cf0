"""The case a rule judges: the plan, the result made from it, and look-ups into both."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from circuitplan.library import kinds
from circuitplan.model import plan as given
from circuitplan.model.record import record
from circuitplan.model.result import (
    AccessoryResult,
    Circuit,
    Fuse,
    PanelResult,
    Result,
    Run,
    SwitchResult,
)

BRAKING_KINDS = ("vacuum pump", "trailer brakes", "abs trailer feed")


@record
class Item:
    """One accessory: as the plan gives it, as the result has it, its circuit and its kind."""

    name: str
    plan: given.Accessory
    result: AccessoryResult
    circuit: Circuit
    kind: kinds.Kind | None

    @property
    def vital(self) -> bool:
        """Whether somebody may be hurt when it stops: medical kinds, brakes, or the plan says."""
        if self.plan.critical is not None:
            return self.plan.critical
        return self.kind is not None and (
            self.kind.family == "medical" or self.kind.kind in BRAKING_KINDS
        )

    def runs(self, role: str = "feed") -> tuple[Run, ...]:
        """The wires of its circuit that carry this accessory's current."""
        return tuple(
            r
            for r in self.circuit.runs
            if r.role == role and self.name in (r.accessories or (self.name,))
        )


@record
class RunPlace:
    """One wire and whose it is: a circuit's, or a panel's feeder.

    ``thing`` is the name in the plan whose ``size`` fixes this wire, or None where several share
    it.
    """

    run: Run
    circuit: Circuit | None
    panel: PanelResult | None
    subject: str
    thing: str | None

    @property
    def circuit_id(self) -> str | None:
        return None if self.circuit is None else self.circuit.id


@record
class FusePlace:
    """One protective device and whose it is; ``group`` names the panel or source it sits at."""

    fuse: Fuse
    circuit: Circuit | None
    panel: PanelResult | None
    subject: str
    thing: str | None
    group: str

    @property
    def circuit_id(self) -> str | None:
        return None if self.circuit is None else self.circuit.id


@record
class Guarded:
    """Wires behind a fuse: ``own`` set its limit (F01), ``beyond`` branch off after a splice."""

    own: tuple[RunPlace, ...]
    beyond: tuple[RunPlace, ...]


@dataclass(frozen=True)
class Case:
    """A finished plan and its result (findings still empty), by the named practice."""

    plan: given.Plan
    result: Result
    practice: str = "general"

    @cached_property
    def scale(self) -> float:
        """Nominal voltage over 12 V: carries figures published for 12 V systems."""
        return self.plan.nominal_v / 12.0

    @cached_property
    def trade(self) -> str:
        """The practice's name as the table of practices writes it."""
        return " ".join(self.practice.lower().replace("-", " ").split())

    @cached_property
    def circuits(self) -> tuple[Circuit, ...]:
        return tuple(sorted(self.result.circuits, key=lambda c: (c.number, c.id)))

    @cached_property
    def items(self) -> tuple[Item, ...]:
        """Every accessory that stands both in the plan and in the result, by name."""
        planned = {a.name.casefold(): a for a in self.plan.accessories}
        found = [
            Item(a.name, planned[a.name.casefold()], a, c, self._kind(planned[a.name.casefold()]))
            for c in self.circuits
            for a in c.accessories
            if a.name.casefold() in planned
        ]
        return tuple(sorted(found, key=lambda item: item.name))

    @staticmethod
    def _kind(accessory: given.Accessory) -> kinds.Kind | None:
        return kinds.find(accessory.kind) if accessory.kind else None

    def item(self, name: str) -> Item | None:
        """The accessory of that name, whatever the case."""
        return next((i for i in self.items if i.name.casefold() == name.casefold()), None)

    @cached_property
    def _switches(self) -> dict[str, given.Switch]:
        return {s.name.casefold(): s for s in self.plan.switches}

    def planned_switch(self, name: str) -> given.Switch | None:
        """The switch as the plan gives it."""
        return self._switches.get(name.casefold())

    @cached_property
    def switches(self) -> tuple[SwitchResult, ...]:
        return tuple(sorted(self.result.switches, key=lambda s: s.id))

    def circuits_of(self, switch: str) -> tuple[Circuit, ...]:
        """The circuits that a switch works."""
        wanted = switch.casefold()
        return tuple(c for c in self.circuits if wanted in (s.casefold() for s in c.switches))

    @cached_property
    def panels(self) -> tuple[PanelResult, ...]:
        return tuple(sorted(self.result.panels, key=lambda p: p.id))

    def panel(self, name: str) -> PanelResult | None:
        return next((p for p in self.panels if p.id.casefold() == name.casefold()), None)

    def planned_panel(self, name: str) -> given.Panel | None:
        return next((p for p in self.plan.panels if p.name.casefold() == name.casefold()), None)

    def upstream(self, name: str) -> tuple[given.Panel, ...]:
        """The plan's panels from ``name`` up to the source, nearest first."""
        found: list[given.Panel] = []
        here = self.planned_panel(name)
        while here is not None and here not in found:
            found.append(here)
            here = self.planned_panel(here.fed_from) if here.fed_from else None
        return tuple(found)

    @cached_property
    def batteries(self) -> tuple[given.Battery, ...]:
        return tuple(sorted(self.plan.supply.batteries, key=lambda b: b.name))

    def battery(self, name: str) -> given.Battery | None:
        return next((b for b in self.batteries if b.name.casefold() == name.casefold()), None)

    @cached_property
    def chargers(self) -> tuple[given.Charger, ...]:
        return tuple(sorted(self.plan.supply.chargers, key=lambda c: c.name))

    @cached_property
    def runs(self) -> tuple[RunPlace, ...]:
        """Every wire of the result, circuits first, then the feeders of the panels."""
        found = [
            RunPlace(r, c, None, self.subject(c, r), self._sized_by(c, r))
            for c in self.circuits
            for r in c.runs
        ]
        found += [RunPlace(r, None, p, p.id, p.id) for p in self.panels for r in p.feeder]
        return tuple(found)

    @cached_property
    def fuses(self) -> tuple[FusePlace, ...]:
        """Every protective device of the result."""
        found = [
            FusePlace(
                f, c, None, self.subject(c), self._only(c), f.position if f.type == "output"
                else c.panel,
            )
            for c in self.circuits
            for f in c.fuses
        ]  # fmt: skip
        found += [
            FusePlace(p.fuse, None, p, p.id, p.id, p.fed_from)
            for p in self.panels
            if p.fuse is not None
        ]
        return tuple(found)

    def fuse(self, fuse_id: str | None) -> FusePlace | None:
        return next((f for f in self.fuses if f.fuse.id == fuse_id), None)

    def protected_by(self, run: Run) -> Fuse | None:
        """The protective device in front of a wire, if the result knows one."""
        place = self.fuse(run.protected_by)
        return None if place is None else place.fuse

    def guarded(self, fuse: Fuse) -> Guarded:
        """The wires behind a fuse and no other, without control wires."""
        behind = [r for r in self.runs if r.run.protected_by == fuse.id and r.run.role != "control"]
        first = next((r.run for r in behind if r.run.id == fuse.protects), None)
        served = set(() if first is None else first.accessories)
        beyond = [
            r for r in behind
            if set(r.run.accessories) < served
            or (fuse.max_a is not None and r.run.ampacity_a < fuse.max_a * (1.0 - 1e-9))
        ]
        return Guarded(tuple(r for r in behind if r not in beyond), tuple(beyond))

    def run(self, run_id: str) -> RunPlace | None:
        return next((r for r in self.runs if r.run.id == run_id), None)

    @staticmethod
    def subject(circuit: Circuit, run: Run | None = None) -> str:
        """What a finding on this circuit, or on one wire of it, is about, as the plan names it."""
        if run is not None and len(run.accessories) == 1:
            return run.accessories[0]
        if len(circuit.accessories) == 1:
            return circuit.accessories[0].name
        return circuit.label

    @staticmethod
    def _only(circuit: Circuit) -> str | None:
        return circuit.accessories[0].name if len(circuit.accessories) == 1 else None

    def _sized_by(self, circuit: Circuit, run: Run) -> str | None:
        if run.role == "control":
            return None
        if len(run.accessories) == 1:
            return run.accessories[0]
        return self._only(circuit)

    def own_contactor(self, circuit: Circuit) -> bool:
        """Whether the loads bring the contactor that their switch works, as winches do."""
        found = [self.item(a.name) for a in circuit.accessories]
        return bool(found) and all(
            i is not None and i.kind is not None and i.kind.own_contactor for i in found
        )

    def motor_on(self, switch_id: str) -> str | None:
        """Reversing or two-speed, where the switch works such a motor, which takes it whole."""
        circuits = self.circuits_of(switch_id)
        return next((a.motor for c in circuits for a in c.accessories if a.motor), None)

    def spare_switch(self, needed_a: float, but: str) -> SwitchResult | None:
        """The switch that carries load and has the most left, if that is enough [A]."""
        fitting = [
            s
            for s in self.switches
            if s.id != but
            and s.type in ("direct", "output")
            and s.spare_a is not None
            and s.spare_a >= needed_a
            and self.motor_on(s.id) is None
        ]
        return max(fitting, key=lambda s: (s.spare_a or 0.0, s.id), default=None)
