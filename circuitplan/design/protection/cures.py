"""Cures of what a fuse fails at, each found by trying it on the finished state.

A cure is named only if the sizing's own checks (what a size breaks, the start, the breaking
capacity) pass with it and nothing else fails that held before. ``effort`` orders the cures: one
for a blade fuse in a holder that is there (judgement).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from circuitplan.design import groups
from circuitplan.design.draft import Slot
from circuitplan.design.groups import Group
from circuitplan.design.protection import change_names as naming
from circuitplan.design.protection import protect
from circuitplan.design.protection.coordination import Picture
from circuitplan.design.protection.larger import with_wire
from circuitplan.design.protection.protect import SLACK, Device
from circuitplan.design.protection.trials import Judge, Trial
from circuitplan.design.protection.unfused import isolator
from circuitplan.design.sizing import Sizer
from circuitplan.design.slots import Currents
from circuitplan.design.state import State
from circuitplan.design.wire import candidates
from circuitplan.model.result import Cure
from circuitplan.physics.copper import KG_PER_M_MM2

FUSE_EFFORT = {
    "C": 1.0, "F": 1.0, "E": 2.0, "bolt-in": 4.0, "SF30": 4.0, "SF51": 5.0, "class T": 8.0,
}
OTHER_HOLDER, WIRE_EFFORT, PER_KG = 2.0, 3.0, 5.0
INLINE_EFFORT, SOFT_START_EFFORT, SHORTER_EFFORT, PARTLY = 3.0, 10.0, 15.0, 50.0
LEAST_SHARE = 0.3  # a way that would have to shrink further than this is no cure (judgement)
JUDGED = ("F02", "F03", "F04", "F09")


class Doctor:
    """Finds the cures of one owner (circuit or panel feeder)."""

    def __init__(self, picture: Picture, sizer: Sizer) -> None:
        self.picture, self.sizer = picture, sizer
        self.owner = picture.owner
        self.parts = picture.parts()
        self.loads = picture.state.wiring.loads
        self.judge = Judge(picture, sizer)
        self.base = self.judge.problems(Trial(picture.state, self.parts))
        self.left = self.base  # what still failed in the last trial

    def cures(self) -> tuple[Cure, ...]:
        """Every cure of every failed rule, cheapest first; empty if nothing tried mends it."""
        found: list[Cure] = []
        for rule in sorted({r for r, _ in self.base} & set(JUDGED)):
            for slot in self._failing(rule):
                for make in (self._fuses, self._wires, self._inline, self._shorter, self._soft):
                    found += [self._honest(cure) for cure in make(rule, slot)]
                found += isolator(rule, self.picture, self.judge, self.base, slot)
                found += with_wire(rule, self.judge, self.base, slot, self._devices(slot), found)
        best: dict[tuple[str, str, str], Cure] = {}
        for cure in sorted(found, key=lambda c: (c.rule, c.effort, c.words)):
            best.setdefault((cure.rule, cure.fuse, cure.sort), cure)
        return tuple(best.values())

    def _honest(self, cure: Cure) -> Cure:
        """A cure that leaves the rule broken at another fuse of the same circuit says so."""
        if all(rule != cure.rule for rule, _ in self.left):
            return cure
        words = f"{cure.words} Another fuse of this circuit fails too and needs a cure of its own."
        return replace(cure, words=words, change=None, effort=cure.effort + PARTLY)

    def _passes(self, rule: str, slot: Slot, trial: Trial) -> bool:
        """Mended, nothing else broken, and no new fuse before a wire that is too thin for it."""
        now = self.left = self.judge.problems(trial)
        was, tried = self.picture.state.fuse.get(slot.key), trial.state.fuse.get(slot.key)
        thin = any(
            reason == "fuse" and (tried != was or key in trial.own) for reason, key in now
        )
        slow = rule == "F02" and ("F03", slot.key) in now  # no larger fuse on a far short
        return (rule, slot.key) not in now and now <= self.base and not thin and not slow

    def _failing(self, rule: str) -> list[Slot]:
        keys = {key for r, key in self.base if r == rule}
        slots = [s for g in self.parts for s in (g.inline, self.owner.slot) if s is not None]
        return [s for s in {s.key: s for s in slots}.values() if s.key in keys]

    def _with(self) -> State:
        """A copy whose wires and fuses may be changed."""
        state = self.picture.state
        return replace(state, wire={**state.wire}, fuse={**state.fuse})

    def _devices(self, slot: Slot) -> Iterator[Device]:
        """Smallest first, family by family."""
        currents = self.picture.currents(slot)
        ambient, _ = self.sizer.ways.ambient(slot.place)
        high_v = self.sizer.highest_v(groups.node_of(self.picture.state, self.owner))
        least = protect.least_rating(currents, ambient)
        steady = sum(a for load, a in currents if load is None or load.continuous)
        for type_ in FUSE_EFFORT:
            family = protect.Device(type_, 1.0, ambient).family
            if family.max_continuous_a is not None and steady > family.max_continuous_a:
                continue
            yield from protect.devices(
                least, ambient, family=None, rating_a=None, type_=type_, highest_v=high_v,
                continuous_a=steady, breaking_a=None,
            )

    def _fuses(self, rule: str, slot: Slot) -> Iterator[Cure]:
        """Another rating or family; wires that the plan does not fix may grow with it."""
        now = self.picture.state.fuse.get(slot.key)
        if now is not None and now.type == "output":
            return  # the vehicle's own: not for the shop to change
        done: set[str] = set()
        for device in self._devices(slot):
            same = now is not None and (device.type, device.rating_a) == (now.type, now.rating_a)
            if device.type in done or same:
                continue
            state = self._with()
            state.fuse[slot.key] = device
            grown_kg = 0.0
            if not self._passes(rule, slot, Trial(state, self.parts)):
                grown_kg = self._grow(state, slot, device)
                if not grown_kg or not self._passes(rule, slot, Trial(state, self.parts)):
                    continue
            done.add(device.type)
            effort = FUSE_EFFORT[device.type] + (WIRE_EFFORT + PER_KG * grown_kg) * (grown_kg > 0)
            if now is None or device.type != now.type:
                effort += OTHER_HOLDER
            what = f"{device.rating_a:g} A of type {device.type}".replace("type class", "class")
            also = ", with the thicker wire it needs" if grown_kg else ""
            thing = naming.whose_fuse(self.owner, slot, self.loads)
            yield Cure(
                rule, self.picture.numbers.fuse.get(slot.key, ""), "fuse",
                f"Fit {what} in its place{also}: tried, it carries the load, lets the start pass "
                "and opens in time.",
                None if thing is None else f"{thing} fuse {device.rating_a:g} A {device.type}",
                effort,
            )

    def _grow(self, state: State, slot: Slot, device: Device) -> float:
        """Thicken the wires that are free until the fuse guards them; copper added [kg]."""
        added = 0.0
        guarded = {segment.key for segment in slot.segments}
        for group in self.parts:
            first = group.segments[0]
            if first.spec.given or first.key not in guarded or len(self.parts) > 1:
                continue
            area = state.wire[first.key].conductor.area_mm2
            for wire in candidates(first):
                if wire.conductor.area_mm2 <= area:
                    continue
                if groups.broken(state, group, wire, device, device, []) is None:
                    state.wire.update({s.key: wire for s in group.segments})
                    more = wire.conductor.area_mm2 - area
                    added += group.copper * more * KG_PER_M_MM2
                    break
        return added

    def _wires(self, rule: str, slot: Slot) -> Iterator[Cure]:
        """Thicker wire where the plan fixes a size; the sizing has tried every other."""
        for group in self.parts:
            if not group.segments[0].spec.given or rule == "F04":
                continue
            free = replace(
                group.segments[0],
                spec=replace(group.segments[0].spec, size=None, unknown=False, outer_mm=None),
            )
            present = self.picture.state.wire[group.segments[0].key].conductor
            area = present.area_mm2
            larger = [c for c in candidates(free) if c.conductor.area_mm2 > area]
            now = self.picture.state.fuse.get(slot.key)
            options = [now, *self.sizer.options(self.owner, slot)]
            for wire in larger:
                found = None
                for device in options:
                    state = self._with()
                    state.wire.update({s.key: wire for s in group.segments})
                    state.fuse[slot.key] = device
                    # With another fuse than now all must hold, or the sizing would not take it.
                    if self._passes(rule, slot, Trial(state, self.parts)) and (
                        device == now or not self.left
                    ):
                        found = device
                        break
                if found is None:
                    continue
                kg = group.copper * wire.conductor.area_mm2 * KG_PER_M_MM2
                label = wire.conductor.label
                also = "" if found == now else f" with a fuse of {found.rating_a:g} A {found.type}"
                thing = naming.whose_wire(self.owner, group, self.loads)
                yield Cure(
                    rule, self.picture.numbers.fuse.get(slot.key, ""), "wire",
                    f"Use {label} in place of {present.label} for "
                    f"{self.picture.numbers.run[group.segments[0].key]}{also}: tried, it holds.",
                    None if thing is None
                    else f"{thing} size {label.replace('²', '2').replace(' class 5', '')}",
                    WIRE_EFFORT + PER_KG * kg,
                )
                break

    def _inline(self, rule: str, slot: Slot) -> Iterator[Cure]:
        """A smaller fuse where a branch of a shared circuit begins."""
        if rule != "F03" or len(self.parts) < 2 or slot is not self.owner.slot:
            return
        for group in self.parts:
            if group.load is None or group.segments[0].kind == "trunk":
                continue
            load = self.picture.state.wiring.loads[group.load]
            mine: Currents = [(one, a) for one, a in self.picture.currents(slot) if one is load]
            at = replace(slot, loads=(group.load,))
            for device in self._devices(at):
                least = protect.least_rating(mine, device.ambient_c)
                if device.rating_a * SLACK < least:
                    continue
                if self._passes(rule, slot, Trial(self._with(), self.parts, {group.key: device})):
                    words = (
                        f"Put an inline fuse of {device.rating_a:g} A {device.type} where the "
                        f"branch to {load.name} begins: tried, it opens in time."
                    )
                    change = f"{load.name} fuse {device.rating_a:g} A {device.type}"
                    yield Cure(
                        rule, self.picture.numbers.fuse.get(slot.key, ""), "inline fuse", words,
                        change if group.inline is not None else None,
                        INLINE_EFFORT + FUSE_EFFORT[device.type],
                    )
                    break

    def _shorter(self, rule: str, slot: Slot) -> Iterator[Cure]:
        """The longest way, to a tenth of a metre, on which it holds."""
        for group in self.parts if rule == "F03" else ():
            if any(s.position for s in group.segments):
                continue  # a motor's wires are as long as they are, both ways
            whole = group.segments[0].route.length_m
            steps = range(int(whole * 10.0 - 1e-9), math.ceil(whole * 10.0 * LEAST_SHARE) - 1, -1)
            if not steps or not self._holds_at(rule, slot, group, steps[-1] / 10.0 / whole):
                continue
            low, high = 0, len(steps) - 1  # steps[high] holds
            while low < high:
                middle = (low + high) // 2
                if self._holds_at(rule, slot, group, steps[middle] / 10.0 / whole):
                    high = middle
                else:
                    low = middle + 1
            length = steps[high] / 10.0
            self._holds_at(rule, slot, group, length / whole)
            thing = naming.whose_wire(self.owner, group, self.loads)
            yield Cure(
                rule, self.picture.numbers.fuse.get(slot.key, ""), "shorter run",
                f"Shorten the way of {self.picture.numbers.run[group.segments[0].key]} from "
                f"{whole:.1f} to {length:g} m: tried, a short at its end then draws enough.",
                None if thing is None else f"{thing} length {length:g} m", SHORTER_EFFORT,
            )

    def _holds_at(self, rule: str, slot: Slot, group: Group, share: float) -> bool:
        first = group.segments[0]
        less_m = first.route.length_m * (1.0 - share)  # tails and earth leads stay
        shrunk = [
            replace(s, route=replace(s.route, length_m=s.route.length_m - less_m))
            if s is first or (s.kind in ("return", "feeder return") and s.pieces == first.pieces)
            else s
            for s in group.segments
        ]
        parts = [replace(group, segments=shrunk) if g is group else g for g in self.parts]
        return self._passes(rule, slot, Trial(self._with(), parts))

    def _soft(self, rule: str, slot: Slot) -> Iterator[Cure]:
        """The largest start, in whole amperes, that the fuse lets pass."""
        if rule != "F09":
            return
        currents = self.picture.currents(slot)
        for place, (load, current_a) in enumerate(currents):
            if load is None or load.inrush_a is None or load.own_contactor or not load.inrush_known:
                continue  # the pull of a winch is its start
            count = load.accessory.quantity
            most, least = int(load.inrush_a / count), math.ceil(current_a / count)
            held: int | None = None
            while least <= most:
                each = (least + most) // 2
                if self._starts_at(rule, slot, place, float(each)):
                    held, least = each, each + 1
                else:
                    most = each - 1
            if held is not None and self._starts_at(rule, slot, place, float(held)):
                yield Cure(
                    rule, self.picture.numbers.fuse.get(slot.key, ""), "soft start",
                    f"Give {load.name} a soft start that holds its start to {held} A each, no "
                    "longer than now: tried, the fuse lets it pass.",
                    f"{load.name} inrush {held} A", SOFT_START_EFFORT,
                )

    def _starts_at(self, rule: str, slot: Slot, place: int, each_a: float) -> bool:
        """Whether it holds with one load's start at so many amperes a piece."""
        currents = self.picture.currents(slot)
        load, current_a = currents[place]
        assert load is not None
        given = replace(load.accessory, inrush_a=each_a)
        tried = replace(load, inrush_a=each_a * load.accessory.quantity, accessory=given)
        changed: Currents = [*currents[:place], (tried, current_a), *currents[place + 1 :]]
        return self._passes(rule, slot, Trial(self._with(), self.parts, {}, changed))
