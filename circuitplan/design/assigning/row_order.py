"""Where in the row of switches each item is at home."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Collection

from circuitplan.design.assigning.task import Task

PLAIN, SHARED = 1, 10
"""In places: a switch for what may do without one; a switch that works one thing more (judgement).
"""


def kin(task: Task, item: int) -> tuple[int, str, str]:
    """What belongs side by side: of one weight, family and place."""
    one = task.items[item]
    return -one.weight, one.family, one.place


def distances(task: Task, switched: Collection[int]) -> dict[tuple[int, int], int]:
    """How many places each item is from its home on each switch, by its weight.

    ``switched``: the items that may have a switch. Keys are (item, switch) by their numbers. Kin
    have one stretch of the row as their home, as long as they are many; stretches follow each
    other, so that where switches are shared, kin share.
    """
    row = sorted(range(len(task.switches)), key=lambda s: (task.switches[s].reach,
                                                           task.switches[s].name))
    seat = {s: place for place, s in enumerate(row)}
    ordered = sorted(switched, key=lambda i: (*kin(task, i), task.items[i].name))
    step = max(len(row) - 1, 0) / max(len(ordered) - 1, 1)
    homes: dict[tuple[int, str, str], list[float]] = defaultdict(list)
    for place, i in enumerate(ordered):
        homes[kin(task, i)].append(round(place * step, 6))  # a whole place is whole
    return {
        (i, s): task.items[i].weight * max(
            0, math.floor(homes[kin(task, i)][0]) - here, here - math.ceil(homes[kin(task, i)][-1])
        )
        for i in ordered for s, here in seat.items()
    }
