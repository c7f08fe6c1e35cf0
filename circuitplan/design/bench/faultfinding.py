"""Finding a fault with the fewest measurements, from the network itself.

Each likely fault changes the volts at points along the way of the current. A measurement tells the
faults apart by what it would read with each; the plan of measurements with the fewest at worst,
then on average, is found by trying every order.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache
from typing import Literal, TypeAlias

from circuitplan.design.bench.way import Way
from circuitplan.model.record import record

OPEN_OHM = 1e7
"""An open joint: a hand meter's own 10 MΩ is all that still closes the circuit."""
WEAK_SHARE = 0.3
"""A bad joint that is noticed takes about this share of the volts (judgement)."""
FULL, NONE = 0.9, 0.1
"""Shares of the source's volts that count as full and as none (judgement)."""

Reads = Literal["full", "part", "none"]
Symptom = Literal["dead", "weak"]
Best: TypeAlias = tuple[int, float, int | None]
"""Measurements at worst, their weighted sum over the faults, which measurement comes first."""


@record
class Fault:
    element: str
    symptom: Symptom
    on_coil: bool
    index: int
    likely: float


@record
class Point:
    """Where the meter's red lead goes; the black one stays on the source's negative."""

    at: str
    on_coil: bool
    index: int  # behind this element


@record
class Branch:
    """What one kind of reading means: the next step, or the faults that remain."""

    reads: Reads
    low_v: float
    high_v: float
    then: Step | None
    faults: tuple[str, ...]


@record
class Step:
    """One measurement: what a sound circuit reads there, and what each reading means."""

    point: Point
    good_v: float
    branches: tuple[Branch, ...]

    @property
    def depth(self) -> int:
        """Measurements at worst, this one included."""
        return 1 + max((b.then.depth for b in self.branches if b.then), default=0)


def faults_of(way: Way, symptom: Symptom) -> tuple[Fault, ...]:
    """An open joint in each element if dead, a bad one in each but the loads if weak."""
    found = []
    for on_coil, elements in ((False, way.main), (True, way.coil)):
        for index, e in enumerate(elements):
            if symptom == "weak" and (e.load or on_coil):
                continue
            found.append(Fault(e.name, symptom, on_coil, index, e.likely))
    return tuple(found)


def points_of(way: Way) -> tuple[Point, ...]:
    """Every point in reach, the source's own posts first."""
    found = [Point("the source's positive post", False, -1)]
    for on_coil, elements in ((False, way.main), (True, way.coil)):
        found += [Point(e.at, on_coil, i) for i, e in enumerate(elements) if e.at]
    return tuple(p for p in found if not _is_reference(p, way))


def _is_reference(point: Point, way: Way) -> bool:
    """The black lead's own place tells nothing."""
    return not point.on_coil and point.index == len(way.main) - 1


def volts_at(way: Way, point: Point, fault: Fault | None) -> float:
    """Volts between a point and the source's negative, everything switched on [V]."""
    elements = way.coil if point.on_coil else way.main
    ohm = [e.ohm for e in elements]
    load_ohm = sum(e.ohm for e in elements if e.load)
    if fault is not None:
        if fault.on_coil == point.on_coil:
            ohm[fault.index] += OPEN_OHM if fault.symptom == "dead" else (
                load_ohm * WEAK_SHARE / (1.0 - WEAK_SHARE)
            )
        if fault.on_coil and not point.on_coil and way.contact is not None:
            ohm[way.contact] += OPEN_OHM
    behind = sum(ohm[point.index + 1 :])
    return way.source_v * behind / sum(ohm)


def reads(volts: float, source_v: float) -> Reads:
    """Full, part or none of the source's volts."""
    if volts >= FULL * source_v:
        return "full"
    return "none" if volts <= NONE * source_v else "part"


def shortest(way: Way, symptom: Symptom) -> Step | None:
    """The measurements that isolate each fault: fewest at worst, then fewest on average.

    Faults that no point in reach tells apart stay together at a leaf. None: there is nothing to
    tell apart. Every order of measurements is tried (dynamic programming over sets of faults).
    """
    faults, points = faults_of(way, symptom), points_of(way)
    table = [
        [reads(volts_at(way, p, f), way.source_v) for f in faults] for p in points
    ]
    best = _plan(tuple(tuple(row) for row in table), tuple(f.likely for f in faults))

    def build(left: frozenset[int]) -> Step | None:
        chosen = best(left)[2]
        if chosen is None:
            return None
        branches = []
        kinds: tuple[Reads, ...] = ("full", "part", "none")
        for kind in kinds:
            part = frozenset(i for i in left if table[chosen][i] == kind)
            if not part:
                continue
            volts = [volts_at(way, points[chosen], faults[i]) for i in part]
            then = build(part)
            names = () if then else tuple(dict.fromkeys(faults[i].element for i in sorted(part)))
            branches.append(Branch(kind, min(volts), max(volts), then, names))
        return Step(points[chosen], volts_at(way, points[chosen], None), tuple(branches))

    return build(frozenset(range(len(faults))))


def _plan(
    table: Sequence[Sequence[Reads]], likely: Sequence[float]
) -> Callable[[frozenset[int]], Best]:
    @cache
    def best(left: frozenset[int]) -> Best:
        found: Best = (0, 0.0, None)
        first = True
        if len(left) < 2:
            return found
        for row in range(len(table)):
            parts: dict[Reads, set[int]] = {}
            for i in left:
                parts.setdefault(table[row][i], set()).add(i)
            if len(parts) < 2:
                continue
            below = [best(frozenset(p)) for p in parts.values()]
            here = (
                1 + max(b[0] for b in below),
                sum(likely[i] for i in left) + sum(b[1] for b in below),
                row,
            )
            if first or here[:2] < found[:2]:
                found, first = here, False
        return found

    return best
