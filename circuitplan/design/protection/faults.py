"""Short circuits: the weakest one at the far end, the strongest one at a fuse."""

from __future__ import annotations

from circuitplan.design import paths
from circuitplan.design.draft import CircuitDraft, Node, Segment, Slot
from circuitplan.design.protection.protect import Device
from circuitplan.design.state import State
from circuitplan.design.wire import Candidate

ALTERNATOR_MULTIPLE = 3.0
"""Short-circuit current of an alternator against its rating (judgement)."""
CONVERTER_LIMIT = 1.0
"""A converter is credited with no more than its rating into a fault (judgement)."""


def hot_c(wire: Candidate) -> float:
    """Mean of start and end of a fault that heats the wire from class to its final temperature."""
    return 0.5 * (wire.insulation.class_c + wire.insulation.final_c)


def source_limit(state: State, node: Node) -> float | None:
    """Current limit of a converter that feeds a circuit [A]; None behind a battery."""
    top = node.chain()[-1]
    if top.converter and top.panel is not None:
        behind = state.wiring.loads[state.wiring.converter_load[top.name]]
        given = top.panel.rating_a
        if given is None and top.panel.output_v:
            given = behind.rated_a * behind.rated_v * 0.9 / top.panel.output_v
        return CONVERTER_LIMIT * (given or 0.0)
    return None


def highest_v(state: State, node: Node) -> float:
    """Highest volts at a node [V]: of its battery while charging, or of its converter."""
    top = node.chain()[-1]
    if top.converter and top.panel is not None and top.panel.output_v is not None:
        return top.panel.output_v
    return state.levels.batteries[node.battery].high_v


def weakest(
    state: State, circuit: CircuitDraft | None, index: int | None, node: Node,
    stretches: list[tuple[Segment, Candidate, Device | None]], chassis: bool,
) -> float:
    """Bolted fault at the far end of ``stretches`` [A]: aged battery, hot wire, worst contacts.

    ``stretches`` are the faulted circuit's own, out and back; feeders above are added here.
    """
    level = state.levels.batteries[node.battery]
    total = level.high_ohm
    for segment, wire, device in stretches:
        # A short at the end of one tail runs through that tail alone.
        total += segment.pieces * state.wire_ohm(segment, wire, hot_c(wire))
        total += segment.pieces * state.contact_ohm(
            segment, wire, device, worst=True, alone=True
        )
    for link in above(state, circuit, index, node):
        wire = state.wire[link.segment.key]
        device = state.devices_at(link.owner).get(link.segment.key)
        total += state.wire_ohm(link.segment, wire, wire.insulation.class_c)
        total += state.contact_ohm(link.segment, wire, device, worst=True)
    if chassis:
        total += state.chassis_ohm(worst=True)
    current = level.low_emf_v / total
    limit = source_limit(state, node)
    return current if limit is None else min(current, limit)


def strongest_far(
    state: State, circuit: CircuitDraft | None, index: int | None, node: Node,
    stretches: list[tuple[Segment, Candidate, Device | None]],
) -> float:
    """The same fault at its strongest [A]: new battery, cold wire, no contacts, ideal body."""
    total = state.levels.batteries[node.battery].low_ohm
    for segment, wire, _ in stretches:
        if segment.kind != "earth lead":
            total += state.wire_ohm(segment, wire, 20.0)
    for link in above(state, circuit, index, node):
        if link.segment.kind != "earth lead":
            total += state.wire_ohm(link.segment, state.wire[link.segment.key], 20.0)
    limit = source_limit(state, node)
    current = state.levels.batteries[node.battery].breaking_v / total + _alternators(state, node)
    return current if limit is None else min(current, limit)


def prospective(state: State, slot: Slot, node: Node) -> float:
    """Largest fault current at a fuse [A]: cables up to it at 20 °C, no contacts, chassis 0."""
    total = state.levels.batteries[node.battery].low_ohm
    limit: float | None = None
    for here in node.chain():
        if here.panel is None:
            continue
        if here.converter:
            limit = source_limit(state, here)
            break
        feed = here.feeder[0]
        wire = state.wire.get(feed.key)
        if wire is not None:
            total += state.wire_ohm(feed, wire, 20.0)
            back = here.feeder[1]
            if back.kind == "feeder return":
                total += state.wire_ohm(back, state.wire[back.key], 20.0)
    current = state.levels.batteries[node.battery].breaking_v / total + _alternators(state, node)
    return current if limit is None else min(current, limit)


def _alternators(state: State, node: Node) -> float:
    alternator = state.plan.supply.alternator
    main = state.plan.supply.batteries[0].name if state.plan.supply.batteries else "battery"
    if alternator is None or node.battery != main:
        return 0.0
    return ALTERNATOR_MULTIPLE * alternator.rated_a


def above(
    state: State, circuit: CircuitDraft | None, index: int | None, node: Node
) -> list[paths.Link]:
    """Feeders between the source and ``node``, the panel that feeds the faulted stretch."""
    if circuit is not None and index is not None:
        return paths.feeders(state, circuit, index)
    found: list[paths.Link] = []
    here: Node | None = node
    while here is not None and here.panel is not None and not here.converter:
        found.extend(paths.Link(s, here) for s in here.feeder)
        here = here.parent
    return found
