"""What to leave out, and in which order, so that the rest is carried with the least loss.

Priority 1 is kept longest; critical accessories, priority 1 and the vehicle's own load are never
left out. Charging of another battery waits before any accessory does.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations

from circuitplan.model.record import record

KEPT = 1
NO_PRIORITY = 9.5
"""An accessory without a priority goes before any that has one."""
CHARGING = 10.0
MOST_TRIED = 12
"""Up to so many loads of one priority every combination is tried; above, the fewest are taken."""


@record
class Sheddable:
    """``rank``: priority, higher goes first; ``current_a`` is what leaving it out saves."""

    name: str
    rank: float
    current_a: float


def order(loads: Sequence[Sheddable], short_a: float) -> tuple[tuple[Sheddable, ...], bool]:
    """(what to leave out, first to last; whether that is enough) to save ``short_a``.

    Least loss in the sense of the priorities: as little as can be of the best priority touched,
    then of the next, and so on. Within one priority the least current, then the fewest loads, then
    the order of names. Not enough: everything that may be left out.
    """
    if short_a <= 0.0:
        return (), True
    ranks = sorted({load.rank for load in loads if load.rank > KEPT})
    groups = {
        rank: sorted((x for x in loads if x.rank == rank), key=lambda x: (-x.current_a, x.name))
        for rank in ranks
    }
    if _sum(x for g in groups.values() for x in g) < short_a * (1.0 - 1e-12):
        return _in_order(x for g in groups.values() for x in g), False
    chosen: list[Sheddable] = []
    left_a = short_a
    for rank in ranks:  # from the best priority down: as little of it as the worse ones allow
        worse_a = _sum(x for r in ranks if r > rank for x in groups[r])
        taken = _least(groups[rank], left_a - worse_a)
        chosen += taken
        left_a -= _sum(taken)
    return _in_order(chosen), True


def _least(group: Sequence[Sheddable], wanted_a: float) -> Sequence[Sheddable]:
    """Members with the least current that saves at least ``wanted_a``."""
    if wanted_a <= 1e-12:
        return ()
    if len(group) > MOST_TRIED:
        return _largest_first(group, wanted_a)
    best: Sequence[Sheddable] | None = None
    for count in range(1, len(group) + 1):
        for trial in combinations(group, count):
            saved = _sum(trial)
            if saved >= wanted_a * (1.0 - 1e-12) and (
                best is None or saved < _sum(best) * (1.0 - 1e-12)
            ):
                best = trial
    return best if best is not None else group


def _largest_first(group: Sequence[Sheddable], wanted_a: float) -> Sequence[Sheddable]:
    found: list[Sheddable] = []
    for one in group:
        if _sum(found) >= wanted_a:
            break
        found.append(one)
    return found


def _sum(loads: Iterable[Sheddable]) -> float:
    return sum(x.current_a for x in loads)


def _in_order(loads: Iterable[Sheddable]) -> tuple[Sheddable, ...]:
    return tuple(sorted(loads, key=lambda x: (-x.rank, -x.current_a, x.name)))
