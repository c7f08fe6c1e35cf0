"""Curves of breakers, as bounds of the same form as a fuse's gates.

A fuse's melting I^2 t does not fall as the current falls; a breaker with a magnetic trip opens in
about the same time at any higher current, so that rule would be too kind to it. Of a breaker it is
only assumed that it does not open later at a higher current.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from circuitplan.physics.fuses import FASTEST_CLEARING_S, Gate

STEP = 1.2
"""Ratio of neighbouring gates: each bound is at most its square above the curve's own."""
AT_ONCE_S = 1e-9
FARTHEST = 1000.0
"""Multiple of the rating to which the last point's time is carried on."""


def stepped(points: Sequence[Gate]) -> tuple[Gate, ...]:
    """Gates (multiple, opens not before [s], has cleared by [s]) that bound a breaker's curve.

    ``points`` ascend in multiple, their times do not rise. Between two points the opening time
    lies between the later point's earliest and the earlier point's latest. As the gates' own rule
    is T_g (g/x)^2 up to the next gate h, T_g is the point's latest time times (h/g)^2, and t_g the
    earliest time times (f/g)^2, f being the gate before: at every multiple the bound then is no
    tighter than the points say. Beyond the last point its latest time stays, and it may open at
    once.
    """
    if not points:
        return ()
    grid: list[Gate] = [points[0]]
    for (low, _, latest), (high, earliest, _) in pairwise(points):
        steps = max(1, math.ceil(math.log(high / low) / math.log(STEP)))
        ratio = (high / low) ** (1.0 / steps)
        # Inside: as early as at the later point, as late as at the earlier one.
        grid += [(low * ratio**n, earliest, latest) for n in range(1, steps)]
        grid.append((high, earliest, points[_index(points, high)][2]))
    last, earliest, latest = points[-1]
    while grid[-1][0] < FARTHEST * last:
        grid.append((grid[-1][0] * STEP, AT_ONCE_S, latest))
    found: list[Gate] = []
    for n, (multiple, opens_s, by_s) in enumerate(grid):
        before = grid[n - 1][0] if n else multiple
        after = grid[n + 1][0] if n + 1 < len(grid) else multiple
        cleared = None if by_s is None else max(by_s, FASTEST_CLEARING_S) * (after / multiple) ** 2
        found.append((multiple, opens_s * (before / multiple) ** 2, cleared))
    return tuple(found)


def _index(points: Sequence[Gate], multiple: float) -> int:
    return next(n for n, point in enumerate(points) if point[0] == multiple)
