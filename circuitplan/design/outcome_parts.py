"""Decided wires, fuses and relays in the form of the result."""

from __future__ import annotations

import math

from circuitplan.design import groups, wares
from circuitplan.design.draft import CircuitDraft, Node, Segment, Slot
from circuitplan.design.groups import Group
from circuitplan.design.load import Load
from circuitplan.design.numbering import Numbers
from circuitplan.design.protection import faults, protect
from circuitplan.design.slots import Currents
from circuitplan.design.solve import Solved
from circuitplan.design.state import State
from circuitplan.design.working import why_fuse
from circuitplan.library import fuses as fuse_tables
from circuitplan.model.result import Fault, Fuse, Run
from circuitplan.physics import fuses, transient

INLINE_DISTANCE_M = 0.1
"""Unprotected lead before a fuse at a battery (judgement: fitted at the post)."""


def actual_current(state: State, solved: Solved, segment: Segment, thermal: bool = False) -> float:
    """Largest current of one wire in the finished network [A]."""
    if segment.kind == "control":
        return state.control_a.get(segment.key, 0.0)
    total = 0.0
    values = []
    for index in segment.loads:
        current = float(solved.current_a[index])
        if math.isnan(current):
            current = float(state.demand.worst_a[index])
        if thermal:
            current *= state.wiring.loads[index].thermal_factor
        values.append((index, current))
        total += current
    if state.demand.never_with is not None and len(values) > 1:
        frozen = state.demand.of_loads(segment.loads, thermal)
        plain = sum(
            float((state.demand.thermal_a if thermal else state.demand.worst_a)[i])
            for i, _ in values
        )
        if plain > 0.0:
            total *= frozen / plain
    return total / segment.pieces


def run(
    state: State, numbers: Numbers, solved: Solved, segment: Segment,
    owner: CircuitDraft | Node, protected_by: str | None,
) -> Run:
    """One wire with everything that is known of it."""
    wire = state.wire[segment.key]
    around = state.around(segment)
    current = actual_current(state, solved, segment)
    thermal = actual_current(state, solved, segment, thermal=True)
    rated = wire.ampacity(around)
    _, source = wire.single_ampacity(around.ambient_c)
    warm = wire.temperature(thermal, around)
    peak: float | None = None
    load = state.wiring.loads[segment.loads[0]] if len(segment.loads) == 1 else None
    if load is not None and not load.continuous and load.on_s and load.period_s and rated > 0.0:
        peak = transient.periodic_peak(
            wire.body(around), max(current, (load.peak_a or 0.0) / segment.pieces), load.on_s,
            max(load.period_s - load.on_s, 0.0),
        )
    end = state.hottest_end(segment, wire, thermal)
    start_at, end_at = numbers.ends.get(segment.key, (segment.start, segment.end))
    raw = None
    if wire.first_principles_class_c > around.ambient_c:
        raw = wire.raw_ampacity(around.ambient_c)
    return Run(
        id=numbers.run[segment.key], role=wares.role(segment), from_=start_at, to=end_at,
        colour=wares.colour(state, owner, segment),
        size=wire.conductor.label, area_mm2=wire.conductor.area_mm2, gauge=wire.conductor.gauge,
        material=wire.material.name, insulation=wire.insulation.label,
        insulation_c=wire.insulation.class_c, length_m=segment.route.length_m,
        loop_m=_loop(state, segment), pieces=segment.pieces, current_a=current,
        thermal_a=thermal, resistance_20c_ohm_per_m=wire.r20,
        conductor_c=min(warm, 600.0), peak_c=None if peak is None else min(peak, 600.0),
        terminal=end[1].part if end else "terminal",
        terminal_c=min(end[0], 600.0) if end else min(warm, 600.0),
        terminal_class_c=end[1].limit_c if end else 105.0,
        ambient_c=around.ambient_c, ambient_assumed=segment.route.ambient_assumed,
        ampacity_a=rated, ampacity_source=source, published_a=wire.published_a,
        first_principles_a=raw, bundle_factor=around.bundle_factor, bundle_wires=around.wires,
        tube_factor=around.tube, loading=thermal / rated if rated > 0.0 else 99.0,
        limited_by=state.limited.get(segment.key, "minimum"),
        next_smaller=state.smaller.get(segment.key), given=segment.spec.given,
        unknown=segment.spec.unknown, places=segment.route.places,
        accessories=tuple(state.wiring.loads[i].name for i in segment.loads),
        protected_by=protected_by, outer_mm=wire.conductor.outer_mm,
        od_source=f"{wire.conductor.source} ({wire.conductor.status})",
        at=segment.position, live_back=segment.kind == "live back",
    )


def _loop(state: State, segment: Segment) -> float:
    """Length out and back: a feed and its wired return; a chassis return adds its lead."""
    out = segment.route.length_m
    for circuit in state.wiring.circuits:
        if segment in circuit.segments and circuit.motor is not None and segment.loads:
            return sum(s.route.length_m for s in circuit.segments if not s.aside)
        if segment in circuit.segments and segment.kind in ("branch", "tail"):
            backs = [
                s for s in circuit.segments
                if s.is_return and s.loads == segment.loads
                and (s.pieces == segment.pieces or s.kind == "earth lead")
            ]
            return out + sum(s.route.length_m for s in backs[:1])
    for node in state.wiring.nodes.values():
        if segment in node.feeder and not segment.is_return:
            return out + sum(s.route.length_m for s in node.feeder if s.is_return)
    return out


def fuse(
    state: State, numbers: Numbers, slot: Slot, owner: CircuitDraft | Node, currents: Currents,
) -> Fuse | None:
    """The device of a slot; None if there is none."""
    device = state.fuse.get(slot.key)
    if device is None:
        return None
    guarded = [s for s in slot.segments if s.key in state.wire]
    least_iz = min((state.wire[s.key].ampacity(state.around(s)) for s in guarded), default=None)
    node = groups.node_of(state, owner)
    seen = faults.prospective(state, slot, node)
    above = slot.above
    sufficient = slot.behind_vehicle_fuse
    while above is not None:
        upper = state.fuse.get(above.key)
        # The vehicle's own fuses suit the vehicle's own supply.
        able = upper is not None and (upper.type == "output" or (upper.breaking_a or 0.0) >= seen)
        if able:
            sufficient = True
            break
        above = above.above
    number = numbers.way.get(slot.key)
    share = _share(device, currents, faults.highest_v(state, node))
    position = slot.position if number is None else f"{slot.position}, way {number}"
    return Fuse(
        id=numbers.fuse[slot.key], protects=numbers.run[guarded[0].key] if guarded else "",
        rating_a=device.rating_a, type=device.type,
        colour=fuse_tables.colour(device.type, device.rating_a), position=position,
        ambient_c=device.ambient_c, min_a=protect.least_rating(currents, device.ambient_c),
        max_a=least_iz, limited_by="given" if slot.spec and slot.spec.rating_a else "load",
        breaking_capacity_a=device.breaking_a, prospective_a=seen,
        behind_sufficient=sufficient, first_after_source=slot.first,
        distance_m=slot.distance_m if not slot.first else max(slot.distance_m, INLINE_DISTANCE_M),
        sheathed=slot.sheathed,
        rides_through=share,
        short_circuit_only=slot.short_circuit_only,
        given=bool(slot.spec and slot.spec.rating_a), why=why_fuse(
            slot, share, least_iz is None or device.rating_a <= least_iz * protect.SLACK
        ),
        current_a=sum(
            a * (load.thermal_factor if load is not None else 1.0) for load, a in currents
        ),
    )


def _share(device: protect.Device, currents: Currents, high_v: float) -> float | None:
    found = protect.start_share(device, currents, high_v)
    return None if found is None else min(found, 1e6)


def final_currents(state: State, solved: Solved, slot: Slot, rough: Currents) -> Currents:
    """Currents behind a slot in the finished network, interlocks shared out as while sizing."""
    if not slot.loads:
        return rough
    found: Currents = []
    for load, current in rough:
        index = _index(state, load)
        actual = float(solved.current_a[index]) if index is not None else current
        frozen = float(state.demand.worst_a[index]) if index is not None else current
        if math.isnan(actual) or frozen <= 0.0:
            actual = frozen
        found.append((load, current * actual / frozen if frozen > 0.0 else current))
    return found


def _index(state: State, load: Load | None) -> int | None:
    for i, known in enumerate(state.wiring.loads):
        if known is load:
            return i
    return None


def fault(
    state: State, numbers: Numbers, owner: CircuitDraft | Node, parts: list[Group]
) -> Fault | None:
    """The far-end short that is hardest to clear among an owner's stretches."""
    worst: tuple[float, Fault] | None = None
    upstream: list[Segment] = []
    for group in parts:
        slot = owner.slot
        if group.inline is not None and state.fuse.get(group.inline.key) is not None:
            slot = group.inline
        device = state.fuse.get(slot.key) if slot is not None else None
        if slot is not None and device is not None and group.segments:
            found = _one_fault(state, numbers, owner, group, slot, device, upstream)
            allowed = found.allowed_s
            strain = (found.clears_s if found.clears_s is not None else math.inf) / allowed
            if worst is None or strain > worst[0]:
                worst = (strain, found)
        if group.segments and group.segments[0].kind == "trunk":
            upstream = group.segments
    return worst[1] if worst else None


def _one_fault(
    state: State, numbers: Numbers, owner: CircuitDraft | Node, group: Group, slot: Slot,
    device: protect.Device, upstream: list[Segment],
) -> Fault:
    first = device if slot.segments and slot.segments[0] is group.segments[0] else None
    wire = state.wire[group.segments[0].key]
    feeds = [s for s in group.segments if not s.is_return]
    far = next((s for s in feeds if s.position), feeds[-1] if feeds else group.segments[0])
    around = min((state.around(s) for s in group.segments), key=wire.ampacity)
    weak, strong = groups.fault_currents(state, group, wire, first, upstream)
    node = groups.node_of(state, owner)
    limited = faults.source_limit(state, node)
    clears = protect.clearing(device, weak)
    allowed = protect.withstand(wire, weak)
    if limited is not None and wire.ampacity(around) >= limited:
        clears, allowed = 0.0, protect.LONGEST_CLEARING_S
    peak = protect.short_peak(device, wire, around, max(weak, strong))
    return Fault(
        current_a=weak, clears_s=None if math.isinf(clears) else clears, allowed_s=allowed,
        prospective_max_a=faults.prospective(state, slot, node),
        run=numbers.run[far.key], adiabatic_k=wire.adiabatic_k,
        overload_proved=protect.overload_proved(device, wire, around),
        band_peak_c=None if math.isinf(peak) else min(peak, 1e4),
        selective=_selective(state, slot, device, strong),
    )


def _selective(state: State, slot: Slot, device: protect.Device, fault_a: float) -> str:
    upper_slot = slot.above
    upper = state.fuse.get(upper_slot.key) if upper_slot is not None else None
    if upper_slot is None or upper is None:
        return "single"
    up, down = upper.gates, device.gates
    if not up or not down:
        return "not proved"
    others = state.demand.of_loads(upper_slot.loads) - state.demand.of_loads(slot.loads)
    good = fuses.selective(
        up, upper.rating_a, down, device.rating_a, fault_a, max(others, 0.0)
    )
    return "proved" if good else "not proved"
