"""Fuses known only by the gates of their standard.

A gate (multiple, t_min_s, t_max_s) says that at that multiple of its rating the fuse melts not
before t_min and has cleared by t_max (None: no upper limit). Between gates nothing is assumed but
that the I^2 t needed to melt does not fall as the current falls; log-log lines between gates are
no bound. The times are those of the standard: check against the maker's curve. Without gates (a
breaker) nothing is credited: it may open at once and may never clear.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

Gate = tuple[float, float, float | None]
Gates = Sequence[Gate]

FASTEST_CLEARING_S = 0.010
"""No clearing time below this is credited [s]."""
BEYOND_LAST_GATE = 0.5
"""Share of the last gate's melting I^2 t that is left at higher currents (judgement)."""


def melts_not_before_s(gates: Gates, multiple: float) -> float:
    """Earliest melting time at ``multiple`` times the rating [s].

    t_g (g / x)^2 of the next gate g >= x; beyond the last gate half of its I^2 t; below the first
    gate the first gate's rule. Infinite at no current.
    """
    if multiple <= 0.0:
        return math.inf
    for gate, t_min_s, _ in gates:
        if gate >= multiple:
            return t_min_s * (gate / multiple) ** 2
    if not gates:
        return 0.0
    gate, t_min_s, _ = gates[-1]
    return BEYOND_LAST_GATE * t_min_s * (gate / multiple) ** 2


def clears_by_s(gates: Gates, multiple: float) -> float:
    """Latest clearing time at ``multiple`` times the rating [s].

    T_g (g / x)^2 of the last gate g <= x that has an upper limit, 10 ms at least; infinite below.
    """
    latest_s = math.inf
    for gate, _, t_max_s in gates:
        if gate > multiple:
            break
        if t_max_s is not None:
            latest_s = t_max_s * (gate / multiple) ** 2
    return max(latest_s, FASTEST_CLEARING_S)


def least_multiple_to_clear(gates: Gates, seconds: float) -> float:
    """Smallest multiple of the rating from which clearing within ``seconds`` is certain.

    Infinite if no multiple does.
    """
    if seconds < FASTEST_CLEARING_S:
        return math.inf
    least = upper = math.inf
    for gate, t_max_s in reversed(_clearing_gates(gates)):
        needed = max(gate, gate * math.sqrt(t_max_s / seconds))
        if needed >= upper:
            break
        least = needed
        if needed > gate:
            break
        upper = gate
    return least


def _clearing_gates(gates: Gates) -> list[tuple[float, float]]:
    return [(gate, t_max_s) for gate, _, t_max_s in gates if t_max_s is not None]


def ride_through(gates: Gates, rating_a: float, steps: Sequence[tuple[float, float]]) -> float:
    """Sum of dt / t_melt over (current_a, seconds) steps: 1 may melt the fuse."""
    total = 0.0
    for current_a, seconds in steps:
        melts_s = melts_not_before_s(gates, current_a / rating_a)
        if melts_s <= 0.0:
            return math.inf
        total += seconds / melts_s
    return total


def decaying_inrush(
    gates: Gates, rating_a: float, running_a: float, multiple: float, tau_s: float
) -> float:
    """Integral of dt / t_melt while I = Irun (1 + (M - 1) exp(-t/tau)) falls; 1 may melt the fuse.

    Ends where the current reaches the first gate, which the fuse carries for hours. Exact: between
    two gates 1 / t_melt is a constant times I^2. Infinite if the running current is above the
    first gate.
    """
    if not gates:
        return math.inf
    running = running_a / rating_a
    carried = gates[0][0]
    if running >= carried:
        return math.inf
    if running <= 0.0 or running * multiple <= carried:
        return 0.0
    excess = multiple - 1.0

    def time_at(x: float) -> float:
        return tau_s * math.log(running * excess / (x - running))

    def square_integral(x_high: float, x_low: float) -> float:
        """Integral of x^2 dt while x falls from x_high to x_low."""
        high, low = x_high - running, x_low - running
        seconds = time_at(x_low) - time_at(x_high)
        return (
            running * running * seconds
            + 2.0 * running * tau_s * (high - low)
            + 0.5 * tau_s * (high * high - low * low)
        )

    total, x = 0.0, running * multiple
    last, last_s, _ = gates[-1]
    if x > last:
        total += square_integral(x, last) / (BEYOND_LAST_GATE * last_s * last * last)
        x = last
    for (lower, _, _), (gate, t_min_s, _) in reversed(list(pairwise(gates))):
        if x > lower:
            total += square_integral(x, lower) / (t_min_s * gate * gate)
            x = lower
    return total


def clearing_corners(
    gates: Gates,
    rating_a: float,
    low_multiple: float,
    fault_a: float,
    fastest_s: float = FASTEST_CLEARING_S,
) -> list[tuple[float, float]]:
    """(current_a, seconds) pairs among which a wire gets hottest before the fuse has cleared.

    For fault currents from ``low_multiple`` times the rating to ``fault_a``. Between two gates the
    bound's I^2 t is constant, so the shorter heating at the higher current, which loses less to
    the air, is the hotter: only the upper ends need a look. Seconds are infinite where nothing
    makes the fuse clear. Empty if the fault is below the range. ``fastest_s`` 0 lets the I^2 t of
    the last gate stand at any higher current: clearing I^2 t does not rise with the current.
    """
    fault = fault_a / rating_a
    if fault < low_multiple:
        return []
    limits = _clearing_gates(gates)
    first = limits[0][0] if limits else math.inf
    corners = []
    if low_multiple < first:
        corners.append((min(first, fault) * rating_a, math.inf))
    uppers = [gate for gate, _ in limits[1:]] + [math.inf] * bool(limits)
    for (gate, t_max_s), upper in zip(limits, uppers, strict=True):
        if max(gate, low_multiple) < upper and fault >= gate:
            end = min(upper, fault)
            seconds = max(t_max_s * (gate / end) ** 2, fastest_s)
            corners.append((end * rating_a, seconds))
    return corners


def selectivity_ratio(up_gates: Gates, down_gates: Gates, from_multiple: float = 2.0) -> float:
    """Smallest In_up / In_down from which the feeder's fuse surely outlasts the branch's.

    Melting I^2 t of the feeder >= clearing I^2 t of the branch for every fault of at least
    ``from_multiple`` times the branch's rating, without the 10 ms floor: good for faults up to
    :func:`selectivity_limit` times the feeder's rating. Infinite if no ratio up to 100 does.
    """
    limits = _clearing_gates(down_gates)
    if not limits or not up_gates:
        return math.inf
    ends = [gate for gate, _ in limits[1:]] + [math.inf]
    clearing = [
        (max(gate, from_multiple), end, t_max_s * gate * gate)
        for (gate, t_max_s), end in zip(limits, ends, strict=True)
        if end > from_multiple
    ]
    melting = [(g, t * g * g) for g, t, _ in up_gates]
    beyond = BEYOND_LAST_GATE * melting[-1][1]

    def holds(ratio: float) -> bool:
        for start, end, needed in clearing:  # faults start <= x < end
            lower = 0.0
            for gate, available in [*melting, (math.inf, beyond)]:  # lower < x / ratio <= gate
                low, high = lower * ratio, gate * ratio
                overlap = max(start, low) < min(end, high) or low < start == high
                if overlap and ratio * ratio * available < needed * (1.0 - 1e-12):
                    return False
                lower = gate
        return True

    steps = [i2t for _, i2t in melting] + [beyond]
    candidates = {math.sqrt(needed / available) for *_, needed in clearing for available in steps}
    candidates |= {start / gate for start, *_ in clearing for gate, _ in melting}
    candidates = {c for c in candidates if 0.0 < c <= 100.0}
    smallest = math.inf
    for ratio in sorted(candidates, reverse=True):
        # Just above a breakpoint and at it, so that the whole stretch upwards is covered.
        if not holds(ratio * (1.0 + 1e-9)):
            break
        smallest = ratio * (1.0 + 1e-9)
        if not holds(ratio):
            break
        smallest = ratio
    return smallest


def selectivity_limit(up_gates: Gates) -> float:
    """Largest fault in multiples of the feeder's rating for which a ratio proves selectivity.

    Above it half of the last gate's I^2 t takes less than the 10 ms that the branch may need.
    """
    if not up_gates:
        return 0.0
    gate, t_min_s, _ = up_gates[-1]
    return gate * math.sqrt(BEYOND_LAST_GATE * t_min_s / FASTEST_CLEARING_S)


def selective(
    up_gates: Gates,
    up_rating_a: float,
    down_gates: Gates,
    down_rating_a: float,
    fault_a: float,
    other_a: float = 0.0,
    from_multiple: float = 2.0,
) -> bool:
    """True if the feeder's fuse, carrying fault + other loads, surely melts after the branch's
    fuse has cleared, for every fault from ``from_multiple`` times the branch's rating up to
    ``fault_a``.

    Between two breakpoints melting over clearing time rises with current where the clearing time
    is the bound, and falls where it is the 10 ms floor: both ends are looked at.
    """
    low_a = from_multiple * down_rating_a
    if fault_a < low_a:
        return clears_by_s(down_gates, fault_a / down_rating_a) <= melts_not_before_s(
            up_gates, (fault_a + other_a) / up_rating_a
        )
    breaks = {low_a, fault_a}
    breaks |= {g * down_rating_a for g, _, _ in down_gates}
    breaks |= {g * up_rating_a - other_a for g, _, _ in up_gates}
    points = sorted(b for b in breaks if low_a <= b <= fault_a)
    for point in points:
        for current_a in (point * (1.0 - 1e-9), point, point * (1.0 + 1e-9)):
            if not low_a <= current_a <= fault_a:
                continue
            melts_s = melts_not_before_s(up_gates, (current_a + other_a) / up_rating_a)
            if melts_s < clears_by_s(down_gates, current_a / down_rating_a):
                return False
    return True
