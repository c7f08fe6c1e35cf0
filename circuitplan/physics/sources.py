"""Sources with inner resistance, alone and side by side."""

from __future__ import annotations

from collections.abc import Sequence


def terminal_v(emf_v: float, inner_ohm: float, current_a: float) -> float:
    """U = E - I R [V]; a charging current is negative."""
    return emf_v - current_a * inner_ohm


def inner_ohm(emf_v: float, terminal_volts: float, current_a: float) -> float:
    """R = (E - U) / I [ohm]; a charging current is negative."""
    return (emf_v - terminal_volts) / current_a


def delivered_a(emf_v: float, terminal_volts: float, inner: float) -> float:
    """I = (E - U) / R [A]: what a source gives at its terminals' volts; negative while charged."""
    return (emf_v - terminal_volts) / inner


def parallel(emf_v: Sequence[float], ohm: Sequence[float]) -> tuple[float, float]:
    """One source equal to several side by side: (E [V], R [ohm]).

    E = sum(E_i / R_i) / sum(1 / R_i), R = 1 / sum(1 / R_i) (Millman). A resistor is a source of
    0 V. ValueError if the lists differ in length, are empty, or hold a resistance that is not
    positive.
    """
    if len(emf_v) != len(ohm) or not ohm or min(ohm) <= 0.0:
        raise ValueError("as many positive resistances as voltages are needed, at least one")
    conductance = sum(1.0 / r for r in ohm)
    return sum(e / r for e, r in zip(emf_v, ohm, strict=True)) / conductance, 1.0 / conductance


def largest_power_w(emf_v: float, inner: float) -> float:
    """E^2 / 4R [W]: the most that a source of inner resistance R [ohm] can deliver."""
    return emf_v * emf_v / (4.0 * inner)
