"""All wiring of a plan, undecided: panels, circuits, converters, chargers and control wires."""

from __future__ import annotations

from dataclasses import replace

from circuitplan.design.circuits import build_circuits
from circuitplan.design.draft import CircuitDraft, Node, Segment, Slot, Wiring
from circuitplan.design.load import Load
from circuitplan.design.maker import BLADE, RING, Maker
from circuitplan.design.nodes import build_nodes, default_node, find
from circuitplan.design.protection import curves
from circuitplan.design.ways import Route
from circuitplan.model.plan import Accessory, Charger, FuseSpec, Plan, Switch
from circuitplan.physics.converter import input_current

CONVERTER_EFFICIENCY = 0.9
"""Of DC-DC converters and chargers (common practice)."""
CHARGER_INPUT_V = 11.5
"""Input volts at which a charger's cable and fuse are sized, for 12 V (second-hand)."""
SIGNAL_TAP_M = 5.0
"""From the vehicle's signal to the relay when its place is not given (judgement)."""


def build(maker: Maker, accessory_loads: tuple[Load, ...]) -> Wiring:
    """Draft all wiring. The accessories' loads come first, then chargers, then converters."""
    plan = maker.plan
    nodes = build_nodes(maker)
    loads = list(accessory_loads)
    circuits = build_circuits(maker, nodes, loads)
    for charger in sorted(plan.supply.chargers, key=lambda c: c.name):
        circuits.extend(_charger(maker, nodes, charger, loads))
    wiring = Wiring(loads, nodes, circuits, {}, {})
    _roots(wiring)
    _converters(wiring, plan)
    _behind(wiring)
    circuits.extend(_controls(maker, wiring))
    curves.settle(wiring, maker.ledger)
    return wiring


def _pseudo_load(
    name: str, current_a: float, volts: float, model: str, source: bool, kind_letter: str = "T"
) -> Load:
    """A converter or charger as a load on what feeds it."""
    accessory = Accessory(name=name, current_a=current_a, rated_v=volts, back="wire")
    return Load(
        accessory=accessory, kind=None, model=model,
        exponents=(-1.0,) if model == "constant power" else (0.0,),
        rated_v=volts, rated_a=current_a, typical_a=current_a, share=1.0, share_assumed=False,
        peak_a=None, inrush_a=None, inrush_s=0.0, inrush_known=True, on_s=None, period_s=None,
        min_v=None, drop_class="general", critical=False, contact_class="capacitive",
        letter=kind_letter, parked_a=0.0, back="wire", short_circuit_only=False,
        own_contactor=False, source=source,
    )


def charge_volts(plan: Plan, battery: str) -> float:
    """Charging volts at a battery's posts."""
    type_ = next((b.type for b in plan.supply.batteries if b.name == battery), None)
    return (14.6 if type_ == "lifepo4" else 14.4) * plan.nominal_v / 12.0


def _charger(
    maker: Maker, nodes: dict[str, Node], charger: Charger, loads: list[Load]
) -> list[CircuitDraft]:
    plan = maker.plan
    target = find(nodes, charger.target)
    if target is None:
        return []
    output_a = charger.output_a
    if output_a is None:
        output_a = maker.ledger.take(
            charger.name, "output", 30.0, "A", "usual size", "judgement", favourable=10.0
        )
    found: list[CircuitDraft] = []
    source = find(nodes, charger.source) if charger.source else None
    if charger.kind == "dc-dc" and source is not None:
        volts = CHARGER_INPUT_V * plan.nominal_v / 12.0
        draw_a = input_current(
            output_a, charge_volts(plan, target.name), volts, CONVERTER_EFFICIENCY
        )
        index = len(loads)
        loads.append(_pseudo_load(charger.name, draw_a, volts, "constant power", False))
        draft = _link(maker, source, charger, index, f"{charger.name} input", charger.place)
        draft.live = "engine"
        maker.ledger.say(
            charger.name, "runs", "with the engine", "usual trigger of such chargers",
            "common practice",
        )
        found.append(draft)
    index = len(loads)
    volts = charge_volts(plan, target.name)
    name = f"{charger.name} output" if charger.kind == "dc-dc" else charger.name
    loads.append(_pseudo_load(name, output_a, volts, "constant current", True))
    far = source.place if charger.kind in ("voltage relay", "diode") and source else charger.place
    link = _link(maker, target, charger, index, name, far)
    if charger.kind in ("voltage relay", "diode") and source is not None and link.slot is not None:
        link.inline.append(
            Slot(
                f"{charger.name} far fuse", charger.fuse, f"at {source.name}", source.place,
                list(link.segments), (index,), first=True,
            )
        )
    found.append(link)
    return found


def _link(
    maker: Maker, node: Node, charger: Charger, index: int, label: str, far_place: str | None
) -> CircuitDraft:
    """Feed and return between a battery and a charger, fused at the battery."""
    route = maker.ways.route(label, node.place, far_place, charger.length_m)
    draft = CircuitDraft(
        f"{node.name} link {label}", label, node.name, "link", (index,), None, (), "always"
    )
    feed = maker.segment(
        f"{label} feed", "branch", node.name, charger.name, route, charger.wire, (index,),
        contacts=(RING, RING), crimps=4,
    )
    back = maker.segment(
        f"{label} return", "return", charger.name, node.name, route, charger.wire, (index,),
        contacts=(RING, RING),
    )
    draft.segments = [feed, back]
    draft.feeds[index], draft.returns[index] = [feed], [back]
    draft.chassis[index] = False
    draft.slot = Slot(
        f"{draft.key} fuse", charger.fuse, f"at {node.name}", node.place, [feed, back], (index,),
        first=True,
    )
    return draft


def _roots(wiring: Wiring) -> None:
    for circuit in wiring.circuits:
        top = wiring.nodes[circuit.node].chain()[-1]
        for index in circuit.loads:
            wiring.root[index] = top.name


def _converters(wiring: Wiring, plan: Plan) -> None:
    """A converter draws from its feeder what its loads (or its rating) ask for."""
    converters = [n for n in wiring.nodes.values() if n.converter]
    for node in sorted(converters, key=lambda n: (-n.depth, n.name)):
        assert node.panel is not None
        assert node.panel.output_v is not None
        assert node.parent is not None
        behind = [
            wiring.loads[i] for c in wiring.circuits for i in c.loads
            if wiring.root[i] == node.name and not wiring.loads[i].source
        ]
        behind += [
            wiring.loads[i] for name, i in wiring.converter_load.items()
            if wiring.nodes[name].above() and wiring.nodes[name].above()[-1] is node
        ]
        needed_a = sum(load.current_at(node.panel.output_v) for load in behind)
        output_a = node.panel.rating_a if node.panel.rating_a is not None else needed_a
        input_a = input_current(
            output_a, node.panel.output_v, plan.nominal_v, CONVERTER_EFFICIENCY
        )
        average_a = input_current(
            min(output_a, sum(load.average_a() for load in behind)),
            node.panel.output_v, plan.nominal_v, CONVERTER_EFFICIENCY,
        )
        load = _pseudo_load(node.name, max(input_a, 1e-3), plan.nominal_v, "constant power", False)
        index = len(wiring.loads)
        wiring.loads.append(replace(load, typical_a=average_a))
        wiring.converter_load[node.name] = index
        wiring.root[index] = node.parent.chain()[-1].name


def _behind(wiring: Wiring) -> None:
    """Tell every feeder which loads' current it carries; a converter's feeder carries its own."""
    for node in wiring.nodes.values():
        if node.converter:
            own: tuple[int, ...] = (wiring.converter_load[node.name],)
        else:
            own = tuple(
                i for c in wiring.circuits for i in c.loads
                if node in wiring.nodes[c.node].chain() and c.style != "output"
            ) + tuple(
                i for name, i in wiring.converter_load.items()
                if node in wiring.nodes[name].above()
            )
        node.loads = tuple(sorted(own))
        for segment in node.feeder:
            segment.loads = tuple(
                i for i in node.loads
                if not segment.is_return or node.converter or not _chassis(wiring, i)
            )
        if node.slot is not None:
            node.slot.loads = node.loads


def _chassis(wiring: Wiring, index: int) -> bool:
    return any(c.chassis.get(index, False) for c in wiring.circuits)


def _controls(maker: Maker, wiring: Wiring) -> list[CircuitDraft]:
    """One control circuit a relay-working switch or vehicle signal."""
    found = []
    for switch in sorted(maker.plan.switches, key=lambda s: s.name):
        worked = [c for c in wiring.circuits if switch in c.coil_switches]
        if not worked:
            continue
        if switch.type_follows:
            maker.ledger.say(
                switch.name, "works", "relays only",
                "one of several switches of what it works", "common practice",
            )
        node = wiring.nodes[worked[0].node]
        found.append(_control(maker, wiring, node, switch, worked))
    return found


def _control(
    maker: Maker, wiring: Wiring, node: Node, switch: Switch, worked: list[CircuitDraft]
) -> CircuitDraft:
    key = f"{switch.name} control"
    names = tuple(sorted(wiring.loads[i].name for c in worked for i in c.loads))
    supply = node
    if switch.fed_from is not None:
        supply = find(wiring.nodes, switch.fed_from) or node
    elif supply.panel is None:
        supply = default_node(maker, wiring.nodes, key, switch.place)
    draft = CircuitDraft(
        key, f"{switch.label or switch.name}: control", supply.name, "control", (), None,
        (switch,), switch.live or supply.live, works=names,
    )
    length_m = switch.lead_m
    if length_m is None and switch.type == "signal" and switch.place is None:
        length_m = maker.ledger.take(
            key, "way from the vehicle's signal to the relay", SIGNAL_TAP_M, "m",
            "a long way in a car-sized vehicle", "judgement", favourable=1.0,
        )
    elif length_m is None and (switch.place is None or supply.place is None):
        length_m = maker.ledger.take(
            key, "way from panel to switch", 2.0, "m", "usual in a cab", "judgement",
            favourable=1.0,
        )
    route = maker.ways.route(key, supply.place, switch.place, length_m)
    relay_at = f"relay at {node.name}" if node.panel is not None else f"relay of {names[0]}"
    if any(len(c.coil_switches) > 1 for c in worked):
        relay_at = f"diode, {relay_at}"
    if switch.type == "signal":
        tap = maker.segment(
            f"{key} tap", "control", f"vehicle's {switch.signal or switch.name}", relay_at, route,
            switch.lead, contacts=(BLADE, BLADE),
        )
        draft.segments = [tap]
        position, place = f"inline, at the tap of the {switch.signal or switch.name}", switch.place
    else:
        draft.segments = [
            maker.segment(
                f"{key} feed", "control", supply.name, switch.name, route, switch.lead,
                contacts=(BLADE,),
            ),
            *_coil_wires(maker, key, switch, relay_at, route, worked),
        ]
        position, place = supply.name, supply.place
    draft.control_distance_m = sum(s.route.length_m for s in draft.segments if not s.aside)
    spec: FuseSpec | None = switch.fuse
    draft.slot = Slot(
        f"{key} fuse", spec, position, place, list(draft.segments), (),
        first=supply.panel is None and switch.type != "signal",
        above=supply.slot if switch.type != "signal" and not supply.converter else None,
        family="C", behind_vehicle_fuse=switch.type == "signal",
    )
    return draft


def _coil_wires(
    maker: Maker, key: str, switch: Switch, relay_at: str, route: Route,
    worked: list[CircuitDraft],
) -> list[Segment]:
    """From a switch to the coils: one wire, or one a position where it works a motor both ways."""
    positions = worked[0].positions or ("",)
    found = []
    for number, position in enumerate(positions):
        ends = f"relay {position} of {worked[0].label}" if position else relay_at
        wire = maker.segment(
            f"{key} {position or 'coil'}", "control", switch.name, ends,
            route, switch.lead, contacts=(BLADE,),
        )
        found.append(replace(wire, position=position, aside=number > 0))
    return found
