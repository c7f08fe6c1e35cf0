"""A larger fuse with the thicker wire that it needs, where the plan gives both too small."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from circuitplan.design.draft import Slot
from circuitplan.design.protection.protect import Device
from circuitplan.design.protection.trials import Judge, Trial
from circuitplan.design.wire import candidates
from circuitplan.model.result import Cure

EFFORT = 6.0
"""A fuse and a wire (judgement, as in ``cures``)."""


def with_wire(
    rule: str, judge: Judge, base: frozenset[tuple[str, str]], slot: Slot,
    devices: Iterable[Device], found: list[Cure],
) -> Iterator[Cure]:
    """The thinnest wire for the first of ``devices`` with which all of it holds: for F02, where
    none of the cures ``found`` mends that."""
    picture = judge.picture
    mended = {(cure.rule, cure.fuse) for cure in found}
    if (rule, picture.numbers.fuse.get(slot.key, "")) in mended:
        return
    parts = picture.parts()
    now = picture.state.fuse.get(slot.key)
    first = parts[0].segments[0]
    if rule != "F02" or len(parts) != 1 or not first.spec.given or now is None:
        return
    present = picture.state.wire[first.key].conductor
    free = replace(first, spec=replace(first.spec, size=None, unknown=False, outer_mm=None))
    thicker = [w for w in candidates(free) if w.conductor.area_mm2 > present.area_mm2]
    for device in sorted(devices, key=lambda d: d.type != now.type):  # its own holder first
        for wire in thicker:
            wires = {**picture.state.wire, **{s.key: wire for s in parts[0].segments}}
            fuses = {**picture.state.fuse, slot.key: device}
            left = judge.problems(Trial(replace(picture.state, wire=wires, fuse=fuses), parts))
            mine = {r for r, key in left if key in (slot.key, parts[0].key)}
            if left <= base and not mine & {"F02", "F03", "F04", "F09", "fuse", "fault"}:
                what = f"{device.rating_a:g} A of type {device.type}".replace("type class", "class")
                yield Cure(
                    rule, picture.numbers.fuse.get(slot.key, ""), "fuse and wire",
                    f"Fit {what} and {wire.conductor.label} in place of {present.label}: tried "
                    "together, it carries the load and opens in time.", None, EFFORT,
                )
                return
