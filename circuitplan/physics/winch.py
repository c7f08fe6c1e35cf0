"""Current of a winch over its pull."""

from __future__ import annotations


def current_a(pull_n: float, no_load_a: float, rated_a: float, rated_pull_n: float) -> float:
    """I = I0 + (Ir - I0) F / Fr [A]: a DC motor's current is linear in torque.

    Pulls on the first rope layer. ValueError for a pull below 0 or above the rated one.
    """
    if not 0.0 <= pull_n <= rated_pull_n:
        raise ValueError(f"pull {pull_n} N is outside 0 to the rated {rated_pull_n} N")
    return no_load_a + (rated_a - no_load_a) * pull_n / rated_pull_n
