"""The wires of a motor that one switch, ON-OFF-ON, works in two ways.

Reversing: two change-over contacts, each at rest on the negative, and a live wire from each to the
motor. The current goes out by the contact that is pulled over and back through the other at rest.
Two speeds: two wires to the motor, one at a time, and one way back. All wires of a motor are of one
size: behind one fuse they bear the same faults, and the motor's two wires may change places.
"""

from __future__ import annotations

from dataclasses import replace

from circuitplan.design.branches import BOLTED_FROM_A, SWITCH_LEAD_M
from circuitplan.design.draft import CircuitDraft, Node, Segment
from circuitplan.design.load import Load
from circuitplan.design.maker import BLADE, RING, Maker
from circuitplan.design.ways import Route
from circuitplan.model.given import MOTOR_POSITIONS, MOTOR_TERMINALS

LINK_M = 0.3
"""Wire between a panel and the relays that sit at it (judgement)."""


def motor_run(
    maker: Maker, node: Node, draft: CircuitDraft, loads: list[Load], index: int
) -> None:
    """Panel, switch or relays, motor, and back; ``draft`` has its motor and positions set."""
    load = loads[index]
    accessory = load.accessory
    switch = draft.switches[0] if draft.switches else None
    place = switch.place or node.place if switch is not None else node.place
    at = switch.name if switch is not None else relays_of(load.name)
    there = _lead_route(maker, node, draft, load, place)
    onward = maker.ways.route(load.name, place, accessory.place, accessory.length_m)
    wire = accessory.wire
    joint = RING if load.rated_a > BOLTED_FROM_A else BLADE
    pole = ("switch",) if switch is not None else ()
    reversing = draft.motor == "reversing"

    def to_motor(position: str, contacts: tuple[str, ...]) -> Segment:
        made = maker.segment(
            f"{load.name} {position}", "branch", at,
            f"{load.name} {MOTOR_TERMINALS[position][0]}", onward, wire, (index,),
            contacts=contacts, at_switch=switch is not None, switch_place=place,
        )
        return replace(made, position=position)

    lead = maker.segment(
        f"{load.name} lead", "branch", node.name, at, there, wire, (index,),
        contacts=(RING, joint, *pole), at_switch=switch is not None, switch_place=place,
    )
    first, second = draft.positions
    one = to_motor(first, (joint, joint))
    other = to_motor(second, (joint, joint))
    draft.segments += [lead, one, other]
    draft.feeds[index] = [lead, one]
    draft.chassis[index] = load.back == "chassis"
    if reversing:
        draft.segments[-1] = other = replace(other, kind="live back")
        back = maker.segment(
            f"{load.name} return", "return", at, node.name, there, replace(wire, colour=None),
            (index,), contacts=(joint, RING, *pole), at_switch=switch is not None,
            switch_place=place,
        )
        draft.returns[index] = [other, back]
    else:
        draft.segments[-1] = replace(other, aside=True)
        back = _way_back(maker, node, load, index, there.length_m + onward.length_m)
        draft.returns[index] = [back]
    draft.segments.append(back)


def relays_of(name: str) -> str:
    """Where the wires of a motor meet that relays work."""
    return f"relays of {name}"


def draft_motor(draft: CircuitDraft, load: Load) -> None:
    """Tell a draft that its one load is a motor worked in two ways."""
    draft.motor = load.accessory.motor
    draft.positions = MOTOR_POSITIONS[draft.motor] if draft.motor is not None else ()


def _lead_route(
    maker: Maker, node: Node, draft: CircuitDraft, load: Load, place: str | None
) -> Route:
    """From the panel to the switch, or to the relays at the panel."""
    if not draft.switches:
        length_m = maker.ledger.take(
            load.name, "wires between panel and relays", LINK_M, "m", "relays sit at their panel",
            "judgement",
        )
        return maker.ways.route(f"{load.name} lead", node.place, node.place, length_m)
    switch = draft.switches[0]
    given_m = switch.lead_m
    if given_m is None and (switch.place is None or node.place is None):
        given_m = maker.ledger.take(
            switch.name, "lead from panel to switch", SWITCH_LEAD_M, "m",
            "switch near its panel", "judgement",
        )
    return maker.ways.route(f"{switch.name} lead", node.place, place, given_m)


def _way_back(maker: Maker, node: Node, load: Load, index: int, there_m: float) -> Segment:
    accessory = load.accessory
    if load.back == "chassis":
        return maker.earth_lead(
            f"{load.name} earth", load.name, accessory.place, accessory.wire, (index,)
        )
    route = maker.ways.route(load.name, accessory.place, node.place, there_m)
    return maker.segment(
        f"{load.name} return", "return", load.name, node.name, route,
        replace(accessory.wire, colour=None), (index,), contacts=(RING,),
    )
