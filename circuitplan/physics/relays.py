"""Relay coils over temperature, and what a switch contact may carry."""

from __future__ import annotations

from collections.abc import Sequence

from circuitplan.physics.resistance import COPPER_BETA


def hot_pick_up_v(pick_up_v: float, coil_c: float, reference_c: float = 23.0) -> float:
    """U_pick (234.5 + T_coil) / (234.5 + 23) [V].

    A relay pulls in at a current; a hot copper coil needs more volts to draw it.
    """
    return pick_up_v * (COPPER_BETA + coil_c) / (COPPER_BETA + reference_c)


def coil_current(
    volts: float, ohm: float, temperature_c: float, reference_c: float = 20.0
) -> float:
    """I = U / (R (234.5 + T) / (234.5 + T_ref)) [A]; R is the coil's value at the reference."""
    return volts * (COPPER_BETA + reference_c) / (ohm * (COPPER_BETA + temperature_c))


def usable_a(rating_a: float, factor: float) -> float:
    """Rating / factor [A]: what a contact may carry of one class of load.

    Source of the factors: FAA AC 43.13-1B, Table 11-4. ValueError for a factor below 1.
    """
    if factor < 1.0:
        raise ValueError(f"derating factor {factor} is below 1")
    return rating_a / factor


def needed_rating_a(loads: Sequence[tuple[float, float]]) -> float:
    """Sum of current times factor over (current_a, factor) loads on at one time [A]."""
    return sum(current_a * factor for current_a, factor in loads)


def usable_of_mix_a(rating_a: float, loads: Sequence[tuple[float, float]]) -> float:
    """Rating * sum I / sum (I factor) [A]: usable current at the present mix of load classes.

    ``loads`` holds (current_a, factor) pairs; without current the largest factor rules.
    """
    total_a = sum(current_a for current_a, _ in loads)
    if total_a <= 0.0:
        return usable_a(rating_a, max((factor for _, factor in loads), default=1.0))
    return rating_a * total_a / needed_rating_a(loads)
