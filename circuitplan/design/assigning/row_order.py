"""Where in the row of switches each item is at home."""

from __future__ import annotations

from collections.abc import Collection

from circuitplan.design.assigning.task import Task

PLAIN, SHARED = 10, 30
"""In tenths of a place: a switch for what may do without one; a switch that works one thing more
(judgement)."""


def distances(task: Task, switched: Collection[int]) -> dict[tuple[int, int], int]:
    """How far each item is from its home on each switch [tenths of a place], by its weight.

    ``switched``: the items that may have a switch. Keys are (item, switch) by their numbers.
    Homes lie in order of family, place and name, evenly along the row: kin sit side by side, and
    where switches must be shared, neighbours share.
    """
    row = sorted(range(len(task.switches)), key=lambda s: (task.switches[s].reach,
                                                           task.switches[s].name))
    seat = {s: 10 * place for place, s in enumerate(row)}
    kin = sorted(switched, key=lambda i: (
        -task.items[i].weight, task.items[i].family, task.items[i].place, task.items[i].name
    ))  # fmt: skip
    step = 10 * max(len(row) - 1, 0) / max(len(kin) - 1, 1)
    home = {i: round(place * step) for place, i in enumerate(kin)}
    return {
        (i, s): task.items[i].weight * abs(seat[s] - home[i]) for i in kin for s in seat
    }
