"""Batteries: time on a load, resistance, reserve figures, volts while cranking."""

from __future__ import annotations

import math
from dataclasses import dataclass

from circuitplan.physics.roots import bracketed

CRANKING_TEST_V = 7.2
"""Least volts of a 12 V battery after 30 s at its cold-cranking current, -18 C (SAE J537)."""


@dataclass(frozen=True, slots=True)
class Wells:
    """Two-well model: a share c of the charge is at hand, the rest flows in with k' [1/h].

    dh/dt of the head difference = I/c - k' dh; k' = k / (c (1 - c)). Empty when the well at hand
    is. ``q_max_ah`` is what an endlessly slow discharge would yield.
    Source: Manwell & McGowan, Solar Energy 50 (1993) 399 (memory).
    """

    c: float
    k_prime_per_h: float
    q_max_ah: float

    def __post_init__(self) -> None:
        if not 0.0 < self.c < 1.0 or self.k_prime_per_h <= 0.0 or self.q_max_ah <= 0.0:
            raise ValueError(f"no such battery: {self}")

    def _effective_h(self, hours: float) -> float:
        """Hours that the whole charge would last at the current which empties in ``hours``."""
        lag_h = (1.0 - self.c) / (self.c * self.k_prime_per_h)
        return hours - lag_h * math.expm1(-self.k_prime_per_h * hours)

    def rate_a(self, hours: float) -> float:
        """Current that empties the full battery in ``hours`` [A]."""
        return self.q_max_ah / self._effective_h(hours)

    @property
    def c20_ah(self) -> float:
        """Capacity at the 20 h rate [Ah]."""
        return 20.0 * self.rate_a(20.0)

    def empty_after_h(self, current_a: float) -> float:
        """Hours until the full battery is empty by the model, no cap; inf at no current."""
        if current_a <= 0.0:
            return math.inf
        longest_h = self.q_max_ah / current_a
        return bracketed(
            lambda hours: self._effective_h(hours) - longest_h,
            0.0,
            longest_h,
            x_tolerance=1e-9 * longest_h,
        )

    def capacity_ah(self, current_a: float) -> float | None:
        """What the full battery yields at a steady current [Ah].

        At most C20 below the 20 h rate (the model would credit more); None above the 1 h rate,
        where the model is not used.
        """
        if current_a <= self.rate_a(20.0):
            return self.c20_ah
        if current_a > self.rate_a(1.0) * (1.0 + 1e-9):
            return None
        return current_a * self.empty_after_h(current_a)

    def scaled(self, factor: float) -> Wells:
        """The same battery with ``factor`` times the charge: cold, aged, or of another size."""
        return Wells(self.c, self.k_prime_per_h, self.q_max_ah * factor)

    def rested_at(self, share: float) -> Charge:
        """State after a long rest with ``share`` of the 20 h capacity left."""
        return Charge(self.q_max_ah - (1.0 - share) * self.c20_ah)

    def share_of(self, charge: Charge) -> float:
        """Share of the 20 h capacity that is left, by counting ampere-hours. [-]"""
        return 1.0 - (self.q_max_ah - charge.total_ah) / self.c20_ah

    def hours_left(self, charge: Charge, current_a: float) -> float:
        """Hours until the well at hand is empty at a steady current, from any state [h].

        inf at no current; 0 if it is empty already.
        """
        if current_a <= 0.0:
            return math.inf
        if charge.at_hand_ah(self) <= 0.0:
            return 0.0
        # What is at hand falls along a concave or a falling convex curve: one root.
        return bracketed(
            lambda hours: charge.after(self, current_a, hours).at_hand_ah(self),
            0.0,
            charge.total_ah / current_a * (1.0 + 1e-9) + 1e-9,
            x_tolerance=1e-9 * charge.total_ah / current_a,
        )

    def share_left(self, charge: Charge, current_a: float) -> float:
        """Share of the capacity at this current that is left. [-]

        What can still be drawn at this current over what the full battery yields at it, never
        more than the share by ampere-hours. Slower than the 20 h rate counts as that rate, faster
        than the 1 h rate as the 1 h rate: the model is used no further.
        """
        used_a = min(max(current_a, self.rate_a(20.0)), self.rate_a(1.0))
        whole_h = self.empty_after_h(used_a)
        return min(self.share_of(charge), self.hours_left(charge, used_a) / whole_h)

    def hours_to(
        self, current_a: float, drawn_share: float, start_share: float = 1.0
    ) -> float | None:
        """Hours until ``drawn_share`` of the capacity at this current is drawn.

        Charge = 1 - drawn / capacity at this current; starts at ``start_share`` of it, 0 if the
        limit is passed already. None above the 1 h rate; inf at no current.
        """
        capacity_ah = self.capacity_ah(current_a)
        if capacity_ah is None:
            return None
        share = max(0.0, drawn_share - (1.0 - start_share))
        if current_a <= 0.0:
            return math.inf if share > 0.0 else 0.0
        return share * capacity_ah / current_a


@dataclass(frozen=True, slots=True)
class Charge:
    """State of two wells: total charge [Ah] and how far the well at hand lags behind [Ah].

    ``lag_ah`` is the head difference h2 - h1 in Ah, 0 after a long rest.
    """

    total_ah: float
    lag_ah: float = 0.0

    def at_hand_ah(self, wells: Wells) -> float:
        """Charge that can be drawn at once, c h1 = c (total - (1 - c) lag) [Ah]."""
        return wells.c * (self.total_ah - (1.0 - wells.c) * self.lag_ah)

    def after(self, wells: Wells, current_a: float, hours: float) -> Charge:
        """State after a steady current (negative while charging) for some hours.

        No limits: the caller stops at empty (``at_hand_ah`` 0) and at full.
        """
        fade = math.exp(-wells.k_prime_per_h * hours)
        settled_lag = current_a / (wells.c * wells.k_prime_per_h)
        return Charge(
            self.total_ah - current_a * hours, settled_lag + (self.lag_ah - settled_lag) * fade
        )


def wells_from_capacities(points: tuple[tuple[float, float], ...]) -> Wells:
    """Two-well model through three (hours, capacity_ah) points, in any order.

    For a given k' the points are linear in Q and the lag; k' is the root of what is left.
    ValueError if the capacities do not rise with time as a two-well battery's do.
    """
    if len(points) != 3:
        raise ValueError("exactly three capacities are needed")
    (t1, c1), (t2, c2), (t3, c3) = sorted(points)
    if not 0.0 < t1 < t2 < t3 or not 0.0 < c1 < c2 < c3:
        raise ValueError(f"capacities must rise with time: {points}")

    def filling(k: float, hours: float) -> float:
        return -math.expm1(-k * hours)

    def slope(log_k: float) -> float:
        """Zero where Q would be endless; Q is positive above."""
        k = math.exp(log_k)
        return t1 / c1 * filling(k, t3) - t3 / c3 * filling(k, t1)

    def q_and_lag(k: float) -> tuple[float, float]:
        # Q t/C = t + lag (1 - exp(-k t)) at the fastest and the slowest point.
        q = (t1 * filling(k, t3) - t3 * filling(k, t1)) / slope(math.log(k))
        return q, (q * t1 / c1 - t1) / filling(k, t1)

    def misfit(log_k: float) -> float:
        k = math.exp(log_k)
        q, lag = q_and_lag(k)
        return q * t2 / c2 - t2 - lag * filling(k, t2)

    slowest, fastest = math.log(1e-4), math.log(1e2)
    try:
        pole = bracketed(slope, slowest, fastest, x_tolerance=1e-9)
        k = math.exp(bracketed(misfit, pole + 1e-6, fastest, x_tolerance=1e-12))
    except ValueError:
        raise ValueError(f"no two-well battery has the capacities {points}") from None
    q, lag = q_and_lag(k)
    return Wells(1.0 / (1.0 + lag * k), k, q)


def two_well_h(points: tuple[tuple[float, float], ...], current_a: float) -> float:
    """Hours to empty at a current, by the two-well model through three (hours, Ah) points [h].

    ValueError as :func:`wells_from_capacities`.
    """
    return wells_from_capacities(points).empty_after_h(current_a)


def peukert_h(
    capacity_ah: float, current_a: float, exponent: float, rated_hours: float = 20.0
) -> float:
    """t = H (C / (I H))^n [h]. Source: Peukert's law in rated form."""
    return float(rated_hours * (capacity_ah / (current_a * rated_hours)) ** exponent)


def peukert_capacity_ratio(hours: float, exponent: float, rated_hours: float = 20.0) -> float:
    """Capacity when emptied in ``hours`` over that in the rated hours, (t/H)^(1 - 1/n)."""
    return float((hours / rated_hours) ** (1.0 - 1.0 / exponent))


def cold_ohm(open_v: float, cranking_a: float) -> float:
    """R = (Uoc - 7.2 V) / CCA [ohm] of a 12 V battery at -18 C after 30 s (SAE J537)."""
    return (open_v - CRANKING_TEST_V) / cranking_a


def warm_ohm(cranking_a: float) -> float:
    """R = 2.8 V / CCA [ohm] of a 12 V battery at 25 C (common practice)."""
    return 2.8 / cranking_a


def cranking_v(open_v: float, inner_ohm: float, current_a: float) -> float:
    """U = Uoc - I R [V] while the starter turns."""
    return open_v - current_a * inner_ohm


def reserve_min_from_c20(c20_ah: float) -> float:
    """RC = 0.7732 C20^1.1828 [min at 25 A], flooded. Source: EN 50342-1 (memory)."""
    return float(0.7732 * c20_ah**1.1828)


def c20_from_reserve_min(reserve_min: float) -> float:
    """C20 = sqrt(17778 + 208.3 RC) - 133.3 [Ah]. Source: IEC 60095-1, older form (memory)."""
    return math.sqrt(17778.0 + 208.3 * reserve_min) - 133.3


def ah_at_25_a(reserve_min: float) -> float:
    """25 A * RC / 60 [Ah]: what is drawn in the reserve test, not the 20 h capacity."""
    return 25.0 * reserve_min / 60.0


def warming_k_per_s(
    current_a: float, inner_ohm: float, mass_kg: float, heat_j_per_kg_k: float
) -> float:
    """I^2 R / (m c) [K/s]: how fast a battery's own resistance heats it, nothing given off."""
    return current_a * current_a * inner_ohm / (mass_kg * heat_j_per_kg_k)
