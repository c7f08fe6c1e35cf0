"""Which accessories stand behind one fuse, and the wires from there to each of them."""

from __future__ import annotations

from circuitplan.design import connecting
from circuitplan.design.branches import output, own_run, shared_run, shared_switch
from circuitplan.design.draft import CircuitDraft, Node, Slot, Style
from circuitplan.design.load import Load
from circuitplan.design.maker import Maker
from circuitplan.design.motors import draft_motor, motor_run
from circuitplan.design.nodes import default_node, find
from circuitplan.model.plan import Switch


def build_circuits(
    maker: Maker, nodes: dict[str, Node], loads: list[Load]
) -> list[CircuitDraft]:
    """One draft a fuse: grouped by direct switch, by vehicle output, or by shared number."""
    by_name = {s.name.casefold(): s for s in maker.plan.switches}
    groups: dict[tuple[str, ...], CircuitDraft] = {}
    numbered = _numbered(loads)
    for index, load in enumerate(loads):
        accessory = load.accessory
        switches = tuple(by_name[s.casefold()] for s in accessory.switches)
        style = _style(switches)
        together = numbered.get(_works(load), [load]) if style in ("plain", "relayed") else [load]
        node = _node_of(maker, nodes, load, switches, style, together)
        key = _group_key(load, switches, style, node)
        draft = groups.get(key)
        if draft is None:
            carried = switches if style in ("direct", "output") else ()
            coils = () if style in ("direct", "output") else switches
            draft = CircuitDraft(
                key=" ".join(key), label=load.name, node=node.name, style=style, loads=(),
                number=accessory.number, switches=carried, live=_live(load, switches, node),
                coil_switches=coils, relay=style == "relayed" and not load.own_contactor,
            )
            draft_motor(draft, load)
            groups[key] = draft
        draft.loads = (*draft.loads, index)
        if accessory.number is not None:
            known = draft.number
            draft.number = accessory.number if known is None else min(known, accessory.number)
    drafts = list(groups.values())
    shared = {c.number: c for c in maker.plan.circuits}
    for draft in drafts:
        if draft.style in ("plain", "relayed") and len(draft.loads) > 1:
            draft.shared = shared.get(draft.number or 0)
    for draft in drafts:
        _wire(maker, nodes[draft.node], draft, loads)
        connecting.fit(maker, draft, loads)
    return drafts


def _style(switches: tuple[Switch, ...]) -> Style:
    if not switches:
        return "plain"
    only = switches[0].type if len(switches) == 1 else "relay"
    if only == "direct" or only == "output":
        return only
    return "relayed"


def _works(load: Load) -> tuple[int | None, tuple[str, ...]]:
    """Number and switches of a load, which make one circuit of those that have the same."""
    return load.accessory.number, tuple(sorted(s.casefold() for s in load.accessory.switches))


def _numbered(loads: list[Load]) -> dict[tuple[int | None, tuple[str, ...]], list[Load]]:
    """The loads of each number and set of switches that may hang on any panel."""
    found: dict[tuple[int | None, tuple[str, ...]], list[Load]] = {}
    for load in loads:
        if load.accessory.number is not None and not load.short_circuit_only:
            found.setdefault(_works(load), []).append(load)
    return found


def _group_key(
    load: Load, switches: tuple[Switch, ...], style: str, node: Node
) -> tuple[str, ...]:
    if style == "direct":
        return (node.name, "switch", switches[0].name)
    if style == "output":
        return ("output", switches[0].name)
    number = load.accessory.number
    if number is not None:
        works = ",".join(sorted(s.name for s in switches))
        return (node.name, "number", str(number), works)
    return (node.name, "accessory", load.name)


def _node_of(
    maker: Maker, nodes: dict[str, Node], load: Load, switches: tuple[Switch, ...], style: str,
    together: list[Load],
) -> Node:
    """What feeds a load; those of one number ``together`` take one panel, or their circuit would
    fall apart."""
    wanted = load.accessory.fed_from
    if wanted is None and style in ("direct", "output"):
        wanted = switches[0].fed_from
    if wanted is None and style == "output":
        wanted = "battery"
    if wanted is None and load.short_circuit_only:
        wanted = "battery"
        maker.ledger.say(
            load.name, "fed from", wanted, "too heavy for a panel", "common practice"
        )
    named = {x.accessory.fed_from.casefold() for x in together if x.accessory.fed_from}
    if wanted is None and len(named) == 1:
        wanted = named.pop()
        node = find(nodes, wanted)
        maker.ledger.say(
            load.name, "fed from", node.name if node is not None else wanted,
            "as the others of its number", "judgement",
        )
    if wanted is not None:
        node = find(nodes, wanted)
        if node is not None:
            return node
    if style == "direct":
        return default_node(maker, nodes, load.name, switches[0].place)
    return default_node(maker, nodes, load.name, *(x.accessory.place for x in together))


def _live(load: Load, switches: tuple[Switch, ...], node: Node) -> str:
    order = {"always": 0, "ignition": 1, "engine": 2}
    named = [load.accessory.live, node.live, *(s.live for s in switches[:1])]
    return max((n for n in named if n), key=lambda n: order[n], default="always")


def _wire(maker: Maker, node: Node, draft: CircuitDraft, loads: list[Load]) -> None:
    if draft.motor is not None:
        motor_run(maker, node, draft, loads, draft.loads[0])
    elif draft.style == "output":
        output(maker, node, draft, loads)
    elif draft.style == "direct" and len(draft.loads) > 1:
        shared_switch(maker, node, draft, loads)
    elif draft.shared is not None:
        shared_run(maker, node, draft, loads, draft.shared)
    else:
        for index in draft.loads:
            own_run(maker, node, draft, loads, index)
    if len(draft.loads) > 1:
        draft.label = (
            draft.switches[0].label or draft.switches[0].name
            if draft.switches
            else ", ".join(loads[i].name for i in draft.loads)
        )
    _main_slot(node, draft, loads)


def _main_slot(node: Node, draft: CircuitDraft, loads: list[Load]) -> None:
    """The circuit's own fuse, unless the plan says there is none."""
    if draft.slot is not None:
        return
    first = loads[draft.loads[0]]
    spec = first.accessory.fuse if len(draft.loads) == 1 else None
    if draft.switches and draft.switches[0].fuse is not None:
        spec = draft.switches[0].fuse
    if draft.shared is not None:
        spec = draft.shared.fuse
    elif spec is None and draft.style not in ("direct", "output"):
        spec = next(
            (f for i in draft.loads if (f := loads[i].accessory.fuse) is not None), None
        )
    position = node.name if node.panel is not None else f"at {node.name}"
    draft.slot = Slot(
        f"{draft.key} fuse", spec, position, node.place, [], draft.loads,
        first=node.panel is None or node.converter,
        family=node.panel.fuses if node.panel else None,
        above=None if node.converter else node.slot,
        short_circuit_only=all(loads[i].short_circuit_only for i in draft.loads),
    )
    inline = {id(s) for slot in draft.inline for s in slot.segments}
    draft.slot.segments = [s for s in draft.segments if id(s) not in inline]
    for slot in draft.inline:
        slot.above = draft.slot
