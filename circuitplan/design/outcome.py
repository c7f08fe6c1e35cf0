"""The finished design in the form of the result: circuits, switches, panels, parts."""

from __future__ import annotations

import math
from collections.abc import Iterable

from circuitplan.design import connecting, groups, outcome_relays, working
from circuitplan.design import outcome_parts as parts
from circuitplan.design.draft import CircuitDraft, Node, Segment, Slot
from circuitplan.design.groups import Group
from circuitplan.design.numbering import Numbers
from circuitplan.design.sizing import Sizer, usable
from circuitplan.design.solve import Solved
from circuitplan.design.state import State
from circuitplan.design.switchgear import burdens, coils_a, rating_for, works
from circuitplan.model.plan import Switch
from circuitplan.model.result import (
    AccessoryResult,
    Circuit,
    Connector,
    Fuse,
    PanelResult,
    Run,
    SwitchResult,
    TestLine,
)


class Outcome:
    """Turns a sized state into result parts; nothing is decided here."""

    def __init__(self, state: State, numbers: Numbers, solved: Solved, sizer: Sizer) -> None:
        self.state, self.numbers, self.solved, self.sizer = state, numbers, solved, sizer

    # --- circuits -----------------------------------------------------------------------------

    def circuits(self) -> tuple[Circuit, ...]:
        drafts = sorted(
            self.state.wiring.circuits, key=lambda c: self.numbers.circuit[c.key]
        )
        return tuple(self._circuit(draft) for draft in drafts)

    def _circuit(self, draft: CircuitDraft) -> Circuit:
        state = self.state
        accessories = tuple(self._accessory(draft, i) for i in draft.loads)
        fuses = self._fuses(draft)
        runs = tuple(self._run(draft, s, fuses) for s in draft.segments)
        drops = tuple(d for i in draft.loads if (d := self.solved.drops[i]) is not None)
        worst = max(drops, key=lambda d: (d.percent / d.limit_percent, d.accessory), default=None)
        current = parts.actual_current(state, self.solved, draft.segments[0])
        if draft.style != "control":
            current = sum(a.current_a for a in accessories)
        low_v = min((a.low_v for a in accessories), default=math.nan)
        node_v = self._node_low_v(draft, low_v)
        relays = outcome_relays.relays(state, self.numbers, draft, node_v)
        finished = Circuit(
            id=str(self.numbers.circuit[draft.key]), number=self.numbers.circuit[draft.key],
            label=draft.label,
            switches=tuple(s.name for s in (*draft.switches, *draft.coil_switches)),
            panel=draft.switches[0].name if _on_vehicle(draft) else draft.node,
            source=state.wiring.nodes[draft.node].battery, live=draft.live, current_a=current,
            peak_a=_sum(a.peak_a for a in accessories),
            inrush_a=_sum(a.inrush_a for a in accessories),
            continuous=any(a.continuous for a in accessories), accessories=accessories,
            fuses=fuses, fuse_reason=self.sizer.why_none(draft),
            isolator_a=next(
                (a for i in draft.loads
                 if (a := state.wiring.loads[i].accessory.isolator_a) is not None), None,
            ),
            relays=relays, relay_reason=self._relay_reason(draft, bool(relays)),
            runs=runs, drop=worst, drops=drops,
            fault=parts.fault(state, self.numbers, draft, groups.of_circuit(draft)),
            test=self._test(draft), working=(), connectors=self._connectors(draft, runs),
        )
        return working.attach(state, draft, finished)

    def _connectors(self, draft: CircuitDraft, runs: tuple[Run, ...]) -> tuple[Connector, ...]:
        ways, loads = self.sizer.ways, self.state.wiring.loads
        found = [
            connecting.of_load(draft, loads[i], i, self.numbers, runs, ways) for i in draft.loads
        ]
        return tuple(c for c in found if c is not None)

    def _relay_reason(self, draft: CircuitDraft, fitted: bool) -> str | None:
        if fitted or not draft.coil_switches:
            return None
        if all(self.state.wiring.loads[i].own_contactor for i in draft.loads):
            return None
        return "no relay of the table bears this load" if draft.relay else None

    def _node_low_v(self, draft: CircuitDraft, fallback: float) -> float:
        """Least volts at the panel that a circuit hangs on [V]."""
        if not draft.loads:
            return fallback
        index = draft.loads[0]
        drop = self.solved.drops[index]
        if drop is None:
            return 0.0
        wires, contacts = groups.upstream_drop(self.state, draft, index)
        return self.state.levels.low_v[index] - wires - contacts

    def _accessory(self, draft: CircuitDraft, index: int) -> AccessoryResult:
        load = self.state.wiring.loads[index]
        accessory = load.accessory
        current = float(self.solved.current_a[index])
        collapsed = math.isnan(current)
        return AccessoryResult(
            name=load.name, kind=load.kind.kind if load.kind else None,
            quantity=accessory.quantity,
            current_a=float(self.state.demand.worst_a[index]) if collapsed else current,
            average_a=load.average_a(), parked_a=load.parked_a,
            low_v=_volts(self.solved.low_v[index]), solved_v=self._solved_v(index),
            sag=self.state.levels.when[index], min_v=load.min_v, load=load.model,
            drop_class=load.drop_class, contact_class=load.contact_class,
            letter=load.letter, place=accessory.place, live=draft.live,
            continuous=load.continuous, on_s=load.on_s, period_s=load.period_s,
            peak_a=load.peak_a, inrush_a=load.inrush_a, inrush_known=load.inrush_known,
            needs=accessory.needs, never_with=accessory.never_with, back=load.back,
            motor=accessory.motor,
            low_speed_a=None if load.low_speed_a is None
            else load.low_speed_a * float(self.state.demand.worst_a[index]) / load.rated_a,
        )

    def _solved_v(self, index: int) -> float:
        """Solution with everything on [V]; 0 where no bound shows that there is one."""
        if self.solved.drops[index] is None:
            return 0.0
        return _volts(self.solved.solved_low_v[index])

    def _fuses(self, draft: CircuitDraft) -> tuple[Fuse, ...]:
        own = [draft.slot] if draft.slot is not None else []
        found = [self._fuse(slot, draft) for slot in own + draft.inline]
        return tuple(f for f in found if f is not None)

    def _fuse(self, slot: Slot, owner: CircuitDraft | Node) -> Fuse | None:
        if self.state.fuse.get(slot.key) is None:
            return None
        rough = self.sizer.currents(owner, slot)
        currents = parts.final_currents(self.state, self.solved, slot, rough)
        return parts.fuse(self.state, self.numbers, slot, owner, currents)

    def _run(self, draft: CircuitDraft, segment: Segment, fuses: tuple[Fuse, ...]) -> Run:
        guard = self._guard(draft, segment)
        return parts.run(self.state, self.numbers, self.solved, segment, draft, guard)

    def _guard(self, owner: CircuitDraft | Node, segment: Segment) -> str | None:
        """Id of the innermost fuse in front of a segment."""
        slots = list(owner.inline) if isinstance(owner, CircuitDraft) else []
        if owner.slot is not None:
            slots.append(owner.slot)
        for slot in slots:
            if self.state.fuse.get(slot.key) is not None and any(
                s is segment for s in slot.segments
            ):
                return self.numbers.fuse[slot.key]
        if owner.slot is not None and self.state.fuse.get(owner.slot.key) is not None:
            return self.numbers.fuse[owner.slot.key]
        return None

    def _test(self, draft: CircuitDraft) -> tuple[TestLine, ...]:
        """What the meter should read: a resting battery and the charging volts."""
        if not draft.loads:
            return ()
        scale = self.state.plan.nominal_v / 12.0
        lines = []
        for supply in (12.6 * scale, 14.2 * scale):
            root = self.state.wiring.nodes[self.state.wiring.root[draft.loads[0]]]
            if root.panel is not None and root.panel.output_v is not None:
                supply = root.panel.output_v
            low = high = 0.0
            drop = 0.0
            for index in draft.loads:
                load = self.state.wiring.loads[index]
                found = self.solved.drops[index]
                lost = found.total_v if found is not None else 0.0
                drop = max(drop, lost)
                draws = [
                    load.rated_a * (max(supply - lost, 1.0) / load.rated_v) ** m
                    for m in load.exponents
                ]
                low += 0.9 * min(draws) * min(1.0, load.typical_a / load.rated_a)
                high += 1.1 * max(draws)
            lines.append(TestLine(supply, low, high, supply - drop))
            if root.panel is not None and root.panel.output_v is not None:
                break
        return tuple(lines)

    # --- switches and panels -------------------------------------------------------------------

    def switches(self) -> tuple[SwitchResult, ...]:
        ordered = sorted(self.state.plan.switches, key=lambda s: s.name)
        return tuple(self._switch(s) for s in ordered)

    def _switch(self, switch: Switch) -> SwitchResult:
        state = self.state
        carried = [c for c in state.wiring.circuits if switch in c.switches and c.loads]
        members = tuple(i for c in carried for i in c.loads)
        found = []
        for burden, index in zip(burdens(state, members), members, strict=True):
            load = state.wiring.loads[index]
            current = float(self.solved.current_a[index])
            if math.isnan(current):
                current = burden.current_a
            share = rating_for(switch, load, burden) / burden.current_a if burden.current_a else 1.0
            found.append((load.name, current, share))
        coil_a = coils_a(state, switch)
        if coil_a > 0.0:
            found.append(("coils", coil_a, 1.0))
        current = sum(a for _, a, _ in found)
        needed = sum(a * f for _, a, f in found)
        usable_a = None
        if switch.rating_a is not None:
            worst = max((f for _, _, f in found), default=1.0)
            usable_a = switch.rating_a * current / needed if needed > 0 else switch.rating_a / worst
            if switch.type == "output":
                usable_a = min(usable_a, *(self._output_limit(c) for c in carried), math.inf)
        elif switch.type == "direct" and carried and not self.sizer.ways.ledger.favours(
            switch.name, "rating", "none: nothing may hang on it", "the plan does not give it",
            "judgement",
        ):
            usable_a = 0.0
        return SwitchResult(
            id=switch.name, label=switch.label or switch.name, type=switch.type,
            rating_a=switch.rating_a, usable_a=usable_a, current_a=current,
            spare_a=None if usable_a is None else usable_a - current, needed_a=needed,
            factors=tuple(found), works=works(state.wiring, switch), signal=switch.signal,
            live=switch.live or "always", place=switch.place,
        )

    def _output_limit(self, circuit: CircuitDraft) -> float:
        slot = circuit.slot
        device = self.state.fuse.get(slot.key) if slot is not None else None
        return usable(device) if device is not None else math.inf

    def panels(self) -> tuple[PanelResult, ...]:
        nodes = [n for n in self.state.wiring.nodes.values() if n.panel is not None]
        return tuple(self._panel(n) for n in sorted(nodes, key=lambda n: (n.depth, n.name)))

    def _panel(self, node: Node) -> PanelResult:
        assert node.panel is not None
        state, panel = self.state, node.panel
        feed = node.feeder[0]
        device = state.fuse.get(node.slot.key) if node.slot is not None else None
        current = parts.actual_current(state, self.solved, feed, thermal=True)
        if node.converter and panel.output_v is not None:
            behind = [i for i, root in state.wiring.root.items() if root == node.name]
            current = sum(float(self.solved.current_a[i]) for i in behind)
        rated = state.wire[feed.key].ampacity(state.around(feed))
        fuse = self._fuse(node.slot, node) if node.slot is not None else None
        bounds = [b for b in (panel.rating_a,) if b is not None]
        if not node.converter:
            bounds.append(rated)
            if device is not None and fuse is not None and fuse.current_a is not None:
                bounds.append(usable(device, fuse.current_a, fuse.min_a))
        usable_a = min(bounds, default=None)
        used = self.numbers.way_user.get(node.name, 0)
        fault = parts.fault(
            state, self.numbers, node, [Group(f"feeder {node.name}", node, list(node.feeder), None)]
        )
        feeder = tuple(
            parts.run(state, self.numbers, self.solved, s, node, self._guard(node, s))
            for s in node.feeder
        )
        return PanelResult(
            id=node.name, place=node.place, fed_from=node.parent.name if node.parent else "",
            rating_a=panel.rating_a, usable_a=usable_a, current_a=current,
            spare_a=None if usable_a is None else usable_a - current, ways=panel.ways,
            free_ways=None if panel.ways is None else panel.ways - used, output_v=panel.output_v,
            feeder=feeder, fuse=fuse, fault=fault, fuse_reason=self.sizer.why_none(node),
            assumed=node.assumed, live=node.live,
            connector=connecting.of_node(node, self.numbers, feeder, self.sizer.ways),
        )


def _on_vehicle(draft: CircuitDraft) -> bool:
    """Whether a circuit hangs on an output or a signal of the vehicle rather than on a panel."""
    if draft.style == "output":
        return True
    return draft.style == "control" and draft.switches[0].type == "signal"


def _volts(value: float) -> float:
    return 0.0 if math.isnan(value) else float(value)


def _sum(values: Iterable[float | None]) -> float | None:
    found = [v for v in values if v is not None]
    return sum(found) if found else None
