"""Current of a winch over its pull."""

from __future__ import annotations


def current_a(pull_n: float, no_load_a: float, rated_a: float, rated_pull_n: float) -> float:
    """I = I0 + (Ir - I0) F / Fr [A]: a DC motor's current is linear in torque.

    Pulls on the first rope layer. ValueError for a pull below 0 or above the rated one.
    """
    if not 0.0 <= pull_n <= rated_pull_n:
        raise ValueError(f"pull {pull_n} N is outside 0 to the rated {rated_pull_n} N")
    return no_load_a + (rated_a - no_load_a) * pull_n / rated_pull_n


def pull_charge_ah(drawn_a: float, seconds: float) -> float:
    """I t / 3600 [Ah] of one pull at a steady line pull."""
    return drawn_a * seconds / 3600.0


def pull_energy_wh(drawn_a: float, volts: float, seconds: float) -> float:
    """U I t / 3600 [Wh] of one pull, U the volts at the battery posts."""
    return volts * drawn_a * seconds / 3600.0
