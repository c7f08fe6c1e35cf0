"""One bracketed root finder, small enough to import in no time."""

from __future__ import annotations

from collections.abc import Callable


def bracketed(
    function: Callable[[float], float],
    low: float,
    high: float,
    x_tolerance: float = 1e-9,
    max_evaluations: int = 100,
) -> float:
    """Root of ``function`` in [low, high], whose values there differ in sign.

    Chandrupatla's method: inverse quadratic interpolation where it is safe, else bisection.
    Returns x with |x - root| <= x_tolerance, in the unit of the argument.

    Raises ValueError if the ends do not bracket a root.
    Source: T. R. Chandrupatla, Advances in Engineering Software 28 (1997) 145-149.
    """
    b, a = low, high
    fb, fa = function(b), function(a)
    if fb == 0.0:
        return b
    if fa == 0.0:
        return a
    if (fa > 0.0) == (fb > 0.0):
        raise ValueError(f"no change of sign between {low} ({fb}) and {high} ({fa})")
    c, fc = a, fa
    t = 0.5
    for _ in range(max_evaluations):
        x = a + t * (b - a)
        fx = function(x)
        if (fx > 0.0) == (fa > 0.0):
            c, fc = a, fa
        else:
            c, b, fc, fb = b, a, fb, fa
        a, fa = x, fx
        best = a if abs(fa) < abs(fb) else b
        width = abs(b - a)
        if fa == 0.0 or width <= x_tolerance:
            return best
        least_step = 0.5 * x_tolerance / width
        xi = (a - b) / (c - b)
        phi = (fa - fb) / (fc - fb)
        if phi * phi < xi and (1.0 - phi) ** 2 < 1.0 - xi:
            t = fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (
                fc - fb
            )
        else:
            t = 0.5
        t = min(max(t, least_step), 1.0 - least_step)
    return best
