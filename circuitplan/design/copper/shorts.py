"""A far-end short that must be cleared in time, as a limit of the resistance on its way."""

from __future__ import annotations

import math

from circuitplan.design import groups
from circuitplan.design.copper.gather import DOWN, UP, falling
from circuitplan.design.copper.part import Part
from circuitplan.design.copper.task import MICRO, Limit
from circuitplan.design.draft import CircuitDraft, Segment
from circuitplan.design.groups import Group
from circuitplan.design.protection import faults, protect
from circuitplan.design.protection.protect import SLACK, Device
from circuitplan.design.state import State
from circuitplan.design.wire import Candidate, laid

STEP, MOST_MULTIPLE = 1.02, 1000.0


def fault_limit(state: State, parts: list[Part], number: int) -> Limit | None:
    """The resistance that lets a far-end short of a wire be cleared in time, as a limit; None
    where a current limit or no fuse rules, which no size of another wire changes."""
    part = parts[number]
    group, guard = part.group, part.guard
    node = groups.node_of(state, group.owner)
    if guard is None or faults.source_limit(state, node) is not None:
        return None
    circuit = group.owner if isinstance(group.owner, CircuitDraft) else None
    index = None
    if circuit is not None:
        index = group.load if group.load is not None else next(iter(circuit.loads), None)
    above = faults.above(state, circuit, index, node)
    at = {s.key: w for w, one in enumerate(parts) for s in one.group.segments}
    emf = state.levels.batteries[node.battery].low_emf_v
    devices = state.devices_at(group.owner)
    own = [*part.before, *group.series]
    mine = {s.key for s in group.segments}
    fed = {link.segment.key: state.devices_at(link.owner) for link in above}

    def ohms(segment: Segment, wire: Candidate) -> float:
        if segment.key in fed:
            device = fed[segment.key].get(segment.key)
            hot = state.wire_ohm(segment, wire, wire.insulation.class_c)
            return hot + state.contact_ohm(segment, wire, device, worst=True)
        device = devices.get(segment.key)
        if segment.key in mine:
            device = part.device if segment is group.segments[0] else None
        hot = state.wire_ohm(segment, wire, faults.hot_c(wire))
        joints = state.contact_ohm(segment, wire, device, worst=True, alone=True)
        return segment.pieces * (hot + joints)

    micro: dict[int, list[Segment]] = {}
    for segment in (*(link.segment for link in above), *own):
        micro.setdefault(at[segment.key], []).append(segment)
    uses = {
        w: falling(sum(ohms(s, laid(size, s)) for s in mine) for size in parts[w].sizes)
        for w, mine in micro.items()
    }
    fixed = emf / faults.weakest(
        state, circuit, index, node, [], _by_chassis(group, circuit)
    ) - sum(ohms(link.segment, state.wire[link.segment.key]) for link in above)
    room = [emf / _clearing_a(guard, [laid(size, s) for s in group.segments]) - fixed
            for size in part.sizes]
    # Room grows with the wire's own size: what it lacks against the thickest is used up by it.
    most = max(room)
    uses[number] = tuple(
        u + math.ceil((most - r) * MICRO * UP) for u, r in zip(uses[number], room, strict=True)
    )
    return Limit(f"short at the end of {group.key}", uses, math.floor(most * MICRO * DOWN))


def _by_chassis(group: Group, circuit: CircuitDraft | None) -> bool:
    return any(s.kind == "earth lead" for s in group.segments) or (
        group.load is None and circuit is not None and bool(circuit.loads)
        and circuit.chassis.get(circuit.loads[0], False)
    )


def _clearing_a(guard: Device, wires: list[Candidate]) -> float:
    """Least current from which on a short is cleared in time [A]; inf if at none."""

    def in_time(current_a: float) -> bool:
        return all(
            protect.clearing(guard, current_a) <= protect.withstand(wire, current_a) * SLACK
            for wire in wires
        )

    low = guard.rating_a
    while not in_time(low * STEP):
        low *= STEP
        if low > MOST_MULTIPLE * guard.rating_a:
            return math.inf
    high = low * STEP
    for _ in range(40):
        middle = 0.5 * (low + high)
        low, high = (low, middle) if in_time(middle) else (middle, high)
    return high
