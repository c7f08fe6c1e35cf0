"""From a plan to the task: what is to be decided, and what the plan settles."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from circuitplan.design.assigning.burden import Burdens
from circuitplan.design.assigning.gather_supply import contact, feeders
from circuitplan.design.assigning.task import Item, PairKey, Task
from circuitplan.design.draft import Node
from circuitplan.design.nodes import default_node, find
from circuitplan.design.state import State
from circuitplan.library import kinds
from circuitplan.model.plan import Accessory, Plan

OWN_CONTROL = frozenset(
    {"cold", "radio", "electronics", "outlet", "converter", "medical", "trailer", "winch", "engine"}
)
"""Families that are on with their panel and have a control of their own (judgement)."""
MOVING = frozenset({"drive line", "winch", "hydraulics", "actuator", "engine"})
"""Families that move or lock something: unasked they may hurt somebody or stop the vehicle, so
they share a switch with their own family at most (judgement)."""
CRITICAL_WEIGHT = 3
"""How much nearer to its place in the row a critical accessory belongs (judgement)."""


@dataclass(frozen=True, slots=True)
class Wishes:
    """What is asked beyond the plan. ``free``: decide again what has a switch already."""

    free: bool = False
    together: tuple[PairKey, ...] = ()
    apart: tuple[PairKey, ...] = ()
    spare_a: float = 0.0
    spare_ways: int = 0


def gather(
    state: State, burdens: Burdens, wishes: Wishes, sound: frozenset[str] = frozenset()
) -> Task:
    """The task of a plan. ``sound``: switches and panels that a study finds within their rating
    as the plan stands; frozen currents, which are higher, take nothing back from those."""
    settled = [a for a in state.plan.accessories if _settled(state.plan, a)]
    groups = _groups(state.plan, [a for a in state.plan.accessories if a not in settled], wishes)
    item_of = {a.name.casefold(): "+".join(m.name for m in g) for g in groups for a in g}
    items = tuple(_item(state, burdens, g, settled, item_of, wishes) for g in groups)
    contacts = tuple(
        contact(state, burdens, s, n, settled, items, sound)
        for n, s in enumerate(sorted(state.plan.switches, key=lambda s: natural(s.name)), 1)
        if s.type != "signal"
    )
    panels = tuple(feeders(state, settled, items, contacts, sound))
    apart = [(a.name, b) for a in state.plan.accessories for b in a.never_with]
    follows = [
        (a.name, b) for a in state.plan.accessories for b in a.needs
        if wishes.free or not a.switches
    ]
    return Task(
        items, contacts, panels,
        apart=_pairs([*apart, *wishes.apart], item_of, either=True),
        unlike=_unlike(items),
        together=_pairs(wishes.together, item_of, either=True),
        follows=_pairs(follows, item_of),
        spare_ma=math.ceil(wishes.spare_a * 1000 - 1e-6), spare_ways=wishes.spare_ways,
    )


def natural(name: str) -> tuple[tuple[int, int, str], ...]:
    """Order of names in which S2 stands before S10."""
    return tuple(
        (0, int(part), "") if part.isdigit() else (1, 0, part.casefold())
        for part in re.split(r"(\d+)", name) if part
    )


def _settled(plan: Plan, accessory: Accessory) -> bool:
    """Worked from several switches, by a signal of the vehicle, or a motor that takes both
    positions of its switch: the plan decides."""
    types = {s.name.casefold(): s.type for s in plan.switches}
    return accessory.motor is not None or len(accessory.switches) > 1 or any(
        types.get(name.casefold()) == "signal" for name in accessory.switches
    )


def _groups(plan: Plan, free: list[Accessory], wishes: Wishes) -> list[list[Accessory]]:
    """Accessories with one circuit number, switch and feed are one item."""
    found: dict[tuple[object, ...], list[Accessory]] = {}
    for a in sorted(free, key=lambda a: a.name):
        key: tuple[object, ...] = (a.name,)
        if a.number is not None:
            switches = () if wishes.free else tuple(s.casefold() for s in a.switches)
            key = (a.number, switches, (a.fed_from or "").casefold())
        group = found.setdefault(key, [])
        barred = {n.casefold() for m in (*group, a) for n in m.never_with}
        if group and barred & {m.name.casefold() for m in (*group, a)}:
            found[(a.name,)] = [a]
        else:
            group.append(a)
    return sorted(found.values(), key=lambda group: group[0].name)


def _pairs(
    names: Iterable[PairKey], item_of: dict[str, str], either: bool = False
) -> tuple[PairKey, ...]:
    found: dict[PairKey, None] = {}
    for a, b in names:
        one, other = item_of.get(a.casefold()), item_of.get(b.casefold())
        if one is not None and other is not None and one != other:
            found[(min(one, other), max(one, other)) if either else (one, other)] = None
    return tuple(sorted(found))


def _unlike(items: tuple[Item, ...]) -> tuple[PairKey, ...]:
    """What moves or locks something and what is not its kin; the plan's own choices stay."""
    return tuple(
        (a.name, b.name)
        for a in items if a.family in MOVING
        for b in items
        if b.family != a.family and not (a.fixed_switch and b.fixed_switch)
    )


# --- items -----------------------------------------------------------------------------------


def _item(
    state: State, burdens: Burdens, group: list[Accessory], settled: list[Accessory],
    item_of: dict[str, str], wishes: Wishes,
) -> Item:
    plan = state.plan
    loads = [burdens.index[a.name] for a in group]
    found = [k for i in loads if (k := state.wiring.loads[i].kind) is not None]
    fixed = "" if wishes.free or not group[0].switches else _named(plan, group[0].switches[0])
    held: Literal["must", "usual", ""] = ""
    if any(a.momentary for a in group):
        held = "must"
    elif any(k.momentary for k in found):
        held = "usual"
    own = any(state.wiring.loads[i].own_contactor for i in loads)
    by_itself = own or any(
        k.family in OWN_CONTROL or k.always_live or k.run_on for k in found
    ) or any(a.isolator_a is not None for a in group)
    only, never = _settled_ties(plan, group, settled)
    panels = _panels(state, burdens, group[0])
    live = {"always": 0, "ignition": 1, "engine": 2}
    return Item(
        "+".join(a.name for a in group), tuple(a.name for a in group),
        found[0].family if found else "", group[0].place or "",
        {s.name: burdens.carried_ma(s, loads) for s in plan.switches},
        burdens.current_ma(loads), burdens.thermal_ma(loads), burdens.coil_ma(loads), panels,
        adds_relay=not own, held=held,
        stays=not held and any(state.wiring.loads[i].continuous for i in loads),
        live=max((a.live for a in group if a.live), key=live.__getitem__, default=""),
        fixed_switch=fixed, fixed_panel=group[0].fed_from is not None,
        may_be_plain=by_itself,
        for_good=not fixed and (
            any(k.run_on or k.always_live for k in found)
            or (by_itself and not only and not _asked(group, wishes))
        ),
        only_on=() if fixed else only, never_on=() if fixed else never,
        weight=CRITICAL_WEIGHT if any(state.wiring.loads[i].critical for i in loads) else 1,
        copper_g={
            (panel, contact): burdens.copper_g(loads, panel, contact)
            for panel in dict.fromkeys((*panels, *(p.name for p in plan.panels), ""))
            for contact in ("", *(s.name for s in plan.switches))
        },
    )


def _asked(group: list[Accessory], wishes: Wishes) -> bool:
    """Whether somebody ties this to a switch that would else be fed for good."""
    tied = {name.casefold() for pair in wishes.together for name in pair}
    return any(a.needs or a.name.casefold() in tied for a in group)


def _family(accessory: Accessory) -> str:
    kind = kinds.find(accessory.kind) if accessory.kind else None
    return kind.family if kind is not None else ""


def _named(plan: Plan, name: str) -> str:
    """The switch's own spelling of a name."""
    return next((s.name for s in plan.switches if s.name.casefold() == name.casefold()), name)


def _settled_ties(
    plan: Plan, group: list[Accessory], settled: list[Accessory]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Switches that an item needs, and those it must keep off, by what is settled."""
    switches = {s.name.casefold(): s.name for s in plan.switches}
    others = {a.name.casefold(): a for a in settled}
    only: list[str] = []
    never: list[str] = []
    mine = {a.name.casefold() for a in group}
    for name in (n.casefold() for a in group for n in a.needs):
        if name in switches:
            only.append(switches[name])
        elif name in others:
            only += [_named(plan, s) for s in others[name].switches]
    barred = {n.casefold() for a in group for n in a.never_with}
    family = _family(group[0])
    for other in settled:
        theirs = _family(other)
        if other.motor is not None or (theirs != family and MOVING & {theirs, family}):
            never += [_named(plan, s) for s in other.switches]
        if other.name.casefold() in barred or mine & {n.casefold() for n in other.never_with}:
            never += [_named(plan, s) for s in other.switches]
    never += [switches[n] for n in sorted(barred) if n in switches]
    return tuple(dict.fromkeys(only)), tuple(dict.fromkeys(never))


def _panels(state: State, burdens: Burdens, accessory: Accessory) -> tuple[str, ...]:
    """Where an accessory may hang: where the plan says, else every panel of the same battery."""
    nodes = state.wiring.nodes
    if accessory.fed_from is not None:
        node = find(nodes, accessory.fed_from)
        return ("" if node is None or node.panel is None else node.name,)
    usual = default_node(burdens.maker, nodes, accessory.name, accessory.place)
    if usual.converter:
        return (usual.name,)
    return tuple(
        n.name for n in sorted(nodes.values(), key=lambda n: (n.depth, n.name))
        if n.panel is not None and not _behind_converter(n) and n.battery == usual.battery
    )


def _behind_converter(node: Node) -> bool:
    return any(n.converter for n in node.chain())
