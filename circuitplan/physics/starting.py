"""How a load starts at other volts and behind other wire than its nameplate was measured with.

A start is a peak that fades: I(t) = Irun + (Ipeak - Irun) exp(-t / tau).
"""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Start:
    """Running current [A], current at switching on [A], time constant of its fading [s]."""

    running_a: float
    peak_a: float
    tau_s: float

    def current_a(self, seconds: float) -> float:
        """Current after some time [A]."""
        return self.running_a + (self.peak_a - self.running_a) * math.exp(-seconds / self.tau_s)

    def lasts_s(self, current_a: float) -> float:
        """How long the current stays at or above ``current_a`` [s]; inf at the running current."""
        if current_a > self.peak_a:
            return 0.0
        if current_a <= self.running_a:
            return math.inf
        return self.tau_s * math.log((self.peak_a - self.running_a) / (current_a - self.running_a))


def motor_tau_s(
    inertia_kg_m2: float, winding_ohm: float, loop_ohm: float, constant_v_s: float
) -> float:
    """Mechanical time constant J (Ra + Rloop) / k^2 [s] of a permanent-magnet motor.

    From J dw/dt = k i - M and U = i (Ra + Rloop) + k w, winding inductance left out: with it the
    peak is lower. Any textbook on drives.
    """
    return inertia_kg_m2 * (winding_ohm + loop_ohm) / (constant_v_s * constant_v_s)


def motor_start(
    volts_v: float, winding_ohm: float, loop_ohm: float, inertia_kg_m2: float,
    constant_v_s: float, running_a: float,
) -> Start:
    """Start of a permanent-magnet motor against a constant torque k ``running_a``.

    Peak U / (Ra + Rloop), fading with :func:`motor_tau_s`. ValueError if the running current is
    not below the peak: it would not start.
    """
    peak = volts_v / (winding_ohm + loop_ohm)
    if running_a >= peak:
        raise ValueError(f"{running_a} A to run and {peak} A at stall: it does not start")
    return Start(
        running_a, peak, motor_tau_s(inertia_kg_m2, winding_ohm, loop_ohm, constant_v_s)
    )


def behind_wire(
    peak_a: float, rated_v: float, tau_s: float, running_a: float, volts_v: float,
    loop_ohm: float = 0.0,
) -> Start:
    """A start measured as ``peak_a`` and ``tau_s`` at ``rated_v``, at other volts behind a loop.

    Ra = Ur / Ipeak; the peak is U / (Ra + Rloop), its time constant grows as (Ra + Rloop) / Ra.
    The safe side for a fuse is high volts and no loop: I^2 t goes with U^2 / (Ra + Rloop).
    """
    winding = rated_v / peak_a
    peak = max(volts_v / (winding + loop_ohm), running_a)
    return Start(running_a, peak, tau_s * (winding + loop_ohm) / winding)
