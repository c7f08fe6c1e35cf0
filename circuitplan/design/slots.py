"""What may stand in a place for a fuse: the currents behind it and the devices that carry them."""

from __future__ import annotations

from circuitplan.design import groups
from circuitplan.design.draft import CircuitDraft, Node, Segment, Slot
from circuitplan.design.groups import Group
from circuitplan.design.load import Load
from circuitplan.design.protection import faults
from circuitplan.design.protection.given import as_given
from circuitplan.design.protection.protect import (
    RIDE_THROUGH,
    Device,
    devices,
    least_rating,
    start_share,
)
from circuitplan.design.state import State
from circuitplan.design.ways import Ways
from circuitplan.design.wire import Candidate

MOST_DEVICES = 14

Currents = list[tuple[Load | None, float]]


class Slots:
    """The places for fuses of one plan, with the wires as they stand."""

    def __init__(self, state: State, ways: Ways) -> None:
        self.state = state
        self.ways = ways
        self._seen: dict[str, tuple[object, ...]] = {}

    def currents(self, owner: CircuitDraft | Node, slot: Slot) -> Currents:
        """(load, worst current) behind a slot; interlocks leave the lighter ones out."""
        if isinstance(owner, CircuitDraft) and owner.style == "control":
            first = slot.segments[0].key
            return [(None, self.state.control_a.get(first, 0.0))]
        demand = self.state.demand
        found: Currents = [
            (self.state.wiring.loads[i], float(demand.worst_a[i])) for i in slot.loads
        ]
        whole = sum(current for _, current in found)
        allowed = demand.of_loads(slot.loads)
        if whole > 0.0 and allowed < whole:
            found = [(load, current * allowed / whole) for load, current in found]
        return found

    def options(self, owner: CircuitDraft | Node, slot: Slot) -> list[Device]:
        """Fuses for a slot that carry the load and ride through its start; smallest first.

        Where none rides through, those that carry the load.
        """
        currents = self.currents(owner, slot)
        highest = self.highest_v(groups.node_of(self.state, owner))
        found = self.carrying(owner, slot)
        rides = [d for d in found if (start_share(d, currents, highest) or 0.0) <= RIDE_THROUGH]
        return (rides or found)[:MOST_DEVICES]

    def carrying(self, owner: CircuitDraft | Node, slot: Slot) -> list[Device]:
        """Fuses for a slot that carry the load, whether its start melts them or not."""
        node = groups.node_of(self.state, owner)
        spec = slot.spec
        currents = self.currents(owner, slot)
        ambient, _ = self.ways.ambient(slot.place)
        breaking = (
            faults.prospective(self.state, slot, node) if slot.first else None
        )
        steady = sum(i for load, i in currents if load is None or load.continuous)
        highest = self.highest_v(node)
        rating = spec.rating_a if spec else None
        type_ = spec.type if spec else None
        least, full = least_rating(currents, ambient), sum(a for _, a in currents)
        found = devices(
            least, ambient, family=slot.family, rating_a=rating, type_=type_, highest_v=highest,
            continuous_a=steady, breaking_a=breaking, spec=spec, full_a=full,
        )
        for family, needed in ((None, breaking), (slot.family, None), (None, None)):
            if found:
                break
            found = devices(
                least, ambient, family=family, rating_a=rating, type_=type_,
                highest_v=highest, continuous_a=steady, breaking_a=needed, spec=spec,
                full_a=full,
            )
        return found or as_given(spec, ambient, highest, breaking)

    def why_none(self, owner: CircuitDraft | Node) -> str | None:
        """Why there is no fuse before an owner; None where there is one."""
        slot = owner.slot
        if slot is None:
            return "no place for one is known"
        if self.state.fuse.get(slot.key) is not None:
            return None
        if slot.spec is not None and slot.spec.none:
            return "the plan says: none"
        ambient, _ = self.ways.ambient(slot.place)
        least = least_rating(self.currents(owner, slot), ambient)
        volts = self.highest_v(groups.node_of(self.state, owner))
        return f"no fuse of the tables carries its load, {least:.0f} A or more for {volts:.1f} V"

    def before_branch(
        self, group: Group, wire: Candidate, guard: Device | None, upstream: list[Segment]
    ) -> Device | None:
        """The inline fuse of a branch whose size will not do for another reason than its fuse.

        What the plan puts there, whether it serves or not; else, where the shared fuse does not
        guard this wire, the smallest that does, or that is at least not over the wire.
        """
        slot = group.inline
        if slot is None:
            return None
        found = self.options(group.owner, slot)
        if slot.spec is not None and not slot.spec.none:
            return found[0] if found else None
        for clears in (True, False):
            if guard is None or groups.unguarded(
                self.state, group, wire, None, guard, upstream, clears
            ) is None:
                return None
            for own in found:
                if groups.unguarded(self.state, group, wire, own, own, upstream, clears) is None:
                    return own
        return None

    def highest_v(self, node: Node) -> float:
        """Highest volts at a node [V]."""
        return faults.highest_v(self.state, node)

    def as_before(self, owner: CircuitDraft | Node, segments: list[Segment]) -> bool:
        """Whether nothing that an owner's choice hangs on has changed since it was last made."""
        name = owner.key if isinstance(owner, CircuitDraft) else owner.name
        key = f"{type(owner).__name__} {name}"
        above = [
            self.state.wire[s.key].conductor.label
            for n in groups.node_of(self.state, owner).chain() for s in n.feeder
            if s.key in self.state.wire
        ]
        loads = owner.loads if isinstance(owner, CircuitDraft) else ()
        seen = (
            tuple(self.state.around(s) for s in segments), tuple(above),
            tuple(self.state.before.get(i) for i in loads),
        )
        same = self._seen.get(key) == seen
        self._seen[key] = seen
        return same
