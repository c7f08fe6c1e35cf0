"""The switches and panels of a task, less what the settled circuits take of them."""

from __future__ import annotations

import math
from collections.abc import Iterable

from circuitplan.design.assigning.burden import Burdens
from circuitplan.design.assigning.task import Contact, Feeder, Item
from circuitplan.design.draft import CircuitDraft, Node
from circuitplan.design.nodes import find
from circuitplan.design.state import State
from circuitplan.model.plan import Accessory, Switch


def contact(
    state: State, burdens: Burdens, switch: Switch, reach: int, settled: list[Accessory],
    items: tuple[Item, ...], sound: frozenset[str],
) -> Contact:
    """A switch as the task has it: its rating less what settled circuits take of it [mA].

    ``reach``: its place in the row. ``sound``: switches the plan as it stands does not overload;
    what the plan puts on them is never called too much. Raises AssertionError on a signal switch.
    """
    already = sum(
        burdens.coil_ma([burdens.index[a.name]]) or 0 for a in settled
        if switch.name.casefold() in {s.casefold() for s in a.switches}
    )
    rating = None if switch.rating_a is None else math.floor(switch.rating_a * 1000 + 1e-6)
    here = [i for i in items if i.fixed_switch == switch.name]
    fuse = burdens.output_ma(switch)
    if rating is not None and switch.name in sound:
        side = sum(
            (i.coil_ma or 0) if switch.type == "relay" else i.carried_ma[switch.name] for i in here
        )
        rating = max(rating, side + already)
        fuse = None if fuse is None else max(fuse, sum(i.current_ma for i in here))
    control = next(
        (c for c in state.wiring.circuits if c.style == "control" and c.switches[0] == switch), None
    )
    fed = find(state.wiring.nodes, switch.fed_from) if switch.fed_from else None
    type_ = switch.type
    assert type_ != "signal"
    return Contact(
        switch.name, type_, rating, live=switch.live or "", momentary=switch.momentary,
        panel=fed.name if fed is not None and fed.panel is not None else "",
        already_ma=already, control_panel=control.node if control and already else "",
        reach=reach, fuse_ma=fuse,
        taken=any(switch.name.casefold() in {s.casefold() for s in a.switches} for a in settled),
    )


def feeders(
    state: State, settled: list[Accessory], items: tuple[Item, ...],
    contacts: tuple[Contact, ...], sound: frozenset[str],
) -> Iterable[Feeder]:
    """Panels, outwards from the supply: the ways and amperes [mA] that settled circuits leave."""
    names = {a.name for a in settled}
    wiring = state.wiring
    for node in sorted(wiring.nodes.values(), key=lambda n: (n.depth, n.name)):
        if node.panel is None:
            continue
        kept = [c for c in wiring.circuits if _kept(state, c, names, contacts)]
        used = sum(c.node == node.name for c in kept)
        used += sum(n.parent is node for n in wiring.nodes.values())
        chain = [n.name for n in node.above() if n.panel is not None and not n.converter]
        room = None
        if node.panel.rating_a is not None:
            drawn = sum(
                float(state.demand.thermal_a[i]) for c in kept for i in c.loads
                if node in wiring.nodes[c.node].chain()
            ) + sum(
                float(state.demand.thermal_a[i]) for name, i in wiring.converter_load.items()
                if node in wiring.nodes[name].above()
            )
            room = math.floor((node.panel.rating_a - drawn) * 1000 + 1e-6)
            if node.name in sound:
                room = max(room, _thermal_now(state, node, items))
            room = max(room, 0)
        live = node.panel.live or ("" if node.live == "always" else node.live)
        ways = None if node.panel.ways is None else max(0, node.panel.ways - used)
        yield Feeder(node.name, ways, room, live, tuple(chain))


def _kept(
    state: State, circuit: CircuitDraft, settled: set[str], contacts: tuple[Contact, ...]
) -> bool:
    """Whether a circuit stays as it is, whatever is decided."""
    if circuit.style == "link":
        return True
    if circuit.style == "control":
        held = {c.name for c in contacts if c.control_panel}
        return circuit.switches[0].name in held
    return any(state.wiring.loads[i].name in settled for i in circuit.loads)


def _thermal_now(state: State, node: Node, items: tuple[Item, ...]) -> int:
    """What hangs on a panel today and is decided here [mA]."""
    now = {
        state.wiring.loads[i].name
        for c in state.wiring.circuits
        for i in c.loads
        if node in state.wiring.nodes[c.node].chain() and c.style != "output"
    }
    return sum(i.thermal_ma for i in items if set(i.members) <= now)
