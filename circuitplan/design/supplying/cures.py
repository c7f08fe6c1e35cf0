"""What would carry a scenario or a day: a faster idle, a larger alternator, a larger battery."""

from __future__ import annotations

import math
from collections.abc import Callable

from circuitplan.design.assume import Ledger
from circuitplan.design.supplying.alternator import LABEL_RATED_RPM, fitted, output_at, speed
from circuitplan.model.plan import Plan
from circuitplan.physics.battery import Wells

SPEED_STEP_RPM, OUTPUT_STEP_A, CAPACITY_STEP_AH = 50.0, 10.0, 5.0
"""Cures are rounded up to these."""
LARGEST_TIMES = 16.0
"""A battery more than so many times as large is no cure."""


def _up(value: float, step: float) -> float:
    return math.ceil(value / step - 1e-9) * step


def shaft_speed(plan: Plan, engine: str, wanted_a: float, ledger: Ledger) -> float | None:
    """Least shaft speed of the (first) alternator at which the hot output reaches ``wanted_a``.

    Rounded up to 50 r/min; a second alternator speeds up with the first. None if the label's
    rated speed does not do.
    """
    machines = fitted(plan)
    if not machines or engine == "off":
        return None
    speeds = [speed(name, one, engine, ledger) for name, one in machines]
    first = machines[0][1]
    top = first.curve[-1][0] if first.curve else first.label_rated_rpm or LABEL_RATED_RPM

    def enough(rpm: float) -> bool:
        total = 0.0
        for (name, one), now in zip(machines, speeds, strict=True):
            found, _ = output_at(plan, name, one, now * rpm / speeds[0], ledger)
            if found is None:
                return False
            total += found
        return total >= wanted_a * (1.0 - 1e-9)

    steps = max(0, math.ceil((top - speeds[0]) / SPEED_STEP_RPM))
    if not enough(speeds[0] + steps * SPEED_STEP_RPM):
        return None
    return _least(enough, speeds[0], SPEED_STEP_RPM, steps)


def _least(enough: Callable[[float], bool], start: float, step: float, steps: int) -> float:
    """Least ``step * n`` from ``start`` on that is enough; the last one is known to be."""
    first = _up(start, step)
    low, high = -1, steps
    while high - low > 1:
        middle = (low + high) // 2
        if enough(first + middle * step):
            high = middle
        else:
            low = middle
    return first + high * step


def rated_output(plan: Plan, engine: str, wanted_a: float, ledger: Ledger) -> float | None:
    """Least rated output [A] of an alternator of the same proportions that would do; up to 10 A."""
    machines = fitted(plan)
    if not machines or engine == "off":
        return None
    name, one = machines[0]
    given, _ = output_at(plan, name, one, speed(name, one, engine, ledger), ledger)
    others = 0.0
    for other_name, other in machines[1:]:
        found, _ = output_at(
            plan, other_name, other, speed(other_name, other, engine, ledger), ledger
        )
        others += found or 0.0
    if not given:
        return None
    return _up(one.rated_a * (wanted_a - others) / given, OUTPUT_STEP_A)


def capacity_for_hours(
    model: Wells, capacity_ah: float, current_a: float, drawn_share: float, hours: float
) -> float | None:
    """Least capacity [Ah] that carries a current for some hours on a share of it; up to 5 Ah."""

    def enough(candidate_ah: float) -> bool:
        found = model.scaled(candidate_ah / capacity_ah).hours_to(current_a, drawn_share)
        return found is not None and found >= hours * (1.0 - 1e-9)

    return least_capacity(enough, capacity_ah)


def least_capacity(enough: Callable[[float], bool], capacity_ah: float) -> float | None:
    """Least multiple of 5 Ah above the present capacity that is enough, or None."""
    high = capacity_ah
    while not enough(high):
        if high > LARGEST_TIMES * capacity_ah:
            return None
        high = _up(1.5 * high, CAPACITY_STEP_AH)
    steps = round((high - _up(capacity_ah, CAPACITY_STEP_AH)) / CAPACITY_STEP_AH)
    return _least(enough, capacity_ah, CAPACITY_STEP_AH, max(0, steps))
