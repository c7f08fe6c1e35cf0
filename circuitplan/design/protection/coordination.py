"""Fuse against wire: each wire's heating over time, each fuse's bounds beside it, the warm ways."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

from circuitplan.design import groups
from circuitplan.design.draft import CircuitDraft, Node, Segment, Slot
from circuitplan.design.groups import Group
from circuitplan.design.levels import SAG_FACTOR
from circuitplan.design.numbering import Numbers
from circuitplan.design.outcome_parts import actual_current
from circuitplan.design.protection import faults, protect
from circuitplan.design.protection.protect import Device
from circuitplan.design.slots import Currents
from circuitplan.design.solve import Solved
from circuitplan.design.state import State
from circuitplan.design.wire import OVERLOAD_K, Candidate, Surroundings
from circuitplan.model.record import record
from circuitplan.model.result import Coordination, Heating, Overload, WarmLeg
from circuitplan.physics import transient
from circuitplan.physics.fuses import BEYOND_LAST_GATE, FASTEST_CLEARING_S, Gate

MULTIPLES = (1.35, 2.0, 3.5, 6.0)
"""Where the standards' gates lie; overloads are told there."""
COOLED_SHARE = 0.1
"""A wire counts as cool with a tenth of its rise left (judgement)."""
DAMAGE_POINTS = 25
START_SHARES = (0.98, 0.9, 0.75, 0.5, 0.3, 0.15, 0.07, 0.03)
Points = tuple[tuple[float, float], ...]


@record
class Picture:
    """Looks at one owner (circuit or panel feeder) of a finished state."""

    state: State
    numbers: Numbers
    solved: Solved
    owner: CircuitDraft | Node
    currents: Callable[[Slot], Currents]

    def parts(self) -> list[Group]:
        if isinstance(self.owner, Node):
            return [Group(self.owner.name, self.owner, list(self.owner.feeder), None)]
        return groups.of_circuit(self.owner)

    def segments(self) -> list[Segment]:
        return self.owner.feeder if isinstance(self.owner, Node) else self.owner.segments

    def guard(self, group: Group) -> tuple[Slot | None, Device | None]:
        """The innermost fuse before a group of stretches."""
        if group.inline is not None:
            own = self.state.fuse.get(group.inline.key)
            if own is not None:
                return group.inline, own
        slot = self.owner.slot
        return slot, None if slot is None else self.state.fuse.get(slot.key)

    # --- heat over time ------------------------------------------------------------------------

    def heating(self) -> tuple[Heating, ...]:
        """Every feed of the owner."""
        found = []
        for group in self.parts():
            _, device = self.guard(group)
            feeds = [s for s in group.segments if not s.is_return]
            found += [h for s in feeds if (h := self._heating(s, device)) is not None]
        return tuple(found)

    def _heating(self, segment: Segment, device: Device | None) -> Heating | None:
        state = self.state
        wire, around = state.wire[segment.key], state.around(segment)
        rated = wire.ampacity(around)
        if rated <= 0.0:
            return None
        body, class_c = wire.body(around), wire.insulation.class_c
        thermal = actual_current(state, self.solved, segment, thermal=True)
        start_c = min(wire.temperature(thermal, around), class_c)
        base = device.rating_a if device is not None else rated
        overloads = tuple(
            Overload(base * x, x, _finite(transient.time_to(body, start_c, base * x, class_c)))
            for x in MULTIPLES
        )
        held = self._held(segment)
        tau_s = body.thermal_k_m_per_w * body.heat_capacity_j_per_m_k
        return Heating(
            self.numbers.run[segment.key], start_c, class_c, overloads, held,
            _finite(transient.time_to(body, around.ambient_c, held, class_c)),
            -math.log(COOLED_SHARE) * tau_s,
        )

    def _held(self, segment: Segment) -> float:
        """The largest current that is meant to flow in one wire [A], a single load's peak too."""
        held = actual_current(self.state, self.solved, segment)
        if len(segment.loads) != 1:
            return held
        load = self.state.wiring.loads[segment.loads[0]]
        return max(held, (load.peak_a or 0.0) / segment.pieces)

    # --- fuse against wire -----------------------------------------------------------------------

    def coordination(self) -> tuple[Coordination, ...]:
        """Each fuse beside the wire behind it that it guards with the least to spare."""
        worst: dict[str, tuple[tuple[bool, float], Coordination]] = {}
        upstream: list[Segment] = []
        for group in self.parts():
            slot, device = self.guard(group)
            if slot is not None and device is not None and group.segments:
                found = self._against(group, slot, device, upstream)
                clears = math.inf if found.clears_s is None else found.clears_s
                strain = (not found.guarded, clears / found.allowed_s)
                known = worst.get(slot.key)
                if known is None or strain > known[0]:
                    worst[slot.key] = (strain, found)
            if group.segments and group.segments[0].kind == "trunk":
                upstream = group.segments
        return tuple(found for _, found in worst.values())

    def _against(
        self, group: Group, slot: Slot, device: Device, upstream: list[Segment]
    ) -> Coordination:
        state, owner = self.state, self.owner
        segment = min(
            group.segments, key=lambda s: state.wire[s.key].ampacity(state.around(s))
        )
        wire, around = state.wire[segment.key], state.around(segment)
        first = device if slot.segments and slot.segments[0] is group.segments[0] else None
        weak, strong = groups.fault_currents(state, group, wire, first, upstream)
        node = state.wiring.nodes[owner.node] if isinstance(owner, CircuitDraft) else owner
        at = node.parent if isinstance(owner, Node) and node.parent is not None else node
        limit = faults.source_limit(state, groups.node_of(state, owner))
        aged = self._aged(weak, groups.node_of(state, owner))
        near = faults.prospective(state, slot, at)
        clears = protect.clearing(device, weak)
        held_by_source = limit is not None and wire.ampacity(around) >= limit
        guarded = held_by_source or all(
            protect.fits_wire(device, wire, state.around(s), weak, strong) is None
            for s in group.segments
        )
        currents = self.currents(slot)
        high_v = faults.highest_v(state, groups.node_of(state, owner))
        share = protect.start_share(device, currents, high_v)
        top = max(near, strong, 20.0 * device.rating_a)
        return Coordination(
            self.numbers.fuse[slot.key], device.type, device.rating_a,
            self.numbers.run[segment.key], wire.conductor.label, sum(a for _, a in currents),
            starting_points(currents, high_v), None if share is None else min(share, 1e6),
            protect.RIDE_THROUGH / share if share else None,
            melting_points(device, top), clearing_points(device, top),
            damage_points(wire, around, device, top),
            weak, weak if limit is not None else aged, strong, near, _finite(clears),
            protect.withstand(wire, weak), guarded,
            "its maker's curve" if device.curve is not None
            else "limits of its standard" if device.gates else "not known",
        )

    def _aged(self, weak_a: float, node: Node) -> float:
        """The weakest fault with the battery warm, but aged, in place of cold and aged [A]."""
        level = self.state.levels.batteries[node.battery]
        rest = level.low_emf_v / weak_a - level.high_ohm
        return level.low_emf_v / (rest + min(SAG_FACTOR * level.warm_ohm, level.high_ohm))

    # --- ways -----------------------------------------------------------------------------------

    def warm(self) -> tuple[WarmLeg, ...]:
        """The hottest wire of the owner in every way and place it runs through."""
        hottest: dict[str, WarmLeg] = {}
        for segment in self.segments():
            wire = self.state.wire[segment.key]
            for stretch in segment.route.stretches:
                loom = self.state.looms.get(segment.bundle_apart or stretch.bundle)
                side, load = (loom.wires, loom.loading) if loom else (segment.pieces, 1.0)
                around = Surroundings(stretch.ambient_c, stretch.tube, max(1, side), load)
                found = self._leg(segment, wire, around, stretch.bundle)
                known = hottest.get(stretch.bundle)
                if known is None or _share(found) > _share(known):
                    hottest[stretch.bundle] = found
        return tuple(hottest.values())

    def _leg(
        self, segment: Segment, wire: Candidate, around: Surroundings, way: str
    ) -> WarmLeg:
        thermal = actual_current(self.state, self.solved, segment, thermal=True)
        warm = wire.temperature(thermal, around)
        loads = [self.state.wiring.loads[i] for i in segment.loads]
        one = loads[0] if len(loads) == 1 and wire.ampacity(around) > 0.0 else None
        if one is not None and not one.continuous and one.on_s and one.period_s:
            peak = transient.periodic_peak(
                wire.body(around), self._held(segment), one.on_s,
                max(one.period_s - one.on_s, 0.0),
            )
            warm = max(warm, peak)
        return WarmLeg(
            way, self.numbers.run[segment.key], min(warm, 600.0), wire.insulation.class_c,
            around.ambient_c,
        )


def _share(leg: WarmLeg) -> float:
    return leg.conductor_c / leg.insulation_c


def _finite(seconds: float) -> float | None:
    return None if math.isinf(seconds) else seconds


# --- curves --------------------------------------------------------------------------------


def melting_points(device: Device, top_a: float) -> Points:
    """The soonest melting as a broken line: I^2 t is constant between gates, and falls at them."""
    gates: tuple[Gate, ...] = device.gates
    found: list[tuple[float, float]] = []
    for (low, _, _), (gate, t_min_s, _) in pairwise(gates):
        found += [(low, t_min_s * (gate / low) ** 2), (gate, t_min_s)]
    if gates and top_a > gates[-1][0] * device.rating_a:
        gate, t_min_s, _ = gates[-1]
        top = top_a / device.rating_a
        beyond = BEYOND_LAST_GATE * t_min_s
        found += [(gate, beyond), (top, beyond * (gate / top) ** 2)]
    return tuple((x * device.rating_a, t) for x, t in found)


def clearing_points(device: Device, top_a: float) -> Points:
    """The latest clearing as a broken line, 10 ms at least; empty where nothing is known."""
    limits = [(g, t) for g, _, t in device.gates if t is not None]
    top = top_a / device.rating_a
    found: list[tuple[float, float]] = []
    uppers = [g for g, _ in limits[1:]] + [top]
    for (gate, t_max_s), upper in zip(limits, uppers, strict=False):
        if upper <= gate:
            continue
        found.append((gate, max(t_max_s, FASTEST_CLEARING_S)))
        floor = gate * math.sqrt(t_max_s / FASTEST_CLEARING_S)
        if gate < floor < upper:
            found.append((floor, FASTEST_CLEARING_S))
        found.append((upper, max(t_max_s * (gate / upper) ** 2, FASTEST_CLEARING_S)))
    return tuple((x * device.rating_a, t) for x, t in found)


def damage_points(wire: Candidate, around: Surroundings, device: Device, top_a: float) -> Points:
    """How long the wire bears a current until class + 50 K, from its temperature at 0.8 In."""
    if wire.ampacity(around) <= 0.0:
        return ()
    body, class_c = wire.body(around), wire.insulation.class_c
    start_c = min(
        wire.temperature(protect.CONTINUOUS_SHARE * device.rating_a, around), class_c
    )
    low = 1.1 * device.rating_a
    found = []
    for n in range(DAMAGE_POINTS):
        current = low * (top_a / low) ** (n / (DAMAGE_POINTS - 1))
        seconds = transient.time_to(body, start_c, current, class_c + OVERLOAD_K)
        if math.isfinite(seconds):
            found.append((current, seconds))
    return tuple(found)


def starting_points(currents: Currents, high_v: float) -> Points:
    """(current, how long a start exceeds it) of the load that starts with most, others running."""
    best: list[tuple[float, float]] = []
    steady = sum(a for load, a in currents if load is None or load.continuous)
    for load, current_a in currents:
        if load is None:
            continue
        others = steady - (current_a if load.continuous else 0.0)
        points: list[tuple[float, float]] = []
        start = protect.start_of(load, current_a, high_v)
        if start is not None and start.peak_a > current_a:
            excess = start.peak_a - current_a
            points = [
                (current_a + others + s * excess, start.lasts_s(current_a + s * excess))
                for s in START_SHARES
            ]
        if not load.continuous and load.on_s:
            points.append((max(current_a, load.peak_a or 0.0) + others, load.on_s))
        if points and (not best or max(points)[0] > max(best)[0]):
            best = points
    return tuple(best)
