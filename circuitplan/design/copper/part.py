"""The wires of a sized plan, each with its fuse, its guard and the sizes it may take."""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.design import groups
from circuitplan.design.connecting import fits
from circuitplan.design.draft import Node, Segment
from circuitplan.design.groups import Group
from circuitplan.design.protection.protect import Device
from circuitplan.design.state import State
from circuitplan.design.wire import Candidate, candidates


@dataclass(slots=True)
class Part:
    """One group with the fuse in series at its start, the fuse that guards it, and the shared
    leads of its circuit before it."""

    group: Group
    device: Device | None
    guard: Device | None
    before: list[Segment]
    fixed: bool  # the plan has no word for its size, or gives it
    sizes: tuple[Candidate, ...]


def parts_of(state: State, all_said: bool = False) -> list[Part]:
    """Every wire that carries a load, feeders first, in the order of sizing.

    ``all_said``: a wire for whose size the plan has no word keeps the one it has.
    """
    found: list[Part] = []
    for node in sorted(state.wiring.nodes.values(), key=lambda n: (n.depth, n.name)):
        if node.panel is not None and node.feeder:
            device = state.fuse.get(node.slot.key) if node.slot is not None else None
            group = Group(f"feeder {node.name}", node, list(node.feeder), None)
            found.append(_part(state, group, device, device, [], node.assumed))
    for circuit in state.wiring.circuits:
        if circuit.style == "control":
            continue
        owner = state.fuse.get(circuit.slot.key) if circuit.slot is not None else None
        before: list[Segment] = []
        for group in groups.of_circuit(circuit):
            if not group.segments:
                continue
            inline = state.fuse.get(group.inline.key) if group.inline is not None else None
            device = inline if inline is not None else owner if not before else None
            guard = inline if inline is not None else owner
            lost = said_at(state, group) is None and (all_said or group.load is None)
            found.append(_part(state, group, device, guard, list(before), lost))
            if group.segments[0].kind == "trunk":
                before = group.segments
    return found


def _part(
    state: State, group: Group, device: Device | None, guard: Device | None,
    before: list[Segment], lost: bool,
) -> Part:
    first = group.segments[0]
    fixed = lost or first.spec.given
    standing = state.wire[first.key]
    sizes = (standing,) if fixed else candidates(first)
    if fits(group.segments, standing.conductor.area_mm2):  # no size that its connector refuses
        sizes = tuple(c for c in sizes if fits(group.segments, c.conductor.area_mm2))
    return Part(group, device, guard, before, fixed, sizes)


def said_at(state: State, group: Group) -> tuple[str, ...] | None:
    """Where the plan says the size of a wire; None where it has no word for it."""
    owner = group.owner
    if isinstance(owner, Node):
        return None if owner.assumed else ("panels", owner.name)
    if group.load is not None:  # after the accessories' come the loads of chargers and converters
        named = group.load < len(state.plan.accessories)
        return ("accessories", state.wiring.loads[group.load].name) if named else None
    if owner.shared is not None:
        return "circuits", owner.shared.name
    return ("switches", owner.switches[0].name, "lead") if owner.switches else None
