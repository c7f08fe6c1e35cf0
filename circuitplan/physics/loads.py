"""What loads draw: steady over voltage, on a duty cycle, and while starting."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence


def current_at(rated_a: float, rated_v: float, volts_v: float, exponent: float) -> float:
    """I = Ir (U / Ur)^m [A].

    m = -1 constant power, 0 constant current or torque, 0.55 filament, 1 resistance,
    1.65 fan or centrifugal pump. ValueError unless both voltages are positive.
    """
    if rated_v <= 0.0 or volts_v <= 0.0:
        raise ValueError(f"voltages must be positive, not {rated_v} V and {volts_v} V")
    return float(rated_a * (volts_v / rated_v) ** exponent)


def largest_current(
    parts: Sequence[tuple[float, float, float]], low_v: float, high_v: float
) -> float:
    """Largest sum of loads (rated_a, rated_v, exponent) with low_v <= U <= high_v [A].

    A sum of powers of U is convex in ln U, so its maximum lies at an end.
    """
    return max(
        sum(current_at(rated_a, rated_v, volts, m) for rated_a, rated_v, m in parts)
        for volts in (low_v, high_v)
    )


def rms_share(peak_a: float, duty: float) -> float:
    """I sqrt(D) [A]: what heats wire and fuse when a load is switched at high rate, 0 <= D <= 1."""
    if not 0.0 <= duty <= 1.0:
        raise ValueError(f"duty {duty} is outside 0 to 1")
    return peak_a * math.sqrt(duty)


def rms_over_cycle_a(steps: Iterable[tuple[float, float]]) -> float:
    """Root of the mean square of (current_a, seconds) steps [A]; ValueError if no time passes."""
    energy = seconds = 0.0
    for current_a, duration_s in steps:
        energy += current_a * current_a * duration_s
        seconds += duration_s
    if seconds <= 0.0:
        raise ValueError("a cycle needs some time")
    return math.sqrt(energy / seconds)


def capacitor_peak_a(volts_v: float, loop_ohm: float) -> float:
    """I = U / R at the moment an empty capacitor is connected [A]."""
    return volts_v / loop_ohm


def capacitor_i2t(volts_v: float, capacitance_f: float, loop_ohm: float) -> float:
    """Integral of I^2 dt while a capacitor charges, U^2 C / (2 R) [A2 s]."""
    return volts_v * volts_v * capacitance_f / (2.0 * loop_ohm)


def capacitor_v(volts_v: float, loop_ohm: float, capacitance_f: float, seconds: float) -> float:
    """U (1 - exp(-t / RC)) [V] across a charging capacitor, empty at t = 0."""
    return -volts_v * math.expm1(-seconds / (loop_ohm * capacitance_f))


def inductor_a(volts_v: float, loop_ohm: float, inductance_h: float, seconds: float) -> float:
    """I = U/R (1 - exp(-t R/L)) [A] through a coil switched on at t = 0."""
    return -volts_v / loop_ohm * math.expm1(-seconds * loop_ohm / inductance_h)


def rated_ohm(rated_v: float, rated_a: float) -> float:
    """R = Ur / Ir [ohm] of a load at its rating."""
    return rated_v / rated_a


def cold_filament_ratio(hot_k: float, cold_k: float, exponent: float = 1.2) -> float:
    """R_hot / R_cold of tungsten = (T_hot / T_cold)^1.2, temperatures in K.

    Also the ratio of cold to hot current at one voltage (status of 1.2: second-hand).
    """
    return float((hot_k / cold_k) ** exponent)


def stall_a(volts_v: float, winding_ohm: float, loop_ohm: float = 0.0) -> float:
    """Current of a motor that does not turn, U / (Rw + Rloop) [A]."""
    return volts_v / (winding_ohm + loop_ohm)


def back_emf_v(volts_v: float, current_a: float, winding_ohm: float) -> float:
    """E = U - I Rw [V] of a running DC motor."""
    return volts_v - current_a * winding_ohm


def running_motor_a(volts_v: float, back_emf: float, winding_ohm: float) -> float:
    """I = (U - E) / Rw [A] of a running DC motor."""
    return (volts_v - back_emf) / winding_ohm


def decaying_inrush_a(running_a: float, multiple: float, tau_s: float, seconds: float) -> float:
    """I(t) = Irun (1 + (M - 1) exp(-t / tau)) [A]: starts at M times the running current."""
    return running_a * (1.0 + (multiple - 1.0) * math.exp(-seconds / tau_s))
