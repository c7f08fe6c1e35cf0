"""The volts at which sources, loads and a battery agree."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from circuitplan.physics.roots import bracketed


@dataclass(frozen=True, slots=True)
class Store:
    """A battery at one moment: EMF and resistance while it gives, and what it takes at ``full_v``.

    Above its EMF it takes current in proportion to the volts, ``accepts_a`` at ``full_v`` [A].
    """

    open_v: float
    ohm: float
    accepts_a: float
    full_v: float

    def taken_a(self, volts: float) -> float:
        """Current into the battery at the posts' volts [A]; negative while it gives."""
        over_v = volts - self.open_v
        if over_v <= 0.0:
            return over_v / self.ohm
        rise_v = self.full_v - self.open_v
        if rise_v <= 0.0:
            return 0.0
        return self.accepts_a * min(1.0, over_v / rise_v)


@dataclass(frozen=True, slots=True)
class Draw:
    """Loads that follow the volts alike: I = Ir (U/Ur)^m, the largest over the exponents."""

    rated_a: float
    rated_v: float
    exponents: tuple[float, ...]

    def at(self, volts: float) -> float:
        """Current at ``volts`` [A]."""
        ratio = volts / self.rated_v
        if len(self.exponents) == 1:
            return self.rated_a * float(ratio ** self.exponents[0])
        return self.rated_a * max(float(ratio**m) for m in self.exponents)


def drawn_a(draws: Sequence[Draw], volts: float) -> float:
    """All loads together [A]."""
    return sum(d.at(volts) for d in draws)


def bus_v(
    taken_a: Callable[[float], float], source_a: float, set_v: float, least_v: float
) -> float | None:
    """The highest volts up to ``set_v`` at which everything takes no more than the source has [V].

    ``taken_a(U)`` is the current of loads and batteries together; a battery that gives counts
    negative. At ``set_v`` the regulator holds the source back. None if there are no such volts
    above ``least_v``: the supply collapses.
    """

    def excess(volts: float) -> float:
        return taken_a(volts) - source_a

    if excess(set_v) <= 0.0:
        return set_v
    high, step = set_v, 0.01 * set_v
    while high > least_v:
        low = max(high - step, least_v)
        if excess(low) <= 0.0:
            return bracketed(excess, low, high, x_tolerance=1e-10 * set_v)
        high, step = low, 1.5 * step
    return None


def behind_diode(link_taken: Callable[[float], float], drop_v: float) -> Callable[[float], float]:
    """What a branch behind an isolating diode takes [A]: its own at U - Ud, and nothing back."""
    return lambda volts: max(0.0, link_taken(volts - drop_v))


def relay_closed_share(volts: float, opens_v: float, closes_v: float) -> float:
    """Mean share of the time that a voltage-sensing relay is closed. [-]

    0 up to the opening, 1 from the closing volts, straight between: there it opens and closes in
    turn.
    """
    if not opens_v < closes_v or math.isnan(volts):
        raise ValueError(f"a relay opens below the volts at which it closes: {opens_v}, {closes_v}")
    return min(1.0, max(0.0, (volts - opens_v) / (closes_v - opens_v)))
