"""The way of the trade where no fuse bears a short-time machine: none, and an isolator in reach.

It is a cure of the fuse alone: what is left open (F05) is for a person to accept by name. It is
named only where it was tried: without the fuse nothing of the circuit fails that held before.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from circuitplan.design.draft import CircuitDraft, Slot
from circuitplan.design.protection.coordination import Picture
from circuitplan.design.protection.trials import Judge, Trial
from circuitplan.model.result import Cure

EFFORT = 20.0
"""Money and work as other cures count them; dearer than any fuse that would do (judgement)."""
STEP_A = 100.0
"""Isolators are proposed in steps of this size above the peak (common practice)."""


def isolator(
    rule: str, picture: Picture, judge: Judge, base: frozenset[tuple[str, str]], slot: Slot
) -> Iterator[Cure]:
    """An isolator in place of the first fuse of a lone machine with a contactor of its own.

    Nothing for all else: behind another fuse, for several loads, or for what runs for long, a fuse
    that is left out is no way of the trade.
    """
    state, loads = picture.state, [picture.state.wiring.loads[i] for i in slot.loads]
    if rule != "F09" or len(loads) != 1 or not slot.first or slot is not picture.owner.slot:
        return
    load, fuse = loads[0], state.fuse.get(slot.key)
    alone = isinstance(picture.owner, CircuitDraft) and load.own_contactor and not load.continuous
    if not alone or fuse is None or fuse.type == "output":
        return
    without = Trial(replace(state, fuse={**state.fuse, slot.key: None}), picture.parts())
    left = judge.problems(without)
    if (rule, slot.key) in left or not left <= base:
        return
    peak_a = max(load.peak_a or 0.0, load.rated_a)
    rating_a = load.accessory.isolator_a or math.ceil(peak_a / STEP_A - 1e-9) * STEP_A
    name = load.name
    yield Cure(
        rule, picture.numbers.fuse.get(slot.key, ""), "isolator",
        f"Leave {name} without a fuse, as the trade does for such machines: fuse: none, isolator: "
        f"{rating_a:g} A, within reach by the battery and open when not in use, the cable short, "
        f"sleeved and clamped. Tried: its start then blows nothing, and no more than F05 is left. "
        "That one a person must accept by name, since a chafed cable then has nothing that opens "
        f"it: accepted: [{{rule: F05, subject: {name}, by: NAME, reason: isolator in reach, cable "
        "sleeved and clamped}] (circuitplan explain F05).",
        None, EFFORT,
    )  # fmt: skip
