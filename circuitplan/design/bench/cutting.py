"""Cutting wires from reels: which reels to buy, and which piece comes from which, at least cost.

Sets of reels are tried in the order of their cost, so the first one that holds every piece is the
cheapest there is. Whether a set holds them is decided by a full search; where that would take too
long the set is passed over, and the answer says how far it may be from the best.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import combinations_with_replacement

from circuitplan.model.record import record

SEARCH_STEPS = 40_000
"""Placements tried for one set of reels before it is passed over."""
MOST_SEARCHED = 400
"""Above so many pieces of a kind no set is searched in full: the search goes that deep."""
SETS_TRIED = 3_000
"""Sets of reels looked at before a plain packing is taken as it is."""


@record
class Reel:
    """A length that can be bought; ``cost`` in any one unit, the length itself without a price."""

    length_mm: int
    cost: int


@record
class CutReel:
    """One reel with the pieces (index in the list given) that are cut from it, in that order."""

    length_mm: int
    pieces: tuple[int, ...]
    left_mm: int
    by_metre: bool = False  # no reel: cut off in whole metres where it is sold


@record
class Cutting:
    """``bound`` is a cost that no cutting can be below; equal to ``cost`` it is proven best."""

    reels: tuple[CutReel, ...]
    cost: int
    bound: int
    too_long: tuple[int, ...]  # pieces that no reel can give in one length

    @property
    def proven(self) -> bool:
        return self.cost == self.bound

    @property
    def gap(self) -> float:
        """How much dearer than the bound, as a share of it."""
        return 0.0 if self.bound == 0 else (self.cost - self.bound) / self.bound

    @property
    def bought_mm(self) -> int:
        return sum(r.length_mm for r in self.reels)

    @property
    def left_mm(self) -> int:
        return sum(r.left_mm for r in self.reels)


def reels_of(lengths_mm: Sequence[int]) -> tuple[Reel, ...]:
    """Reels that cost what they measure: the least bought length is the least waste."""
    return tuple(Reel(length, length) for length in sorted(set(lengths_mm)))


def metres(cutting: Cutting) -> Cutting:
    """Reels of which more than half would be left over are bought by the metre instead [mm]."""
    return replace(cutting, reels=tuple(
        r if 2 * r.left_mm <= r.length_mm else _by_metre(r) for r in cutting.reels
    ))


def _by_metre(reel: CutReel) -> CutReel:
    used = reel.length_mm - reel.left_mm
    whole = 1000 * -(-used // 1000)
    return replace(reel, length_mm=whole, left_mm=whole - used, by_metre=True)


def cut(pieces_mm: Sequence[int], reels: Sequence[Reel]) -> Cutting:
    """Cut every piece from as many of ``reels`` as needed, at least cost. [mm]

    Among sets of equal cost the one of least length comes first, then that of fewest reels. Raises
    ValueError for a length or cost that is not positive.
    """
    if any(p <= 0 for p in pieces_mm) or any(r.length_mm <= 0 or r.cost <= 0 for r in reels):
        raise ValueError("pieces, reels and their costs must be above zero")
    longest = max((r.length_mm for r in reels), default=0)
    too_long = tuple(i for i, p in enumerate(pieces_mm) if p > longest)
    fitting = sorted((i for i, p in enumerate(pieces_mm) if p <= longest),
                     key=lambda i: (-pieces_mm[i], i))
    sizes = [pieces_mm[i] for i in fitting]
    if not sizes:
        return Cutting((), 0, 0, too_long)
    kept = _useful(reels)
    bound: int | None = None
    for count, chosen in enumerate(_sets(kept, sum(sizes))):
        bins = sorted((r.length_mm for r in chosen), reverse=True)
        cost = sum(r.cost for r in chosen)
        if count >= SETS_TRIED:
            return _finish(_greedy(sizes, kept), fitting, pieces_mm, too_long, bound or cost, kept)
        placed = _best_fit(sizes, bins)
        if placed is None:
            searched = _Search(sizes, bins)
            placed = searched.run()
            if placed is None and searched.cut_short and bound is None:
                bound = cost
        if placed is not None:
            return _finish((bins, placed), fitting, pieces_mm, too_long, bound or cost, kept)
    raise AssertionError("sets of reels never end")


def _useful(reels: Sequence[Reel]) -> list[Reel]:
    """Without reels that another one beats: at least as long and no dearer."""
    kept: list[Reel] = []
    for reel in sorted(set(reels), key=lambda r: (-r.length_mm, r.cost)):
        if not any(other.cost <= reel.cost for other in kept):
            kept.append(reel)
    return kept


def _sets(reels: list[Reel], need_mm: int) -> Iterator[tuple[Reel, ...]]:
    """Sets that are long enough, cheapest first.

    A set in which two or three reels could be one longer reel at no more cost is left out: what
    fits into the parts fits into the whole.
    """
    beaten = {
        group
        for n in (2, 3)
        for group in combinations_with_replacement(range(len(reels)), n)
        if any(
            r.length_mm >= sum(reels[i].length_mm for i in group)
            and r.cost <= sum(reels[i].cost for i in group)
            for r in reels
        )
    }
    heap: list[tuple[int, int, int, tuple[int, ...]]] = [(0, 0, 0, ())]
    while heap:
        cost, length, size, chosen = heapq.heappop(heap)
        if length >= need_mm:
            yield tuple(reels[i] for i in chosen)
        for index in range(chosen[-1] if chosen else 0, len(reels)):
            pairs = {(i, index) for i in chosen}
            triples = {(a, b, index) for k, a in enumerate(chosen) for b in chosen[k + 1 :]}
            if not (pairs | triples) & beaten:
                reel = reels[index]
                heapq.heappush(
                    heap, (cost + reel.cost, length + reel.length_mm, size + 1, (*chosen, index))
                )


def _best_fit(sizes: list[int], bins: list[int]) -> list[int] | None:
    """Longest piece first into the fullest reel that still takes it; None if one finds no room."""
    free = list(bins)
    placed = []
    for size in sizes:
        room = [(left, b) for b, left in enumerate(free) if left >= size]
        if not room:
            return None
        _, chosen = min(room)
        free[chosen] -= size
        placed.append(chosen)
    return placed


class _Search:
    """Whether pieces, longest first, fit into reels: every way, equal ones once."""

    def __init__(self, sizes: list[int], bins: list[int]) -> None:
        self.sizes, self.free = sizes, list(bins)
        self.placed = [0] * len(sizes)
        self.steps, self.cut_short = 0, False
        self.spare = sum(bins) - sum(sizes)

    def run(self) -> list[int] | None:
        if not self._may_fit():
            return None
        if len(self.sizes) > MOST_SEARCHED:
            self.cut_short = True
            return None
        return self.placed if self._place(0) else None

    def _may_fit(self) -> bool:
        """Room for all, and for the count of pieces at least as long as each of them."""
        room = self.spare >= 0
        counted = {size: number for number, size in enumerate(self.sizes, start=1)}
        return room and all(
            sum(length // size for length in self.free) >= n for size, n in counted.items()
        )

    def _place(self, at: int) -> bool:
        if at == len(self.sizes):
            return True
        size, least = self.sizes[at], self.sizes[-1]
        if sum(left for left in self.free if left < least) > self.spare:
            return False
        start = self.placed[at - 1] if at and self.sizes[at - 1] == size else 0
        tried: set[int] = set()
        for index in range(start, len(self.free)):
            left = self.free[index]
            if left < size or left in tried:
                continue
            tried.add(left)
            self.steps += 1
            if self.steps > SEARCH_STEPS:
                self.cut_short = True
                return False
            self.free[index] -= size
            self.placed[at] = index
            if self._place(at + 1):
                return True
            self.free[index] = left
            if self.cut_short:
                return False
        return False


def _greedy(sizes: list[int], reels: list[Reel]) -> tuple[list[int], list[int]]:
    """A packing without proof: longest reels, then each replaced by the cheapest that will do."""
    longest = max(r.length_mm for r in reels)
    free: list[int] = []
    placed = []
    for size in sizes:
        room = [(left, b) for b, left in enumerate(free) if left >= size]
        if not room:
            free.append(longest)
            room = [(longest, len(free) - 1)]
        _, chosen = min(room)
        free[chosen] -= size
        placed.append(chosen)
    bins = []
    for left in free:
        used = longest - left
        bins.append(min((r.cost, r.length_mm) for r in reels if r.length_mm >= used)[1])
    return bins, placed


def _finish(
    packing: tuple[list[int], list[int]], fitting: list[int], pieces_mm: Sequence[int],
    too_long: tuple[int, ...], bound: int, reels: list[Reel],
) -> Cutting:
    bins, placed = packing
    found = []
    cost = 0
    for index, length in enumerate(bins):
        mine = tuple(fitting[k] for k, b in enumerate(placed) if b == index)
        cost += min(r.cost for r in reels if r.length_mm == length)
        found.append(CutReel(length, mine, length - sum(pieces_mm[i] for i in mine)))
    return Cutting(tuple(found), cost, bound, too_long)
