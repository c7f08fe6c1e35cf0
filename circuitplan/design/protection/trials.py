"""What fails of one owner's protection, with a fuse, wire, length or start changed on trial."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from circuitplan.design import groups
from circuitplan.design.draft import Node, Segment, Slot
from circuitplan.design.groups import Group
from circuitplan.design.protection import faults, protect
from circuitplan.design.protection.coordination import Picture
from circuitplan.design.protection.protect import RIDE_THROUGH, SLACK, Device
from circuitplan.design.sizing import Sizer
from circuitplan.design.slots import Currents
from circuitplan.design.state import State
from circuitplan.model.record import record


@dataclass(frozen=True, slots=True)
class Trial:
    """A state with something changed: fuses by slot, fuses put before a branch, lengths, starts."""

    state: State
    parts: list[Group]
    own: Mapping[str, Device] = field(default_factory=dict)  # group key -> inline fuse tried
    currents: Currents | None = None


@record
class Judge:
    """Asks the sizing's own questions of a trial."""

    picture: Picture
    sizer: Sizer

    def problems(self, trial: Trial) -> frozenset[tuple[str, str]]:
        """(rule or reason, group or slot) of everything that fails."""
        state = trial.state
        found: set[tuple[str, str]] = set()
        upstream: list[Segment] = []
        seen: dict[str, tuple[Slot, Device]] = {}
        for group in trial.parts:
            slot, guard = self._guard(trial, group)
            wire = state.wire[group.segments[0].key]
            starts = slot is not None and slot.segments[:1] and (
                slot.segments[0].key == group.segments[0].key
            )
            first = guard if starts or group.key in trial.own else None
            for heed in (frozenset[str](), frozenset({"drop"})):
                why = groups.broken(state, group, wire, first, guard, upstream, heed)
                if why is not None:
                    found.add((why.by, group.key))
            if guard is not None and slot is not None:
                least = min(wire.ampacity(state.around(s)) for s in group.segments)
                if not slot.short_circuit_only and (
                    guard.rating_a * state.wire_over_fuse > least * SLACK
                ):
                    found.add(("fuse", group.key))
                if self._unsafe(trial, group, guard, first, upstream):
                    found.add(("F03", slot.key))
                seen[slot.key] = (slot, guard)
            if group.segments[0].kind == "trunk":
                upstream = group.segments
        for slot, guard in seen.values():
            found |= {(rule, slot.key) for rule in self._device(trial, slot, guard)}
        return frozenset(found)

    def _guard(self, trial: Trial, group: Group) -> tuple[Slot | None, Device | None]:
        if group.key in trial.own:
            return group.inline or self.picture.owner.slot, trial.own[group.key]
        slot = self.picture.owner.slot
        if group.inline is not None and trial.state.fuse.get(group.inline.key) is not None:
            slot = group.inline
        return slot, None if slot is None else trial.state.fuse.get(slot.key)

    def _unsafe(
        self, trial: Trial, group: Group, guard: Device, first: Device | None,
        upstream: list[Segment],
    ) -> bool:
        state = trial.state
        wire = state.wire[group.segments[0].key]
        weak, strong = groups.fault_currents(state, group, wire, first, upstream)
        limit = faults.source_limit(state, groups.node_of(state, self.picture.owner))
        places = [state.around(segment) for segment in group.segments]
        if limit is not None:  # what the source cannot overload needs no fuse
            places = [around for around in places if wire.ampacity(around) < limit]
        return any(
            protect.fits_wire(guard, wire, around, weak, strong) is not None for around in places
        )

    def _device(self, trial: Trial, slot: Slot, guard: Device) -> Iterator[str]:
        currents = trial.currents or self.picture.currents(slot)
        least = protect.least_rating(currents, guard.ambient_c)
        if not slot.short_circuit_only and guard.rating_a * SLACK < least:
            yield "F02"
        high_v = self.sizer.highest_v(groups.node_of(trial.state, self.picture.owner))
        if (protect.start_share(guard, currents, high_v) or 0.0) > RIDE_THROUGH * SLACK:
            yield "F09"
        if guard.type == "output":
            return  # the vehicle's own fuses suit the vehicle's own supply
        at = self._at()
        seen = faults.prospective(trial.state, slot, at)
        if not protect.breaks(guard, seen) and (slot.first or not self._backed(trial, slot, seen)):
            yield "F04"

    def _at(self) -> Node:
        if isinstance(self.picture.owner, Node):
            return self.picture.owner.parent or self.picture.owner
        return self.picture.state.wiring.nodes[self.picture.owner.node]

    def _backed(self, trial: Trial, slot: Slot, seen: float) -> bool:
        above = slot.above
        while above is not None:
            upper = trial.state.fuse.get(above.key)
            if upper is not None and (upper.type == "output" or protect.breaks(upper, seen)):
                return True
            above = above.above
        return slot.behind_vehicle_fuse
