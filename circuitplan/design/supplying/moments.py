"""What a simulated day shows: lowest charge, time to reserve, energy, runs, volts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from circuitplan.design.state import State
from circuitplan.design.supplying.balance import Moment
from circuitplan.design.supplying.charge import Storage
from circuitplan.design.supplying.day import Interval, Stage, pulses
from circuitplan.design.supplying.takers import Taker
from circuitplan.model.record import record
from circuitplan.model.result import DayPoint, Drop, EventResult, LeastVolts
from circuitplan.physics.battery import Charge
from circuitplan.physics.winch import pull_charge_ah, pull_energy_wh

End = tuple[float, str, frozenset[str], Moment, Charge]


@record
class Seen:
    """One battery's day."""

    store: Storage
    intervals: Sequence[Interval]
    ends: Sequence[End]

    def _shares(self) -> Iterator[tuple[float, str, float]]:
        """(hour, scenario, share left of what it yields at the current drawn then)."""
        store = self.store
        if self.intervals:
            first = self.intervals[0]
            yield 0.0, first.stage, store.wells.share_of(first.before)
        for one in self.intervals:
            share = store.share_left(one.after, one.middle.battery_a)
            yield one.start_h + one.hours, one.stage, share

    def lowest(self, flat: bool) -> tuple[float, str | None]:
        """(least share left at the current drawn, scenario in which it stands)."""
        worst = min(self._shares(), key=lambda s: (s[2], s[0]), default=(0.0, None, 1.0))
        return (0.0 if flat else max(0.0, worst[2])), worst[1]

    def hours_to_reserve(self) -> float | None:
        """Hours from the start until the reserve is reached; None if it never is."""
        before: tuple[float, float] | None = None
        for hour, _, share in self._shares():
            if share < self.store.reserve * (1.0 - 1e-9):
                if before is None or before[1] <= share:
                    return hour
                way = (before[1] - self.store.reserve) / (before[1] - share)
                return before[0] + (hour - before[0]) * way
            before = (hour, share)
        return None

    def energy_wh(self) -> float:
        """Energy drawn at the posts, what goes on to other batteries included [Wh]."""
        return sum(
            one.middle.volts * (one.middle.drawn_a + sum(one.middle.passed_a.values())) * one.hours
            for one in self.intervals
        )

    def supplied_share(self) -> float | None:
        """Share of the energy drawn that did not come out of the battery."""
        drawn = self.energy_wh()
        if drawn <= 0.0:
            return None
        given = sum(
            one.middle.volts * max(0.0, one.middle.battery_a) * one.hours for one in self.intervals
        )
        return max(0.0, 1.0 - given / drawn)

    def curve(self) -> tuple[DayPoint, ...]:
        """Charge, volts and currents at every step, and at every switching."""
        points = [(one.start_h, one.stage, one.first, one.before) for one in self.intervals]
        points += [(hour, stage, moment, charge) for hour, stage, _, moment, charge in self.ends]
        order = sorted(
            range(len(points)), key=lambda i: (points[i][0], -(i >= len(self.intervals)))
        )
        return tuple(
            DayPoint(
                points[i][0], points[i][1], max(0.0, self.store.wells.share_of(points[i][3])),
                points[i][2].volts, sum(points[i][2].supplied_a.values()),
                points[i][2].drawn_a + sum(points[i][2].passed_a.values()), points[i][2].battery_a,
            )
            for i in order
        )


def _moments(
    intervals: Sequence[Interval], ends: Sequence[End], stage: str
) -> Iterator[tuple[frozenset[str], Moment]]:
    for one in intervals:
        if one.stage == stage:
            yield one.on, one.first
    for _, name, on, moment, _ in ends:
        if name == stage:
            yield on, moment


def events(
    store: Storage, intervals: Sequence[Interval], ends: Sequence[End], stages: Sequence[Stage],
    battery: str,
) -> tuple[EventResult, ...]:
    """Everything that runs for minutes, with the figures of one run; same scenarios once."""
    found: dict[tuple[str, str], EventResult] = {}
    for stage in stages:
        for taker in stage.takers.get(battery, ()):
            runs = pulses(taker, stage.hours)
            if not runs or (taker.name, stage.name) in found:
                continue
            found[taker.name, stage.name] = _event(taker, stage, intervals, ends, len(runs))
    return tuple(found.values())


def _event(
    taker: Taker, stage: Stage, intervals: Sequence[Interval], ends: Sequence[End], count: int
) -> EventResult:
    seconds = (taker.seconds or 0.0) / count
    dimmed = taker.share * stage.hours * 3600.0 / (taker.seconds or 1.0)
    draw = taker.draw(dimmed)
    mine = [i for i in intervals if i.stage == stage.name and taker.name in i.on]
    hours = sum(i.hours for i in mine) or 1.0
    current = sum(draw.at(i.middle.volts) * i.hours for i in mine if i.middle.volts > 0.0) / hours
    power = sum(
        draw.at(i.middle.volts) * i.middle.volts * i.hours for i in mine if i.middle.volts > 0.0
    ) / hours
    least = min(
        (m.volts for on, m in _moments(intervals, ends, stage.name) if taker.name in on),
        default=0.0,
    )
    volts = power / current if current > 0.0 else 0.0
    return EventResult(
        taker.name, stage.name, count, seconds, current, least, pull_charge_ah(current, seconds),
        pull_energy_wh(current, volts, seconds), taker.pull_n,
    )


def least_volts(
    state: State, drops: Mapping[str, Drop], intervals: Sequence[Interval], ends: Sequence[End],
    stages: Sequence[Stage], battery: str,
) -> tuple[LeastVolts, ...]:
    """Least volts at the terminals of every critical accessory that runs in the day."""
    found: dict[str, LeastVolts] = {}
    for stage in stages:
        for taker in stage.takers.get(battery, ()):
            load = state.wiring.loads[taker.index]
            drop = drops.get(taker.name)
            if not load.critical or drop is None:
                continue
            posts = min(
                (m.volts for _, m in _moments(intervals, ends, stage.name)), default=None
            )
            if posts is None:
                continue
            volts = at_terminals(posts, drop, state.levels.low_v[taker.index])
            known = found.get(taker.name)
            if known is None or volts < known.volts:
                found[taker.name] = LeastVolts(taker.name, stage.name, volts, load.min_v)
    return tuple(found[name] for name in sorted(found))


def at_terminals(posts_v: float, drop: Drop, low_v: float) -> float:
    """Guaranteed volts at an accessory for volts at the posts [V].

    The design's largest drop holds down to its low supply end; below that, constant power draws
    more by as much as the volts at the load fall.
    """
    lost = drop.total_v
    if posts_v < low_v:
        at_low = max(low_v - lost, 1e-9)
        for _ in range(20):
            here = posts_v - lost
            if here <= 0.0:
                return 0.0
            lost = drop.total_v * max(1.0, at_low / here)
    return max(0.0, posts_v - lost)
