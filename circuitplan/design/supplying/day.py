"""A day as a row of scenarios, stepped through in time: charge and volts of every battery.

Between two switchings everything on stays on; each step takes the currents at its middle
(midpoint rule) and moves the two wells exactly for that current. What runs for minutes is placed
at the ends of equal parts of its scenario, so that the heaviest moments coincide.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from circuitplan.design.supplying.balance import Around, Balance, Moment
from circuitplan.design.supplying.charge import Storage
from circuitplan.design.supplying.cut_offs import CutOffs, Key, keys
from circuitplan.design.supplying.takers import Taker
from circuitplan.model.plan import Charger
from circuitplan.model.record import record
from circuitplan.physics.battery import Charge
from circuitplan.physics.bus import Draw

STEP_H = 1.0 / 12.0
"""Longest step [h]."""
LEAST_STEP_H = 1e-6


@record
class Stage:
    """One scenario of a day: how long, who runs, what the sources may give."""

    name: str
    hours: float
    takers: Mapping[str, Sequence[Taker]]  # by battery
    fixed: Mapping[str, Sequence[Draw]]  # the vehicle's own load, chargers of unknown output
    alternator_a: float | None
    outside_a: Mapping[str, float]
    set_v: float

    @property
    def engine_on(self) -> bool:
        return self.alternator_a is not None


@record
class Interval:
    """One step: moments at its start and middle, charge before and after, of one battery."""

    start_h: float
    hours: float
    stage: str
    on: frozenset[str]  # what runs for minutes and is on now
    first: Moment
    middle: Moment
    before: Charge
    after: Charge


@dataclass(slots=True)
class Trace:
    """What happened: intervals by battery, when a battery went flat, moments at switchings."""

    intervals: dict[str, list[Interval]] = field(default_factory=dict)
    flat_h: dict[str, float] = field(default_factory=dict)
    ends: dict[str, list[tuple[float, str, frozenset[str], Moment, Charge]]] = field(
        default_factory=dict
    )


@record
class Pulse:
    """A run of something that is on for minutes."""

    name: str
    start_h: float
    end_h: float


def pulses(taker: Taker, hours: float) -> tuple[Pulse, ...]:
    """The runs of a taker that the plan gives a time for, each at the end of an equal part."""
    if taker.seconds is None or taker.seconds / 3600.0 >= hours * (1.0 - 1e-9):
        return ()
    count = taker.runs()
    each_h, part_h = taker.seconds / 3600.0 / count, hours / count
    return tuple(
        Pulse(taker.name, (k + 1) * part_h - each_h, (k + 1) * part_h) for k in range(count)
    )


@dataclass(slots=True)
class Day:
    """One simulation. ``run`` steps through all stages."""

    stores: Mapping[str, Storage]
    chargers: Sequence[Charger]
    main: str
    scale: float
    held_back: bool
    smart_v: float
    step_h: float = STEP_H
    cut_offs: CutOffs = field(default_factory=CutOffs)
    dark: set[str] = field(default_factory=set)  # batteries that went flat: their loads are off

    def run(self, stages: Sequence[Stage], start: Mapping[str, Charge]) -> Trace:
        """Step through the stages from the charges at the start."""
        trace = Trace({n: [] for n in self.stores}, {}, {n: [] for n in self.stores})
        charges = dict(start)
        began_h = 0.0
        for stage in stages:
            runs = [
                p for takers in stage.takers.values() for t in takers
                for p in pulses(t, stage.hours)
            ]
            edges = sorted({0.0, stage.hours, *(p.start_h for p in runs), *(p.end_h for p in runs)})
            for left, right in pairwise(edges):
                if right - left < LEAST_STEP_H:
                    continue
                on = frozenset(
                    p.name for p in runs if p.start_h <= left + LEAST_STEP_H < p.end_h
                )
                charges = self._piece(
                    stage, on, began_h + left, right - left, charges, trace
                )
            began_h += stage.hours
        return trace

    # --- one stretch between switchings ----------------------------------------------------------

    def _piece(
        self, stage: Stage, on: frozenset[str], start_h: float, hours: float,
        charges: dict[str, Charge], trace: Trace,
    ) -> dict[str, Charge]:
        done = 0.0
        there = keys(stage.takers)
        self.cut_offs.hunting.clear()
        while hours - done > LEAST_STEP_H:
            here = charges
            first = dict(
                self.cut_offs.settle(there, lambda: self._balance(stage, on).at(here))  # noqa: B023
            )
            balance = self._balance(stage, on)
            step = min(self.step_h, hours - done)
            step, middle, after = self._advance(balance, there, first, charges, step)
            now_h = start_h + done
            for name in self.stores:
                trace.intervals[name].append(
                    Interval(now_h, step, stage.name, on, first[name], middle[name],
                             charges[name], after[name])
                )
            charges = after
            done += step
            for name in self._flat(charges, middle):
                self.dark.add(name)
                trace.flat_h.setdefault(name, start_h + done)
        last = self._balance(stage, on).at(charges)
        for name in self.stores:
            trace.ends[name].append((start_h + hours, stage.name, on, last[name], charges[name]))
        return charges

    def _advance(
        self, balance: Balance, there: list[Key], first: Mapping[str, Moment],
        charges: Mapping[str, Charge], step: float,
    ) -> tuple[float, dict[str, Moment], dict[str, Charge]]:
        """(step taken, moments at its middle, charges after it); shorter where a battery goes
        flat or a cut-off works on the way."""
        while True:
            half = {
                n: s.after(charges[n], first[n].battery_a, 0.5 * step)
                for n, s in self.stores.items()
            }
            middle = dict(balance.at(half))
            after = {
                n: s.after(charges[n], middle[n].battery_a, step) for n, s in self.stores.items()
            }
            share = self._until(balance, there, first, charges, after)
            if share >= 1.0 or step <= LEAST_STEP_H:
                return step, middle, after
            step = max(min(step * share, 0.999 * step), LEAST_STEP_H)

    def _until(
        self, balance: Balance, there: list[Key], first: Mapping[str, Moment],
        charges: Mapping[str, Charge], after: Mapping[str, Charge],
    ) -> float:
        """Share of the step up to the first battery going flat or cut-off working; 1: none."""
        share = 1.0
        for name, store in self.stores.items():
            if name in self.dark:
                continue
            wells, old, new = store.wells, charges[name], after[name]
            for begin, end in (
                (wells.share_of(old), wells.share_of(new)),
                (old.at_hand_ah(wells), new.at_hand_ah(wells)),
            ):
                if end < -1e-9 and begin > 0.0:
                    share = min(share, begin / (begin - end))
        return min(share, self.cut_offs.until(there, first, lambda: balance.at(after)))

    def _flat(self, charges: Mapping[str, Charge], moments: Mapping[str, Moment]) -> list[str]:
        return [
            name for name, store in self.stores.items()
            if name not in self.dark and (
                store.wells.share_of(charges[name]) <= 1e-6
                or charges[name].at_hand_ah(store.wells) <= 1e-6 * store.capacity_ah
                or moments[name].collapsed
            )
        ]

    # --- who is on -------------------------------------------------------------------------------

    def _balance(self, stage: Stage, on: frozenset[str]) -> Balance:
        draws: dict[str, list[Draw]] = {}
        for name in self.stores:
            if name in self.dark:
                draws[name] = []
                continue
            merged: dict[tuple[float, tuple[float, ...]], float] = {}
            for one in stage.fixed.get(name, ()):
                key = (one.rated_v, one.exponents)
                merged[key] = merged.get(key, 0.0) + one.rated_a
            for taker in stage.takers.get(name, ()):
                share = self._share(taker, stage, on)
                if share <= 0.0 or self.cut_offs.is_open(name, taker):
                    continue
                key = (taker.rated_v, taker.exponents)
                merged[key] = merged.get(key, 0.0) + share * taker.rated_a
            draws[name] = [Draw(a, v, m) for (v, m), a in merged.items()]
        around = Around(draws, stage.alternator_a, stage.outside_a, stage.set_v)
        return Balance(
            self.stores, self.chargers, self.main, self.scale, self.held_back, self.smart_v, around
        )

    @staticmethod
    def _share(taker: Taker, stage: Stage, on: frozenset[str]) -> float:
        if taker.seconds is None or taker.seconds / 3600.0 >= stage.hours * (1.0 - 1e-9):
            return taker.share
        if taker.name not in on:
            return 0.0
        return taker.share * stage.hours * 3600.0 / taker.seconds  # dimming only


def whole_hours(stages: Sequence[Stage]) -> float:
    """Length of the day [h]."""
    return math.fsum(s.hours for s in stages)
