"""The decisions as they stand while sizing: wires, fuses, relays, and where each wire lies."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from circuitplan.design.demand import Demand
from circuitplan.design.draft import CircuitDraft, End, Node, Segment, Slot, Wiring
from circuitplan.design.levels import Levels
from circuitplan.design.protection.protect import Device
from circuitplan.design.wire import LARGEST_LOOM, Candidate, Surroundings
from circuitplan.library import bundle as bundles
from circuitplan.library import conductors, contacts
from circuitplan.library.practices import Practice
from circuitplan.library.relays import Relay
from circuitplan.model.plan import Plan
from circuitplan.model.record import record
from circuitplan.model.result import LimitedBy
from circuitplan.physics.bundle import settled_factor

COLUMNS = (0.2, 0.4, 0.6, 0.8, 1.0)
CHASSIS_COMMON = "chassis common part"
CHASSIS_OWN = "chassis own part"
BODY_JOINT = "body joint"
VEHICLE_FEED_V = 0.2
"""Drop of the vehicle's own cable up to an output, at its rating (service limit; second-hand)."""


@record
class Loom:
    """One bundle: wires side by side in each loom, and how hard they work together."""

    wires: int
    looms: int
    loading: float


@dataclass(slots=True)
class State:
    """All decisions of one pass: filled by the relays, then by the sizer, then only read."""

    plan: Plan
    wiring: Wiring
    levels: Levels
    demand: Demand
    practice: Practice
    wire: dict[str, Candidate] = field(default_factory=dict)
    fuse: dict[str, Device | None] = field(default_factory=dict)
    limited: dict[str, LimitedBy] = field(default_factory=dict)
    smaller: dict[str, str] = field(default_factory=dict)
    relay: dict[str, Relay] = field(default_factory=dict)  # circuit key -> relay
    looms: dict[str, Loom] = field(default_factory=dict)
    control_a: dict[str, float] = field(default_factory=dict)  # control wire -> coil current
    before: dict[int, tuple[float, float]] = field(default_factory=dict)  # drop up to a circuit
    wire_over_fuse: float = 1.0  # Iz >= this x In
    _least_area: dict[tuple[str, bool], float] = field(default_factory=dict)
    _around: dict[str, Surroundings] = field(default_factory=dict)
    _contact_of: dict[str, tuple[float, float]] = field(default_factory=dict)  # wire -> relay's

    _common: dict[str, float] | None = None  # see ``common``

    def __post_init__(self) -> None:
        self.wire_over_fuse = self.practice.value("iz_over_in") or 1.0

    def least_area(self, segment: Segment) -> float:
        """Least copper area for strength in this gauge [mm²]."""
        key = (segment.gauge, segment.route.sheathed)
        known = self._least_area.get(key)
        if known is None:
            known = self._least_area[key] = self._practice_area(*key)
        return known

    def _practice_area(self, gauge: str, sheathed: bool) -> float:
        if gauge in ("metric", "iec"):
            key = "min_size_sheath_metric_mm2" if sheathed else "min_size_metric_mm2"
            return self.practice.value(key) or (0.75 if sheathed else 1.0)
        key = "min_size_sheath_awg" if sheathed else "min_size_awg"
        number = self.practice.value(key) or (18.0 if sheathed else 16.0)
        found = conductors.get(gauge, f"{number:g}")
        return found.area_mm2 if found is not None else 1.0

    # --- where wires lie -------------------------------------------------------------------

    def around(self, segment: Segment) -> Surroundings:
        """The worst stretch of a segment."""
        known = self._around.get(segment.key)
        if known is None:
            known = self._around[segment.key] = self._worst_stretch(segment)
        return known

    def _worst_stretch(self, segment: Segment) -> Surroundings:
        worst: Surroundings | None = None
        least = math.inf
        for stretch in segment.route.stretches:
            loom = self.looms.get(segment.bundle_apart or stretch.bundle)
            wires, loading = (loom.wires, loom.loading) if loom else (segment.pieces, 1.0)
            here = Surroundings(stretch.ambient_c, stretch.tube, max(1, wires), loading)
            margin = max(segment.insulation.class_c - stretch.ambient_c, 0.0)
            share = math.sqrt(margin) * here.tube * here.bundle_factor
            if share < least:
                worst, least = here, share
        assert worst is not None
        return worst

    def count_looms(self) -> None:
        """Start: everything side by side that shares a way, lightly loaded."""
        self.looms = {
            name: Loom(*self._tied(members), COLUMNS[0])
            for name, members in self._members().items()
        }
        self._around.clear()

    def load_looms(self) -> None:
        """Loading of every loom with the sizes as they stand."""
        for name, members in self._members().items():
            wires, looms = self._tied(members)
            current = sum(self.current(s, thermal=True) * s.pieces for s in members)
            whole = 0.0
            for segment in members:
                chosen = self.wire.get(segment.key)
                if chosen is None:
                    continue
                hot = segment.route.ambient_c
                whole += chosen.single_ampacity(hot)[0] * segment.pieces
            if wires == 1 or whole <= 0.0:
                self.looms[name] = Loom(wires, looms, 1.0)
                continue
            factors = [bundles.factor(wires, column) or 0.0 for column in COLUMNS]
            _, loading = settled_factor(current, whole, COLUMNS, factors)
            self.looms[name] = Loom(wires, looms, min(loading, 1.0))
        self._around.clear()

    def _members(self) -> dict[str, list[Segment]]:
        found: dict[str, list[Segment]] = {}
        for segment in self.wiring.segments():
            for bundle in dict.fromkeys(segment.bundles()):
                found.setdefault(bundle, []).append(segment)
        return found

    @staticmethod
    def _tied(members: list[Segment]) -> tuple[int, int]:
        total = sum(s.pieces for s in members)
        looms = math.ceil(total / LARGEST_LOOM)
        return math.ceil(total / looms), looms

    # --- currents ----------------------------------------------------------------------------

    def current(self, segment: Segment, thermal: bool = False) -> float:
        """Largest current of one wire of a segment [A]; of a control wire, its coils'."""
        if segment.kind == "control":
            return self.control_a.get(segment.key, 0.0)
        return self.demand.of(segment, thermal)

    # --- resistances ---------------------------------------------------------------------------

    def contact_ohm(
        self, segment: Segment, wire: Candidate, device: Device | None, worst: bool = False,
        alone: bool = False,
    ) -> float:
        """Contacts in series with a segment: crimps, joints, fuse, relay, earth [ohm].

        A fuse and a relay that several own wires share carry all of them: seen from one of them,
        they resist as many times more; not where it is ``alone``, as in a fault.
        """
        common = 1.0 if alone else self.common(segment)
        pick = 1 if worst else 0
        crimp = contacts.crimp(wire.conductor.area_mm2)
        total = segment.crimps * (crimp.worst_ohm if worst else crimp.design_ohm)
        total += sum(contacts.resistance(item)[pick] for item in segment.contacts)
        if device is not None:
            total += common * (device.worst_ohm if worst else device.design_ohm)
            if device.type == "output":
                total += VEHICLE_FEED_V / device.rating_a
        total += common * self.relay_contact_ohm(segment)[pick]
        if segment.kind == "earth lead":
            total += self.earth_ohm(segment, worst)
        return total / segment.pieces

    def earth_ohm(self, segment: Segment, worst: bool) -> float:
        """Own part of a chassis return: earth point and body joints; none if it was measured."""
        if self.plan.chassis_ohm is not None and not worst:
            return 0.0
        pick = 1 if worst else 0
        joints = segment.route.joints * contacts.resistance(BODY_JOINT)[pick]
        return contacts.resistance(CHASSIS_OWN)[pick] + joints

    def chassis_ohm(self, worst: bool) -> float:
        """The part of the body that all chassis returns share [ohm]."""
        if self.plan.chassis_ohm is not None and not worst:
            return self.plan.chassis_ohm
        found = contacts.resistance(CHASSIS_COMMON)[1 if worst else 0]
        return max(found, self.plan.chassis_ohm or 0.0)

    def wire_ohm(self, segment: Segment, wire: Candidate, temperature_c: float) -> float:
        return wire.ohm_per_m(temperature_c) * segment.route.length_m / segment.pieces

    def temperature(self, segment: Segment, wire: Candidate) -> float:
        """Steady temperature at the design current, at most that of its class plus 50 K."""
        found = wire.temperature(self.current(segment, thermal=True), self.around(segment))
        return min(found, wire.insulation.class_c + 50.0)

    def hottest_end(
        self, segment: Segment, wire: Candidate, thermal_a: float
    ) -> tuple[float, End] | None:
        """(temperature, end) of the end that is nearest to the class of its part, or over it."""
        around = self.around(segment)
        worst: tuple[float, End] | None = None
        for end in segment.ends:
            ambient_c = min(end.ambient_c, around.ambient_c)
            found = wire.temperature(thermal_a, around, ambient_c)
            if worst is None or found - end.limit_c > worst[0] - worst[1].limit_c:
                worst = (found, end)
        return worst

    def fit_relay(self, circuit: CircuitDraft, relay: Relay) -> None:
        """Put a relay at the start of a circuit's shared run, or of its branches, or one at each
        wire to its motor."""
        self.relay[circuit.key] = relay
        first = "trunk" if any(s.kind == "trunk" for s in circuit.segments) else "branch"
        for segment in circuit.segments:
            if segment.kind == "live back":  # back through the other relay, which is at rest
                self._contact_of[segment.key] = relay.break_design_ohm, relay.break_worst_ohm
            elif segment.kind == first and bool(segment.position) == bool(circuit.positions):
                self._contact_of[segment.key] = relay.contact_design_ohm, relay.contact_worst_ohm

    def relay_contact_ohm(self, segment: Segment) -> tuple[float, float]:
        """(design, worst) of the relay's contact before a wire [ohm]; 0 where there is none."""
        return self._contact_of.get(segment.key, (0.0, 0.0))

    # --- who guards what ------------------------------------------------------------------------

    def first_segment(self, slot: Slot) -> Segment | None:
        return slot.segments[0] if slot.segments else None

    def starts(self, owner: CircuitDraft | Node, slot: Slot) -> list[Segment]:
        """The segments that begin at a device: one, or of several own wires each the first."""
        first = self.first_segment(slot)
        if first is None:
            return []
        if isinstance(owner, CircuitDraft) and slot is owner.slot and _own_wires(owner):
            return [mine[0] for mine in owner.feeds.values() if mine]
        return [first]

    def common(self, segment: Segment) -> float:
        """Of the first own wire of several behind one fuse: current of all over its own."""
        if self._common is None:
            self._common = {}
            for circuit in self.wiring.circuits:
                for index in circuit.loads if _own_wires(circuit) else ():
                    members = tuple(self.demand.allowed(circuit.loads, index))
                    own = self.demand.of_loads((index,))
                    whole = self.demand.of_loads(members)
                    first = circuit.feeds[index][0]
                    self._common[first.key] = max(1.0, whole / own) if own > 0.0 else 1.0
        return self._common.get(segment.key, 1.0)

    def devices_at(self, circuit: CircuitDraft | Node) -> dict[str, Device | None]:
        """Segment key -> fuse that stands in series at its start."""
        slots = [circuit.slot] if circuit.slot is not None else []
        if isinstance(circuit, CircuitDraft):
            slots += circuit.inline
        found: dict[str, Device | None] = {}
        for slot in slots:
            for first in self.starts(circuit, slot):
                found[first.key] = self.fuse.get(slot.key)
        return found


def _own_wires(circuit: CircuitDraft) -> bool:
    """Whether several accessories behind one fuse have a wire each from it."""
    return len(circuit.loads) > 1 and all(s.kind != "trunk" for s in circuit.segments)
