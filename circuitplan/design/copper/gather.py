"""A sized plan as a task: its wires, and what every limit leaves them.

Currents are frozen at their worst volts between E - limit and E, which is safe (see
``design.demand``); frozen at their best the same program bounds what any sizes could save.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from circuitplan.design import groups, paths
from circuitplan.design.connecting import fits
from circuitplan.design.copper.task import MICRO, TENTHS_OF_A_GRAM_PER_KG, Limit, Task, Wire
from circuitplan.design.draft import Node, Segment
from circuitplan.design.groups import Group
from circuitplan.design.protection import protect
from circuitplan.design.protection.protect import SLACK, Device
from circuitplan.design.state import State
from circuitplan.design.wire import OVERLOAD_K, Candidate, candidates, laid
from circuitplan.physics.copper import mass_kg

UP, DOWN = 1.0 - 1e-9, 1.0 + 1e-9


@dataclass(slots=True)
class Part:
    """One group with the fuse in series at its start, the fuse that guards it, and the shared
    leads of its circuit before it."""

    group: Group
    device: Device | None
    guard: Device | None
    before: list[Segment]
    fixed: bool  # the plan has no word for its size, or gives it
    sizes: tuple[Candidate, ...]


def parts_of(state: State) -> list[Part]:
    """Every wire that carries a load, feeders first, in the order of sizing."""
    found: list[Part] = []
    for node in sorted(state.wiring.nodes.values(), key=lambda n: (n.depth, n.name)):
        if node.panel is not None and node.feeder:
            device = state.fuse.get(node.slot.key) if node.slot is not None else None
            group = Group(f"feeder {node.name}", node, list(node.feeder), None)
            found.append(_part(state, group, device, device, [], node.assumed))
    for circuit in state.wiring.circuits:
        if circuit.style == "control":
            continue
        owner = state.fuse.get(circuit.slot.key) if circuit.slot is not None else None
        before: list[Segment] = []
        for group in groups.of_circuit(circuit):
            if not group.segments:
                continue
            inline = state.fuse.get(group.inline.key) if group.inline is not None else None
            device = inline if inline is not None else owner if not before else None
            guard = inline if inline is not None else owner
            unnamed = group.load is None and not circuit.switches
            found.append(_part(state, group, device, guard, list(before), unnamed))
            if group.segments[0].kind == "trunk":
                before = group.segments
    return found


def _part(
    state: State, group: Group, device: Device | None, guard: Device | None,
    before: list[Segment], unnamed: bool,
) -> Part:
    first = group.segments[0]
    fixed = unnamed or first.spec.given
    standing = state.wire[first.key]
    sizes = (standing,) if fixed else candidates(first)
    if fits(group.segments, standing.conductor.area_mm2):  # no size that its connector refuses
        sizes = tuple(c for c in sizes if fits(group.segments, c.conductor.area_mm2))
    return Part(group, device, guard, before, fixed, sizes)


def gather(state: State, parts: list[Part]) -> tuple[Task, Task]:
    """The task of a state, and the same with currents at their best volts (lower bound)."""
    at = {s.key: w for w, part in enumerate(parts) for s in part.group.segments}
    wires = tuple(_wire(state, part) for part in parts)
    found: list[tuple[Limit, Limit]] = []
    ohms = _Ohms(state, parts, at)
    for circuit in state.wiring.circuits:
        for index in circuit.loads if circuit.style != "control" else ():
            links = [*paths.feeders(state, circuit, index), *paths.own(circuit, index)]
            chassis = paths.uses_chassis(state, circuit, index)
            found += _drop_limits(state, ohms, index, links, chassis)
    for name, index in state.wiring.converter_load.items():
        links = paths.converter_path(state, state.wiring.nodes[name])
        found += _drop_limits(state, ohms, index, links, False)
    return (
        Task(wires, tuple(safe for safe, _ in found)), Task(wires, tuple(best for _, best in found))
    )


class _Ohms:
    """Resistance of every stretch in every size of its wire, worked out once."""

    def __init__(self, state: State, parts: list[Part], at: dict[str, int]) -> None:
        self.state, self.parts, self.at = state, parts, at
        self._known: dict[str, tuple[list[float], list[float]]] = {}

    def of(self, link: paths.Link) -> tuple[list[float], list[float]]:
        """(wire alone, wire with contacts) by size [ohm]."""
        segment = link.segment
        known = self._known.get(segment.key)
        if known is None:
            state = self.state
            device = state.devices_at(link.owner).get(segment.key)
            sizes = [laid(size, segment) for size in self.parts[self.at[segment.key]].sizes]
            alone = [state.wire_ohm(segment, w, state.temperature(segment, w)) for w in sizes]
            whole = [
                ohm + state.contact_ohm(segment, w, device)
                for ohm, w in zip(alone, sizes, strict=True)
            ]
            known = self._known[segment.key] = (alone, whole)
        return known


def _wire(state: State, part: Part) -> Wire:
    group = part.group
    cost = tuple(
        round(sum(
            mass_kg(laid(size, s).conductor.area_mm2, s.route.length_m * s.pieces)
            for s in group.segments
        ) * TENTHS_OF_A_GRAM_PER_KG)
        for size in part.sizes
    )
    least = 0
    if not part.fixed:
        least = next(
            (i for i, size in enumerate(part.sizes) if _alone(state, part, size)), len(cost)
        )
    return Wire(group.key, tuple(s.conductor.label for s in part.sizes), cost, least)


def _alone(state: State, part: Part, size: Candidate) -> bool:
    """Whether a size holds for strength, heat and its fuse, whatever the others are."""
    broken = groups.broken(
        state, part.group, size, part.device, part.guard, part.before, frozenset()
    )
    if broken is not None:
        return False
    guard = part.guard
    if guard is None or not guard.gates:
        return True
    for segment in part.group.segments:
        wire = laid(size, segment)
        limit = (wire.insulation.class_c + OVERLOAD_K) * SLACK
        if protect.short_peak(guard, wire, state.around(segment), guard.rating_a) > limit:
            return False
    return True


def _drop_limits(
    state: State, ohms: _Ohms, index: int, links: list[paths.Link], chassis: bool
) -> list[tuple[Limit, Limit]]:
    """Limits of the drop to one load, each with currents at their worst and at their best."""
    limit, load = state.demand.limits[index], state.wiring.loads[index]
    whole = limit.total_v
    if limit.least_v is not None:
        whole = min(whole, state.levels.low_v[index] - limit.least_v)
    body: tuple[float, float] = (0.0, 0.0)
    if chassis:
        users = tuple(
            i for c in state.wiring.circuits for i in c.loads if paths.uses_chassis(state, c, i)
        )
        ohm = state.chassis_ohm(worst=False)
        worst, best = _amps(state, users, index)
        body = worst * ohm, best * ohm
    amps = [_amps(state, link.segment.loads, index) for link in links]
    found: list[tuple[Limit, Limit]] = []
    rooms = [(f"drop to {load.name}", 1, tuple(whole - v for v in body))]
    if limit.conductor_v is not None:
        rooms.append((f"drop in the wires to {load.name}", 0, (limit.conductor_v,) * 2))
    for name, which, room in rooms:
        safe, best_ = (
            Limit(name, _uses(ohms, links, which, [a[k] for a in amps]),
                  math.floor(room[k] * MICRO * DOWN))
            for k in (0, 1)
        )
        found.append((safe, best_))
    return found


def _amps(state: State, loads: tuple[int, ...], index: int) -> tuple[float, float]:
    """What loads draw at most while one of them is on [A], at their worst and best volts."""
    members = state.demand.allowed(loads, index)
    worst = state.demand.of_loads(tuple(members))
    # A load between E - limit and E draws no less than its worst by (1 - limit / E) ** |m|.
    shares = [
        (1.0 - min(0.5, state.demand.limits[i].total_v / state.levels.low_v[i]))
        ** max(abs(m) for m in state.wiring.loads[i].exponents)
        for i in members
    ]
    return worst, worst * min(shares, default=1.0)


def _uses(
    ohms: _Ohms, links: list[paths.Link], which: int, amps: list[float]
) -> dict[int, tuple[int, ...]]:
    """Of each wire and size the microvolts that it uses up, rounded up."""
    volts: dict[int, list[float]] = {}
    for link, current in zip(links, amps, strict=True):
        wire = ohms.at[link.segment.key]
        by_size = ohms.of(link)[which]
        so_far = volts.setdefault(wire, [0.0] * len(by_size))
        for i, ohm in enumerate(by_size):
            so_far[i] += current * ohm
    return {wire: falling(values) for wire, values in volts.items()}


def falling(amounts: Iterable[float]) -> tuple[int, ...]:
    """Whole millionths, rounded up; of a thinner wire never less than of a thicker one."""
    found: list[int] = []
    for value in reversed([math.ceil(v * MICRO * UP) for v in amounts]):
        found.append(max(value, found[-1]) if found else value)
    return tuple(found[::-1])


def owner_name(part: Part) -> str | None:
    """Whose size in the plan a shared wire has: a panel or a switch; None for an accessory's."""
    owner = part.group.owner
    if isinstance(owner, Node):
        return owner.name
    return None if part.group.load is not None else owner.switches[0].name
