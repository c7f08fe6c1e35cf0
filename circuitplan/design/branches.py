"""The stretches of wire of one circuit: runs, shared leads, branches, tails and ways back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from circuitplan.design.draft import CircuitDraft, Node, Segment, Slot
from circuitplan.design.load import Load
from circuitplan.design.maker import BLADE, RING, Maker
from circuitplan.design.ways import Route
from circuitplan.model.plan import FuseSpec, SharedCircuit, Switch, WireSpec

BOLTED_FROM_A = 40.0
"""From here on joints are rings on studs, not blades (common practice)."""
SWITCH_LEAD_M = 1.0
"""Shared lead from panel to a direct switch whose place is not given (judgement)."""


def own_run(
    maker: Maker, node: Node, draft: CircuitDraft, loads: list[Load], index: int
) -> None:
    """Panel (through a direct switch, or past a relay) to one accessory."""
    load = loads[index]
    accessory = load.accessory
    switch = draft.switches[0] if draft.switches else None
    route = _route(maker, node, load, switch)
    contacts: tuple[str, ...] = (RING, BLADE, BLADE, BLADE)
    if switch is not None:
        contacts = (RING, BLADE, BLADE, "switch")
    elif not draft.relay:
        contacts = (RING, BLADE)
    heavy = load.short_circuit_only or load.rated_a > BOLTED_FROM_A
    if heavy:
        contacts = tuple(RING if item == BLADE else item for item in contacts)
    feed = maker.segment(
        f"{load.name} feed", "branch", node.name, load.name, route, accessory.wire, (index,),
        contacts=contacts, crimps=6 if draft.relay else 4,
        apart=f"power cable to {load.name}" if load.short_circuit_only else None,
        at_switch=switch is not None, switch_place=switch.place if switch else None,
    )
    draft.segments.append(feed)
    draft.feeds[index] = [feed]
    _end(maker, node, draft, load, index, route)


def _route(maker: Maker, node: Node, load: Load, switch: Switch | None) -> Route:
    accessory = load.accessory
    if switch is not None and switch.place is not None and accessory.length_m is None:
        to_switch = maker.ways.route(f"{switch.name} lead", node.place, switch.place, None)
        onward = maker.ways.route(load.name, switch.place, accessory.place, None)
        return Route(
            to_switch.length_m + onward.length_m,
            to_switch.stretches + onward.stretches,
            tuple(dict.fromkeys(to_switch.places + onward.places)),
            to_switch.joints + onward.joints,
            to_switch.ambient_assumed or onward.ambient_assumed,
        )
    return maker.ways.route(load.name, node.place, accessory.place, accessory.length_m)


def shared_switch(
    maker: Maker, node: Node, draft: CircuitDraft, loads: list[Load]
) -> None:
    """One lead to a direct switch, and a branch from the switch to each accessory."""
    switch = draft.switches[0]
    length_m = switch.lead_m
    if length_m is None and (switch.place is None or node.place is None):
        length_m = maker.ledger.take(
            switch.name, "lead from panel to switch", SWITCH_LEAD_M, "m",
            "switch near its panel", "judgement",
        )
    route = maker.ways.route(f"{switch.name} lead", node.place, switch.place, length_m)
    trunk = maker.segment(
        f"{switch.name} lead", "trunk", node.name, switch.name, route, switch.lead,
        draft.loads, contacts=(RING, BLADE, BLADE, "switch"),
        at_switch=True, switch_place=switch.place,
    )
    draft.segments.append(trunk)
    shared, start = _shared_on(maker, draft, switch, trunk, node.place)
    for index in draft.loads:
        _branch(maker, node, draft, loads, index, shared, start)


def _shared_on(
    maker: Maker, draft: CircuitDraft, switch: Switch, lead: Segment, panel_place: str | None
) -> tuple[list[Segment], str | None]:
    """The shared wire of a switch up to where it splits, and that place."""
    here = switch.place or panel_place
    if switch.split is None or here is None or switch.split.casefold() == here.casefold():
        return [lead], switch.place
    route = maker.ways.route(f"{switch.name} shared run", here, switch.split, None)
    onward = maker.segment(
        f"{switch.name} shared run", "trunk", lead.end, f"splice of {switch.name}", route,
        switch.lead, draft.loads, contacts=(BLADE,),
        at_switch=draft.style == "direct", switch_place=switch.place,
    )
    draft.segments.append(onward)
    return [lead, onward], switch.split


def shared_run(
    maker: Maker, node: Node, draft: CircuitDraft, loads: list[Load], circuit: SharedCircuit
) -> None:
    """One wire from the panel, past the relay if there is one, and a branch from its split on to
    each accessory of one number."""
    route = maker.ways.route(f"circuit {circuit.name} shared run", node.place, circuit.split, None)
    contacts: tuple[str, ...] = (RING, BLADE, BLADE) if draft.relay else (RING,)
    behind = [loads[i] for i in draft.loads]
    if any(x.short_circuit_only for x in behind) or sum(x.rated_a for x in behind) > BOLTED_FROM_A:
        contacts = (RING,) * len(contacts)
    trunk = maker.segment(
        f"circuit {circuit.name} shared run", "trunk", node.name, f"splice of circuit "
        f"{circuit.name}", route, circuit.wire, draft.loads, contacts=contacts,
        crimps=4 if draft.relay else 2,
    )
    draft.segments.append(trunk)
    for index in draft.loads:
        _branch(maker, node, draft, loads, index, [trunk], circuit.split)


def output(maker: Maker, node: Node, draft: CircuitDraft, loads: list[Load]) -> None:
    """A switched, fused output of the vehicle: its lead, then a branch to each accessory."""
    switch = draft.switches[0]
    length_m = switch.lead_m
    if length_m is None:
        length_m = maker.ledger.take(
            switch.name, "length of the output's lead", 0.5, "m", "usual pigtail", "judgement"
        )
    route = maker.ways.route(f"{switch.name} lead", switch.place, None, length_m)
    trunk = maker.segment(
        f"{switch.name} lead", "trunk", f"output {switch.name}", f"end of lead {switch.name}",
        route, switch.lead, draft.loads, contacts=(BLADE, BLADE),
    )
    draft.segments.append(trunk)
    spec = switch.fuse
    if spec is None and switch.rating_a is not None:
        maker.ledger.say(
            switch.name, "fuse of the vehicle's output", f"{switch.rating_a:g} A",
            "its rating", "judgement",
        )
        spec = FuseSpec(switch.rating_a, "output")
    elif spec is not None and spec.type is None:
        spec = replace(spec, type="output")
    draft.slot = Slot(
        f"{switch.name} output", spec, f"vehicle's output {switch.name}", switch.place,
        [trunk], draft.loads, first=False, above=None,
    )
    shared, start = _shared_on(maker, draft, switch, trunk, None)
    for index in draft.loads:
        _branch(maker, node, draft, loads, index, shared, start)
    inline = {id(s) for slot in draft.inline for s in slot.segments}
    draft.slot.segments = [s for s in draft.segments if id(s) not in inline]
    for slot in draft.inline:
        slot.above = draft.slot


def _branch(
    maker: Maker, node: Node, draft: CircuitDraft, loads: list[Load], index: int,
    shared: list[Segment], start: str | None,
) -> None:
    """From the shared wire to one accessory, with a fuse of its own where it needs one."""
    load = loads[index]
    accessory = load.accessory
    route = maker.ways.route(load.name, start or node.place, accessory.place, accessory.length_m)
    feed = maker.segment(
        f"{load.name} feed", "branch", shared[-1].end, load.name, route, accessory.wire, (index,),
        contacts=(BLADE,), crimps=4,
        at_switch=draft.style == "direct" and len(shared) == 1, switch_place=start,
    )
    before = len(draft.segments)
    draft.segments.append(feed)
    draft.feeds[index] = [*shared, feed]
    _end(maker, node, draft, load, index, route, shared)
    own = draft.segments[before:]
    draft.inline.append(
        Slot(
            f"{load.name} inline", accessory.fuse, f"inline, start of the branch to {load.name}",
            start or node.place, own, (index,), first=False, optional=True,
        )
    )


def _end(
    maker: Maker, node: Node, draft: CircuitDraft, load: Load, index: int, route: Route,
    shared: Sequence[Segment] = (),
) -> None:
    """Tails after the splice, and the way back, as long as the way there."""
    accessory = load.accessory
    wire = accessory.wire
    back: list[Segment] = []
    if accessory.tail_m:
        tail_route = maker.ways.route(
            f"{load.name} tails", accessory.place, accessory.place, accessory.tail_m
        )
        tail = maker.segment(
            f"{load.name} tails", "tail", f"splice of {load.name}", load.name, tail_route, wire,
            (index,), pieces=accessory.quantity, crimps=2,
        )
        draft.segments.append(tail)
        draft.feeds[index].append(tail)
        if load.back == "wire":
            back.append(
                maker.segment(
                    f"{load.name} tail returns", "return", load.name, f"splice of {load.name}",
                    tail_route, wire, (index,), pieces=accessory.quantity, crimps=2,
                )
            )
    heavy = load.short_circuit_only
    if shared and load.back == "wire":
        there_m = route.length_m + sum(s.route.length_m for s in shared)
        route = maker.ways.route(load.name, accessory.place, node.place, there_m)
    if load.back == "wire":
        back.append(
            maker.segment(
                f"{load.name} return", "return", load.name, node.name, route, _return_spec(wire),
                (index,), contacts=(RING, RING) if heavy else (RING,),
                apart=f"power cable to {load.name}" if heavy else None,
            )
        )
    else:
        back.append(
            maker.earth_lead(f"{load.name} earth", load.name, accessory.place, wire, (index,))
        )
    draft.segments.extend(back)
    draft.returns[index] = back
    draft.chassis[index] = load.back == "chassis"


def _return_spec(wire: WireSpec) -> WireSpec:
    return replace(wire, colour=None)
