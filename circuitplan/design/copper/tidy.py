"""Among choices of one least cost one of few different sizes: fewer reels to buy.

A size is needed where leaving it out of all wires costs more. To these as few others are added as
will do, the fewest first. How far is looked is counted in trials, not in time, so that the same
task gives the same sizes on every machine.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

from circuitplan.design.copper.eliminate import eliminate
from circuitplan.design.copper.task import Task

Sizes = tuple[int, ...]

MOST_WIRES = 400
"""In more than these the search would take longer than the choice itself."""
MOST_TRIALS = 150


class Fewest:
    """The search on a task in parts that share no limit, each with a choice of least cost.

    Raises KnottedError where a part is none for ``eliminate``.
    """

    def __init__(self, parts: Sequence[Task], found: Sequence[Sizes]) -> None:
        self.parts = parts
        self.cost = [_cost(part, sizes) for part, sizes in zip(parts, found, strict=True)]
        self.known = [[(_labels(p, s), s)] for p, s in zip(parts, found, strict=True)]
        self.failed: set[tuple[int, frozenset[str]]] = set()

    def sizes(self) -> list[Sizes]:
        """Of each part a choice that costs no more; all together few sizes."""
        first = [mine[0][1] for mine in self.known]
        most = len(frozenset().union(*(mine[0][0] for mine in self.known)))
        every = list(dict.fromkeys(
            wire.sizes[i] for part in self.parts for wire in part.wires for i in wire.allowed
        ))
        if sum(len(part.wires) for part in self.parts) > MOST_WIRES:
            return first
        needed = frozenset(x for x in every if self._within(frozenset(every) - {x}) is None)
        others = [x for x in every if x not in needed]
        trials = 0
        for count in range(most - len(needed)):
            for more in combinations(others, count):
                trials += 1
                if trials > MOST_TRIALS:
                    return first
                found = self._within(needed | frozenset(more))
                if found is not None:
                    return found
        return first

    def _within(self, allowed: frozenset[str]) -> list[Sizes] | None:
        """A choice of least cost of these sizes alone; None where there is none."""
        found = []
        for p, part in enumerate(self.parts):
            sizes = next((s for labels, s in self.known[p] if labels <= allowed), None)
            if sizes is None:
                sizes = self._search(p, part, allowed)
            if sizes is None:
                return None
            found.append(sizes)
        return found

    def _search(self, p: int, part: Task, allowed: frozenset[str]) -> Sizes | None:
        if (p, allowed) in self.failed:
            return None
        wires = tuple(
            replace(w, barred=w.barred | {i for i, x in enumerate(w.sizes) if x not in allowed})
            for w in part.wires
        )
        chosen = eliminate(Task(wires, part.limits))
        if chosen is None or chosen.cost > self.cost[p]:
            self.failed.add((p, allowed))
            return None
        self.known[p].append((_labels(part, chosen.sizes), chosen.sizes))
        return chosen.sizes


def _labels(task: Task, sizes: Sizes) -> frozenset[str]:
    return frozenset(w.sizes[i] for w, i in zip(task.wires, sizes, strict=True))


def _cost(task: Task, sizes: Sizes) -> int:
    return sum(w.cost[i] for w, i in zip(task.wires, sizes, strict=True))
