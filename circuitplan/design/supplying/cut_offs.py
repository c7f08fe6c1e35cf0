"""Low-voltage cut-offs in a simulated day: when they open, when they close, when they hunt.

A cut-off whose battery recovers to the closing volts as soon as its load is off would open and
close without end: it is not credited, its load stays on.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from circuitplan.design.supplying.balance import Moment
from circuitplan.design.supplying.takers import Taker

Moments = Mapping[str, Moment]
Key = tuple[str, float, float]  # battery, opens at, closes at


def keys(takers: Mapping[str, Iterable[Taker]]) -> list[Key]:
    """The cut-offs before the takers of a stage."""
    found = {
        (name, t.cut_off_v, t.reconnect_v): None
        for name, mine in takers.items() for t in mine
        if t.cut_off_v is not None and t.reconnect_v is not None
    }
    return list(found)


@dataclass(slots=True)
class CutOffs:
    """Which are open, and which hunt in the stretch at hand."""

    opened: set[Key] = field(default_factory=set)
    hunting: set[Key] = field(default_factory=set)

    def is_open(self, battery: str, taker: Taker) -> bool:
        """Whether a taker is cut off."""
        return (battery, taker.cut_off_v, taker.reconnect_v) in self.opened

    def settle(self, there: Iterable[Key], moments: Callable[[], Moments]) -> Moments:
        """Close and open what must; ``moments()`` is the balance as it stands then."""
        there = list(there)
        now = moments()
        for key in there:
            if key in self.opened and now[key[0]].volts >= key[2]:
                self.opened.discard(key)
                now = moments()
        for key in there:
            name, opens, closes = key
            if key in self.opened or key in self.hunting or now[name].volts >= opens:
                continue
            self.opened.add(key)
            without = moments()
            if without[name].volts >= closes:
                self.opened.discard(key)
                self.hunting.add(key)
            else:
                now = without
        return now

    def until(self, there: Iterable[Key], first: Moments, last: Callable[[], Moments]) -> float:
        """Share of a step up to the first opening or closing; 1 if there is none."""
        there = [key for key in there if key not in self.hunting]
        if not there:
            return 1.0
        share, end = 1.0, last()
        for key in there:
            name, opens, closes = key
            limit = closes if key in self.opened else opens
            a, b = first[name].volts, end[name].volts
            crosses = a < limit <= b if key in self.opened else b < limit <= a
            if crosses and not end[name].collapsed:
                # A hair beyond, so that the next step sees it done.
                share = min(share, (a - limit) / (a - b) * (1.0 + 1e-6) + 1e-7)
        return share
