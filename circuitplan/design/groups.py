"""Stretches that take one size together, and what a size of theirs would break."""

from __future__ import annotations

import math
from dataclasses import dataclass

from circuitplan.design import paths
from circuitplan.design.draft import CircuitDraft, Node, Segment, Slot
from circuitplan.design.protection import faults
from circuitplan.design.protection.protect import SLACK, Device, fits_wire
from circuitplan.design.state import State
from circuitplan.design.wire import Candidate, laid
from circuitplan.model.record import record
from circuitplan.model.result import LimitedBy
from circuitplan.physics import transient

FEEDER_SHARE = 0.4
"""Of the tightest drop limit behind a feeder that the feeder may use (judgement)."""
TRUNK_SHARE = 0.5
"""Of what is left of the drop that a shared lead may use (judgement)."""


EVERYTHING = frozenset({"drop", "fault"})
"""What sizing heeds first; see ``Sizer`` for what it lets go where nothing keeps it all."""


@dataclass(slots=True)
class Group:
    """Stretches of one size. ``load`` is the accessory at its end; None for feeders and leads."""

    key: str
    owner: CircuitDraft | Node
    segments: list[Segment]
    load: int | None
    inline: Slot | None = None

    @property
    def series(self) -> list[Segment]:
        """Those that carry the current one after the other."""
        return [s for s in self.segments if not s.aside]

    @property
    def copper(self) -> float:
        return sum(s.route.length_m * s.pieces for s in self.segments)


@record
class Broken:
    """Why a size will not do."""

    by: LimitedBy
    words: str


def of_circuit(circuit: CircuitDraft) -> list[Group]:
    """Shared lead first, then one group an accessory; a control circuit is one group."""
    if circuit.style == "control":
        return [Group(circuit.key, circuit, list(circuit.segments), None)]
    found: list[Group] = []
    trunk = [s for s in circuit.segments if s.kind == "trunk"]
    if trunk:
        found.append(Group(trunk[0].key, circuit, trunk, None))
    for index in circuit.loads:
        mine = [s for s in circuit.segments if s.kind != "trunk" and s.loads == (index,)]
        inline = next((s for s in circuit.inline if s.optional and s.loads == (index,)), None)
        found.append(Group(f"{circuit.key} {index}", circuit, mine, index, inline))
    return found


def broken(
    state: State, group: Group, wire: Candidate, device: Device | None,
    guard: Device | None, upstream: list[Segment], heed: frozenset[str] = EVERYTHING,
) -> Broken | None:
    """What this wire breaks, the first of: strength, heat, drop, its fuse, a fault.

    ``device`` stands in series at the start of the group, if one does; ``guard`` is the fuse that
    protects it; ``upstream`` the shared lead before it, sized already.
    """
    for segment in group.segments:
        if wire.conductor.area_mm2 * SLACK < state.least_area(segment):
            return Broken("minimum", "below the least size for strength")
    hot = _too_hot(state, group, wire)
    if hot is not None:
        return hot
    if "drop" in heed:
        drop = _drops_too_much(state, group, wire, device, upstream)
        if drop is not None:
            return drop
    if guard is None:
        return None
    return unguarded(state, group, wire, device, guard, upstream, "fault" in heed)


def _too_hot(state: State, group: Group, wire: Candidate) -> Broken | None:
    for segment in group.segments:
        wire = laid(wire, segment)
        around = state.around(segment)
        rated = wire.ampacity(around)
        current = state.current(segment)
        load = state.wiring.loads[segment.loads[0]] if len(segment.loads) == 1 else None
        if load is not None and not load.continuous and load.on_s and load.period_s and rated > 0:
            peak = transient.periodic_peak(
                wire.body(around), max(current, (load.peak_a or 0.0) / segment.pieces),
                load.on_s, max(load.period_s - load.on_s, 0.0),
            )
            if peak > wire.insulation.class_c * SLACK:
                return Broken("ampacity", f"reaches {_c(peak)} in its duty cycle")
            continue
        thermal = state.current(segment, thermal=True)
        if thermal > rated * SLACK:
            return Broken("ampacity", f"carries {rated:.1f} A of {thermal:.1f} A")
        limits = [end.limit_c for end in segment.ends]
        if limits and wire.temperature(thermal, around) <= min(limits):
            continue  # no end is hotter than the hottest stretch
        worst = state.hottest_end(segment, wire, thermal)
        if worst is not None and worst[0] > worst[1].limit_c * SLACK:
            return Broken(
                "ampacity",
                f"is {_c(worst[0])} at a {worst[1].part} of {worst[1].limit_c:.0f} °C",
            )
    return None


def _c(value: float) -> str:
    return "no steady temperature" if math.isinf(value) else f"{value:.0f} °C"


def _drops_too_much(
    state: State, group: Group, wire: Candidate, device: Device | None, upstream: list[Segment]
) -> Broken | None:
    if isinstance(group.owner, Node):
        return _feeder_drop(state, group, wire, device)
    if group.owner.style == "control":
        return None
    loads = group.owner.loads if group.load is None else (group.load,)
    # A size that the plan gives may use all that is left: the others are chosen around it.
    shared = group.load is None and not group.segments[0].spec.given
    share = TRUNK_SHARE if shared else 1.0
    for index in loads:
        limit = state.demand.limits[index]
        wires_v, contacts_v = state.before.get(index) or upstream_drop(state, group.owner, index)
        devices = state.devices_at(group.owner)
        for segment in upstream:
            chosen = state.wire[segment.key]
            amps = state.current(segment) * segment.pieces
            wires_v += amps * state.wire_ohm(segment, chosen, state.temperature(segment, chosen))
            contacts_v += amps * state.contact_ohm(segment, chosen, devices.get(segment.key))
        own_v = 0.0
        for segment in group.series:
            wire = laid(wire, segment)
            amps = state.current(segment) * segment.pieces
            own_v += amps * state.wire_ohm(segment, wire, state.temperature(segment, wire))
            first = segment is group.segments[0]
            contacts_v += amps * state.contact_ohm(segment, wire, device if first else None)
        allowed = limit.total_v
        left = allowed - wires_v - contacts_v
        if own_v > share * left * SLACK:
            total = own_v + wires_v + contacts_v
            return Broken(
                "drop", f"drops {total:.2f} V of {allowed:.2f} V allowed"
                if share == 1.0 else f"a shared lead may drop {share * left:.2f} V, not {own_v:.2f}"
            )
        if limit.conductor_v is not None:
            room = limit.conductor_v - wires_v
            if own_v > share * room * SLACK:
                return Broken(
                    "drop", f"wires alone drop {own_v + wires_v:.2f} V of "
                    f"{limit.conductor_v:.2f} V allowed",
                )
    return None


def _feeder_drop(
    state: State, group: Group, wire: Candidate, device: Device | None
) -> Broken | None:
    node = group.owner
    assert isinstance(node, Node)
    limits = [state.demand.limits[i] for i in node.loads]
    if not limits:
        return None
    wires_v = contacts_v = 0.0
    for position, segment in enumerate(group.segments):
        wire = laid(wire, segment)
        amps = state.current(segment)
        wires_v += amps * state.wire_ohm(segment, wire, state.temperature(segment, wire))
        contacts_v += amps * state.contact_ohm(segment, wire, device if position == 0 else None)
    share = 1.0 if group.segments[0].spec.given else FEEDER_SHARE
    allowed = share * min(limit.total_v for limit in limits)
    if wires_v + contacts_v > allowed * SLACK:
        return Broken(
            "drop", f"drops {wires_v + contacts_v:.2f} V; a feeder may use {allowed:.2f} V"
        )
    critical = [limit.conductor_v for limit in limits if limit.conductor_v is not None]
    if critical and wires_v > share * min(critical) * SLACK:
        return Broken(
            "drop", f"its wires drop {wires_v:.2f} V; a feeder of critical circuits may use "
            f"{share * min(critical):.2f} V",
        )
    return None


def upstream_drop(state: State, circuit: CircuitDraft, index: int) -> tuple[float, float]:
    """(wires, contacts) drop of the panel feeders and the shared body before a circuit [V]."""
    wires_v = contacts_v = 0.0
    for link in paths.feeders(state, circuit, index):
        segment = link.segment
        wire = state.wire[segment.key]
        members = tuple(state.demand.allowed(segment.loads, index))
        amps = state.demand.of_loads(members)
        wires_v += amps * state.wire_ohm(segment, wire, state.temperature(segment, wire))
        device = state.devices_at(link.owner).get(segment.key)
        contacts_v += amps * state.contact_ohm(segment, wire, device)
    if paths.uses_chassis(state, circuit, index):
        users = tuple(
            i for c in state.wiring.circuits for i in c.loads if paths.uses_chassis(state, c, i)
        )
        amps = state.demand.of_loads(tuple(state.demand.allowed(users, index)))
        contacts_v += amps * state.chassis_ohm(worst=False)
    return wires_v, contacts_v


def unguarded(
    state: State, group: Group, wire: Candidate, device: Device | None, guard: Device,
    upstream: list[Segment], heed_fault: bool,
) -> Broken | None:
    """Why ``guard`` does not guard this wire: it is over it, or does not clear a short in time."""
    slot = group.inline if device is guard and group.inline is not None else _slot(group.owner)
    short_only = slot is not None and slot.short_circuit_only
    ratio = state.wire_over_fuse
    for segment in group.segments:
        wire = laid(wire, segment)
        rated = wire.ampacity(state.around(segment))  # one tail alone bears the fuse's current
        if not short_only and guard.rating_a * ratio > rated * SLACK:
            return Broken("fuse", f"carries {rated:.1f} A behind a {guard.rating_a:g} A fuse")
    if not heed_fault:
        return None
    weak, strong = fault_currents(state, group, wire, device, upstream)
    limited = faults.source_limit(state, node_of(state, group.owner))
    for segment in group.segments:
        wire = laid(wire, segment)
        around = state.around(segment)
        if limited is not None and wire.ampacity(around) >= limited:
            continue  # a converter that cannot overload the wire is its protection
        failed = fits_wire(guard, wire, around, weak, strong)
        if failed == "fault":
            return Broken("fault", f"a far-end short of {weak:.0f} A is not cleared in time")
        if failed == "fuse":
            return Broken("fuse", "gets too hot before the fuse has cleared")
    return None


def fault_currents(
    state: State, group: Group, wire: Candidate, device: Device | None, upstream: list[Segment]
) -> tuple[float, float]:
    """(weakest, strongest) bolted fault at the far end of a group [A]."""
    owner = group.owner
    node = node_of(state, owner)
    devices = state.devices_at(owner)
    stretches = [(s, state.wire[s.key], devices.get(s.key)) for s in upstream]
    stretches += [
        (s, laid(wire, s), device if position == 0 else None)
        for position, s in enumerate(group.series)
    ]
    circuit = owner if isinstance(owner, CircuitDraft) else None
    index = None
    if circuit is not None:
        index = group.load if group.load is not None else next(iter(circuit.loads), None)
    chassis = any(s.kind == "earth lead" for s in group.segments) or (
        group.load is None and circuit is not None and bool(circuit.loads)
        and circuit.chassis.get(circuit.loads[0], False)
    )
    return (
        faults.weakest(state, circuit, index, node, stretches, chassis),
        faults.strongest_far(state, circuit, index, node, stretches),
    )


def node_of(state: State, owner: CircuitDraft | Node) -> Node:
    """The panel or battery that feeds a circuit or a panel's feeder."""
    if isinstance(owner, Node):
        assert owner.parent is not None
        return owner.parent
    return state.wiring.nodes[owner.node]


def _slot(owner: CircuitDraft | Node) -> Slot | None:
    return owner.slot
