"""How fast a battery takes charge, and how long recharging takes."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Acceptance:
    """Largest charging current over charge: steady to ``taper_from``, then straight to 0 at full.

    ``efficiency`` is charge got out over charge put in. A straight taper makes the charge
    approach full exponentially, as at a constant charging voltage.
    """

    full_rate_a: float
    taper_from: float
    efficiency: float

    def __post_init__(self) -> None:
        sound = 0.0 < self.taper_from < 1.0 and 0.0 < self.efficiency <= 1.0
        if self.full_rate_a < 0.0 or not sound:
            raise ValueError(f"no such acceptance: {self}")

    def current_a(self, share: float) -> float:
        """Largest charging current at a charge of 0 to 1 [A]; 0 above full."""
        if share <= self.taper_from:
            return self.full_rate_a
        return max(0.0, self.full_rate_a * (1.0 - share) / (1.0 - self.taper_from))

    def recharge_h(
        self, capacity_ah: float, start: float, target: float, surplus_a: float
    ) -> float | None:
        """Hours from charge ``start`` to ``target`` with ``surplus_a`` to spare [h].

        The current is the surplus while the battery would take more, then what it takes. 0 if the
        target is reached already; None if there is nothing to spare or the target is full.
        """
        if start >= target:
            return 0.0
        most_a = min(surplus_a, self.full_rate_a)
        if most_a <= 0.0 or target >= 1.0:
            return None
        # Above this charge the battery, not the source, sets the current.
        knee = 1.0 - (1.0 - self.taper_from) * most_a / self.full_rate_a
        hours = 0.0
        if start < knee:
            hours = (min(knee, target) - start) * capacity_ah / (self.efficiency * most_a)
        if target > knee:
            tau_h = (1.0 - self.taper_from) * capacity_ah / (self.efficiency * self.full_rate_a)
            hours += tau_h * math.log((1.0 - max(start, knee)) / (1.0 - target))
        return hours


def acceptance_cold_share(temperature_c: float) -> float:
    """Share of the warm acceptance left in the cold: half for every 25 K below 25 C (judgement)."""
    return float(min(1.0, 0.5 ** ((25.0 - temperature_c) / 25.0)))
