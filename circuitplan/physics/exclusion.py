"""Loads that interlocks keep apart: the heaviest set that may be on at once.

Loads that exclude each other form groups (connected components of the exclusion graph). Within a
group the maximal sets that may be on together are listed once; across groups sums just add.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

LARGEST_GROUP = 16
"""Groups with more members are taken as if all could be on: the plain sum, on the safe side."""


@dataclass(frozen=True, slots=True)
class Exclusion:
    """``groups``: (members, sets), sets a 0/1 array (sets, members) of maximal allowed sets."""

    groups: tuple[tuple[NDArray[np.intp], Floats], ...]

    @staticmethod
    def of(never_with: Bools) -> Exclusion:
        """Groups of a symmetric (loads, loads) matrix; its diagonal is ignored."""
        apart = np.asarray(never_with, dtype=bool)
        apart = apart | apart.T
        groups = []
        for members in _components(apart):
            if 1 < len(members) <= LARGEST_GROUP:
                rows = np.array(members, dtype=np.intp)
                groups.append((rows, _maximal_sets(apart[np.ix_(rows, rows)])))
        return Exclusion(tuple(groups))

    def worst_sets(self, weights: Floats) -> Floats:
        """For each row of ``weights`` (loads, loads) the heaviest allowed set that holds the
        row's own load, as a 0/1 array of the same shape."""
        chosen = np.ones_like(weights)
        for members, sets in self.groups:
            scores = weights[:, members] @ sets.T
            scores[members] = np.where(sets.T > 0.0, scores[members], -np.inf)
            chosen[:, members] = sets[scores.argmax(axis=1)]
        return chosen


def heaviest_rows(weights: Floats, exclusion: Exclusion | None) -> Floats:
    """Row sums of ``weights`` (loads, loads) over the heaviest allowed set that holds the row."""
    if exclusion is None:
        plain: Floats = weights.sum(axis=1)
        return plain
    sums: Floats = (weights * exclusion.worst_sets(weights)).sum(axis=1)
    return sums


def heaviest_sum(weights: Floats, never_with: Bools | None = None) -> float:
    """Largest sum of non-negative ``weights`` (loads,) over sets that may be on at once.

    For a wire shared by loads: weights are the loads' largest currents through it.
    """
    if never_with is None:
        return float(weights.sum())
    total = float(weights.sum())
    for members, sets in Exclusion.of(never_with).groups:
        part = weights[members]
        total += float((sets @ part).max()) - float(part.sum())
    return total


def _components(apart: Bools) -> list[list[int]]:
    seen: set[int] = set()
    components = []
    for first in range(len(apart)):
        if first in seen:
            continue
        seen.add(first)
        members, waiting = [], [first]
        while waiting:
            node = waiting.pop()
            members.append(node)
            for other in np.flatnonzero(apart[node]).tolist():
                if other not in seen:
                    seen.add(other)
                    waiting.append(other)
        components.append(sorted(members))
    return components


def _maximal_sets(apart: Bools) -> Floats:
    """Maximal independent sets of a small graph, by Bron-Kerbosch on bit masks."""
    count = len(apart)
    everyone = (1 << count) - 1
    compatible = []
    for node in range(count):
        mask = everyone & ~(1 << node)
        for other in range(count):
            if other != node and apart[node, other]:
                mask &= ~(1 << other)
        compatible.append(mask)
    found: list[int] = []

    def extend(chosen: int, open_: int, done: int) -> None:
        if not open_ and not done:
            found.append(chosen)
            return
        pool = open_ | done
        pivot = max(
            (n for n in range(count) if pool >> n & 1),
            key=lambda n: (open_ & compatible[n]).bit_count(),
        )
        for node in range(count):
            if (open_ & ~compatible[pivot]) >> node & 1:
                bit = 1 << node
                extend(chosen | bit, open_ & compatible[node], done & compatible[node])
                open_ &= ~bit
                done |= bit

    extend(0, everyone, 0)
    rows = [[float(mask >> node & 1) for node in range(count)] for mask in found]
    return np.array(rows)
