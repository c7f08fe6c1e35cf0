"""Choosing sizes and fuses together: the least copper whose fuse carries the load and guards it.

Feeders come first, then each circuit with what drop is left. Looms are loaded with the sizes as
they stand and everything is looked at again; sizes only grow, so the loop ends.
"""

from __future__ import annotations

from collections.abc import Sequence

from circuitplan.design import groups
from circuitplan.design.draft import CircuitDraft, Node, Segment, Slot
from circuitplan.design.groups import Broken, Group
from circuitplan.design.protection.protect import Device, ambient_share
from circuitplan.design.slots import Slots
from circuitplan.design.state import State
from circuitplan.design.ways import Ways
from circuitplan.design.wire import Candidate, candidates
from circuitplan.model.record import record

MOST_ROUNDS = 20
NO_HOLDER = 100.0
"""Weight against a fuse whose holder is too small for the wire: any other comes first."""

CLEARING = (groups.EVERYTHING, frozenset({"fault"}))
"""What is kept, in turn: everything; all but the drop."""
GUARDING = (frozenset({"drop"}), frozenset[str]())
"""Where no fuse clears a far-end short: the drop; nothing but that no fuse is over its wire."""


@record
class Choice:
    """Sizes of a circuit's groups with one fuse; ``whole`` is False where something fails."""

    device: Device | None
    sizes: tuple[tuple[int, Broken | None], ...]
    inline: tuple[Device | None, ...]
    cost: float
    whole: bool


class Sizer(Slots):
    """Fills a state with wires and fuses."""

    def __init__(self, state: State, ways: Ways) -> None:
        super().__init__(state, ways)
        self.floor: dict[str, int] = {}

    def run(self) -> None:
        """Size everything; afterwards the state's wires and fuses are complete."""
        self.state.count_looms()
        for _ in range(MOST_ROUNDS):
            before = dict(self.floor)
            for node in sorted(self.state.wiring.nodes.values(), key=lambda n: (n.depth, n.name)):
                if node.panel is not None:
                    self._feeder(node)
            for circuit in self.state.wiring.circuits:
                self._circuit(circuit)
            self.state.load_looms()
            if self.floor == before:
                break

    # --- one owner -------------------------------------------------------------------------

    def _feeder(self, node: Node) -> None:
        if self.as_before(node, node.feeder):
            return
        self._choose([Group(f"feeder {node.name}", node, list(node.feeder), None)], node.slot, node)

    def _circuit(self, circuit: CircuitDraft) -> None:
        for index in circuit.loads:
            self.state.before[index] = groups.upstream_drop(self.state, circuit, index)
        if not self.as_before(circuit, circuit.segments):
            self._choose(groups.of_circuit(circuit), circuit.slot, circuit)

    def _choose(
        self, found: list[Group], slot: Slot | None, owner: CircuitDraft | Node
    ) -> None:
        state = self.state
        unfused = slot is None or (slot.spec is not None and slot.spec.none)
        options: list[Device | None] = [None]
        if slot is not None and not unfused:
            options = list(self.options(owner, slot)) or [None]
        best = self._best(found, options, CLEARING)
        if best is None and slot is not None and options[0] is not None:
            # A fuse that its load's start may blow (said by F09) before one that guards less.
            best = self._best(found, self.carrying(owner, slot)[::-1], CLEARING)
        best = best or self._best(found, options, GUARDING) or self._salvage(found, options[0])
        if slot is not None:
            state.fuse[slot.key] = best.device
        for group, (index, why), inline in zip(found, best.sizes, best.inline, strict=True):
            self._settle(group, index, why)
            if group.inline is not None:
                state.fuse[group.inline.key] = inline
        if isinstance(owner, CircuitDraft):
            self._other_ends(owner)

    def _best(
        self, found: list[Group], options: Sequence[Device | None], heeded: Sequence[frozenset[str]]
    ) -> Choice | None:
        """Least copper with a fuse that guards it, the first of equals; None where there is none.

        What is not heeded is left to be reported: a drop that no size keeps, a far-end short that
        no fuse clears. A fuse above what its wires carry is never the best.
        """
        best: Choice | None = None
        for heed in heeded:
            base = self._attempt(found, options[0], None, heed)
            if not base.whole:
                continue
            for device in options:
                if device is None:
                    break
                choice = self._attempt(found, device, device, heed)
                if choice.whole and (best is None or choice.cost < best.cost * (1 - 1e-9)):
                    best = choice
                    if choice.cost <= base.cost * (1 + 1e-9):
                        break
            if best is not None:
                return best
            if options[0] is None and base.whole:
                return base
        return None

    def _salvage(self, found: list[Group], device: Device | None) -> Choice:
        """Where no choice holds for all: each group keeps what it can by itself.

        What is fixed and will not do is left to be reported; it is no reason to leave the others
        thin or unguarded.
        """
        sizes: list[tuple[int, Broken | None]] = []
        inline: list[Device | None] = []
        upstream: list[Segment] = []
        for group in found:
            first = device if not upstream else None
            index, why, own = self._as_it_can(group, first, device, upstream)
            sizes.append((index, why))
            inline.append(own)
            if group.segments[0].kind == "trunk":
                upstream = group.segments
                for segment in upstream:
                    self.state.wire[segment.key] = candidates(segment)[index]
                slot = group.owner.slot
                if slot is not None:
                    self.state.fuse[slot.key] = device
        return Choice(device, tuple(sizes), tuple(inline), 0.0, False)

    def _as_it_can(
        self, group: Group, first: Device | None, guard: Device | None, upstream: list[Segment]
    ) -> tuple[int, Broken | None, Device | None]:
        for heed in CLEARING + GUARDING:
            index, why, fits = self._least(group, first, guard, upstream, heed)
            own: Device | None = None
            if group.inline is not None and guard is not None:
                index, why, fits, own = self._maybe_inline(
                    group, (index, why, fits), upstream, heed
                )
            if fits:
                return index, why, own
        index, why, _ = self._least(group, first, None, upstream, GUARDING[-1])
        wire = candidates(group.segments[0])[index]
        return index, why, self.before_branch(group, wire, guard, upstream)

    def _other_ends(self, circuit: CircuitDraft) -> None:
        """A link between two sources has a second fuse of the same rating at its other end."""
        for slot in circuit.inline:
            if not slot.optional and circuit.slot is not None:
                self.state.fuse[slot.key] = self.state.fuse.get(circuit.slot.key)

    def _settle(self, group: Group, index: int, why: Broken | None) -> None:
        state = self.state
        for segment in group.segments:
            sizes = candidates(segment)
            wire = sizes[min(index, len(sizes) - 1)]
            state.wire[segment.key] = wire
            if segment.spec.given:
                state.limited[segment.key] = "fixed"
                state.smaller.pop(segment.key, None)
            elif why is not None:
                state.limited[segment.key] = why.by
                state.smaller[segment.key] = why.words
            else:
                state.limited[segment.key] = "minimum"
        if not group.segments[0].spec.given:
            self.floor[group.key] = max(index, self.floor.get(group.key, 0))

    # --- one fuse ---------------------------------------------------------------------------

    def _attempt(
        self, found: list[Group], device: Device | None, guard: Device | None, heed: frozenset[str]
    ) -> Choice:
        """Least sizes of all groups with one fuse; ``guard`` None asks for the load alone."""
        sizes: list[tuple[int, Broken | None]] = []
        inline: list[Device | None] = []
        upstream: list[Segment] = []
        cost, whole = 0.0, True
        for group in found:
            first = device if not upstream else None
            index, why, fits = self._least(group, first, guard, upstream, heed)
            own: Device | None = None
            if group.inline is not None and guard is not None:
                index, why, fits, own = self._maybe_inline(
                    group, (index, why, fits), upstream, heed
                )
            sizes.append((index, why))
            inline.append(own)
            whole = whole and fits
            wire = candidates(group.segments[0])[index]
            cost += group.copper * wire.conductor.area_mm2
            if first is not None and not _holds(first, wire):
                cost *= NO_HOLDER
            if group.segments[0].kind == "trunk":
                upstream = group.segments
                for segment in upstream:
                    self.state.wire[segment.key] = candidates(segment)[index]
                slot = group.owner.slot
                if slot is not None:
                    self.state.fuse[slot.key] = device
        return Choice(device, tuple(sizes), tuple(inline), cost, whole)

    def _least(
        self, group: Group, device: Device | None, guard: Device | None,
        upstream: list[Segment], heed: frozenset[str],
    ) -> tuple[int, Broken | None, bool]:
        """(index of the least size that does, why the next smaller does not, whether it does)."""
        sizes: tuple[Candidate, ...] = candidates(group.segments[0])
        start = min(self.floor.get(group.key, 0), len(sizes) - 1)

        def at(index: int) -> Broken | None:
            return self._broken(group, sizes[index], device, guard, upstream, heed)

        # Whatever a size breaks, thinner ones break too: more copper is cooler, drops less, and
        # is guarded by the same fuse, so halving finds the least.
        failed = at(start)
        if failed is None:
            return start, at(start - 1) if start > 0 else None, True
        low, high = start, len(sizes)  # low fails; high holds, if there is one
        while high - low > 1:
            middle = (low + high) // 2
            here = at(middle)
            if here is None:
                high = middle
            else:
                low, failed = middle, here
        if high == len(sizes):
            return len(sizes) - 1, failed, False
        return high, failed, True

    def _broken(
        self, group: Group, wire: Candidate, device: Device | None, guard: Device | None,
        upstream: list[Segment], heed: frozenset[str],
    ) -> Broken | None:
        return groups.broken(self.state, group, wire, device, guard, upstream, heed)

    def _maybe_inline(
        self, group: Group, shared: tuple[int, Broken | None, bool], upstream: list[Segment],
        heed: frozenset[str],
    ) -> tuple[int, Broken | None, bool, Device | None]:
        """Give a branch a fuse of its own where the plan does, or where it saves copper."""
        slot = group.inline
        assert slot is not None
        wanted = slot.spec is not None and not slot.spec.none
        alone, _, _ = self._least(group, None, None, upstream, heed)
        if not wanted and shared[2] and alone == shared[0]:
            return (*shared, None)
        best: tuple[int, Broken | None, bool, Device | None] | None = (
            None if wanted else (*shared, None)
        )
        options = self.options(group.owner, slot)
        for own in options:
            index, why, fits = self._least(group, own, own, upstream, heed)
            if fits and (best is None or not best[2] or index < best[0]):
                best = (index, why, fits, own)
                if index == alone:
                    break
        if best is None:
            return shared[0], shared[1], False, options[0] if options else None
        return best


def _holds(device: Device, wire: Candidate) -> bool:
    most = device.family.holder_max_mm2
    return most is None or wire.conductor.area_mm2 <= most * (1 + 1e-9)


def usable(device: Device, current_a: float = 0.0, least_a: float = 0.0) -> float:
    """Current that a fuse carries for good where it sits [A], what it has not yet counted as
    continuous. ``least_a``: the rating that ``current_a`` asks for, its short-time loads in full.
    """
    return current_a + 0.8 * ambient_share(device.ambient_c) * (device.rating_a - least_a)
