"""The least copper of a sized plan, checked by the sizing's own rules until nothing is broken.

The program knows drop, and of each wire its own heat, strength and fuse. What hangs on the others
besides (a far-end short, the warmth of a loom) is looked at with the sizes chosen: a short that is
not cleared becomes one more limit, a wire that its loom now makes too warm takes the next size,
and the program is solved again. Limits are only added, so that ends.
"""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass, replace

from circuitplan.design import groups
from circuitplan.design.copper import gather
from circuitplan.design.copper.choose import DEFAULT_LIMIT_S, least_copper
from circuitplan.design.copper.costs import Rate, costs
from circuitplan.design.copper.part import Part, parts_of
from circuitplan.design.copper.shorts import fault_limit
from circuitplan.design.copper.task import Chosen, Limit, Task
from circuitplan.design.state import State

MOST_ROUNDS = 60
SHORT = frozenset({"fault"})


@dataclass(frozen=True, slots=True)
class Settled:
    """``before`` and ``bound`` as ``chosen``, ``per_unit`` of them to the kilogram or the
    currency's unit. ``bound``: with every load at its best volts no sizes cost less; None where the
    time was too short to say. ``raised``: numbers of the wires made thicker than the program had
    them, for the warmth of a loom."""

    parts: tuple[Part, ...]
    chosen: Chosen
    before: int
    bound: int | None
    raised: frozenset[int]
    per_unit: float


def settle(
    state: State, time_limit_s: float = DEFAULT_LIMIT_S, rate: Rate | None = None
) -> Settled | None:
    """Choose all sizes of a sized state together and leave them in it; None where none hold.

    ``rate``: the price of a metre; the sum of these is made least, not the copper. Fuses stay as
    they are. Raises TimeoutError when no choice is found in the time.
    """
    parts = parts_of(state, all_said=rate is not None)
    found = costs(state, parts, rate)
    task, loose = gather.gather(state, parts, found)
    now = [part.sizes.index(state.wire[part.group.segments[0].key]) for part in parts]
    before = sum(wire.cost[i] for wire, i in zip(task.wires, now, strict=True))
    added: dict[int, Limit] = {}
    raised: set[int] = set()
    for _ in range(MOST_ROUNDS):
        held = Task(task.wires, (*task.limits, *added.values()))
        chosen = least_copper(held, time_limit_s)
        if chosen is None:
            return None
        _apply(state, parts, chosen)
        warm, shorts = _broken(state, parts, chosen)
        news = {n: limit for n in shorts if n not in added
                and (limit := fault_limit(state, parts, n)) is not None}
        warm |= {n for n in shorts if n not in news}
        if not warm and not news:
            loosest = Task(task.wires, (*loose.limits, *added.values()))
            lowest: int | None = None
            with suppress(TimeoutError):
                bound = least_copper(loosest, time_limit_s, tidy=False)
                lowest = None if bound is None else bound.bound
            return Settled(
                tuple(parts), chosen, before, lowest, frozenset(raised), found.per_unit
            )
        if news:  # first these: thicker wires also load their looms less
            added |= news
            continue
        warm = _one_a_loom(parts, task, chosen, warm)
        raised |= warm
        task = replace(task, wires=tuple(
            replace(wire, least=chosen.sizes[n] + 1) if n in warm else wire
            for n, wire in enumerate(task.wires)
        ))
    return None


def _apply(state: State, parts: list[Part], chosen: Chosen) -> None:
    for part, index in zip(parts, chosen.sizes, strict=True):
        for segment in part.group.segments:
            state.wire[segment.key] = part.sizes[index]
    state.load_looms()


def _one_a_loom(parts: list[Part], task: Task, chosen: Chosen, warm: set[int]) -> set[int]:
    """Of each loom the wire whose next size costs least: that cools its neighbours too."""

    def step(n: int) -> tuple[int, int]:
        cost, index = task.wires[n].cost, chosen.sizes[n]
        return (cost[index + 1] - cost[index] if index + 1 < len(cost) else 0), n

    taken: set[str] = set()
    found: set[int] = set()
    for n in sorted(warm, key=step):
        looms = {loom for s in parts[n].group.segments for loom in s.bundles()}
        if not looms & taken:
            found.add(n)
            taken |= looms
    return found


def _broken(state: State, parts: list[Part], chosen: Chosen) -> tuple[set[int], set[int]]:
    """(wires that are too warm or thin for their fuse, wires whose far-end short is not cleared).

    What the plan fixes is left to ``check``.
    """
    warm: set[int] = set()
    shorts: set[int] = set()
    for n, (part, index) in enumerate(zip(parts, chosen.sizes, strict=True)):
        if part.fixed:
            continue
        found = groups.broken(
            state, part.group, part.sizes[index], part.device, part.guard, part.before, SHORT
        )
        if found is not None:
            (shorts if found.by == "fault" else warm).add(n)
    return warm, shorts
