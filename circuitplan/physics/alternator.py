"""Alternator output over shaft speed. Speeds are those of the alternator's shaft [r/min]."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

CUT_IN_RPM = 1100.0
"""Speed at which a typical machine begins to charge (memory) [r/min]."""
HOT_SHARE_LOW, HOT_SHARE_HIGH = 0.67, 0.80
"""Hot over cold output up to twice the cut-in speed, and above (one machine; second-hand)."""


def output_a(
    idle_a: float, idle_rpm: float, rated_a: float, rated_rpm: float, speed_rpm: float
) -> float:
    """Output between two points of the label (ISO 8854, SAE J56), hyperbola in 1/n [A].

    I = I2 - (I2 - I1) (1/n - 1/n2) / (1/n1 - 1/n2), capped at the rated current. It lies -14 to
    +7 % about five published curves. ValueError below the idle point (no label speaks for it) or
    if the points do not rise.
    """
    if not 0.0 < idle_rpm < rated_rpm or not 0.0 <= idle_a <= rated_a:
        raise ValueError(
            f"label points must rise: {idle_a} A at {idle_rpm} r/min,"
            f" {rated_a} A at {rated_rpm} r/min"
        )
    if speed_rpm < idle_rpm:
        raise ValueError(f"{speed_rpm} r/min is below the label's {idle_rpm} r/min")
    if speed_rpm >= rated_rpm:
        return rated_a
    share = (1.0 / speed_rpm - 1.0 / rated_rpm) / (1.0 / idle_rpm - 1.0 / rated_rpm)
    return rated_a - (rated_a - idle_a) * share


def curve_a(points: Sequence[tuple[float, float]], speed_rpm: float) -> float:
    """Output read off a maker's curve of (shaft r/min, ampere), straight between points [A].

    The last point holds above it. ValueError if there are fewer than two points, if speeds do not
    rise or output falls, or for a speed below the first point.
    """
    pairs = list(pairwise(points))
    if not pairs or any(b[0] <= a[0] or b[1] < a[1] for a, b in pairs) or points[0][1] < 0.0:
        raise ValueError("a curve needs two points or more, speeds rising and output not falling")
    if speed_rpm < points[0][0]:
        raise ValueError(f"{speed_rpm} r/min is below the curve's {points[0][0]} r/min")
    for (n1, i1), (n2, i2) in pairs:
        if speed_rpm <= n2:
            return i1 + (i2 - i1) * (speed_rpm - n1) / (n2 - n1)
    return points[-1][1]


def shaft_rpm(engine_rpm: float, ratio: float) -> float:
    """n = r n_engine [r/min], r the drive ratio shaft over engine. ValueError unless r > 0."""
    if ratio <= 0.0:
        raise ValueError(f"drive ratio {ratio} is not positive")
    return engine_rpm * ratio


def regulator_v(
    set_v: float, temperature_c: float, v_per_k: float = -0.01, set_at_c: float = 20.0
) -> float:
    """U = U_set + k (T - 20) [V]: a regulator's set-point falls by 0.1 V for 10 K at 12 V.

    Source: trade texts (second-hand).
    """
    return set_v + v_per_k * (temperature_c - set_at_c)


def hot_share(speed_rpm: float, cut_in_rpm: float = CUT_IN_RPM) -> float:
    """Hot over cold output: 0.67 up to twice the cut-in speed, 0.80 above."""
    return HOT_SHARE_LOW if speed_rpm <= 2.0 * cut_in_rpm else HOT_SHARE_HIGH


def square_root_form_a(limit_a: float, cut_in_rpm: float, speed_rpm: float) -> float:
    """I = I_inf sqrt(1 - (n0 / n)^2) [A]; 0 up to the cut-in speed n0."""
    if speed_rpm <= cut_in_rpm:
        return 0.0
    return limit_a * math.sqrt(1.0 - (cut_in_rpm / speed_rpm) ** 2)


def upper_view(
    idle_a: float, idle_rpm: float, rated_a: float, rated_rpm: float, speed_rpm: float
) -> float:
    """The square-root form through the two label points [A]: 18 to 32 % high at 1800 r/min.

    An upper view only, never credited as supply. Limits as :func:`output_a`.
    """
    output_a(idle_a, idle_rpm, rated_a, rated_rpm, speed_rpm)
    # (I / Iinf)^2 = 1 - n0^2 / n^2 is a straight line in 1 / n^2.
    x1, x2 = 1.0 / idle_rpm**2, 1.0 / rated_rpm**2
    slope = (rated_a**2 - idle_a**2) / (x1 - x2)
    squared = rated_a**2 + slope * (x2 - 1.0 / speed_rpm**2)
    return min(rated_a, math.sqrt(max(0.0, squared)))


def closed_form_a(
    speed_rpm: float,
    flux_v_s: float,
    pole_pairs: float,
    phase_h: float,
    phase_ohm: float,
    volts: float,
    diode_v: float = 1.0,
) -> float:
    """Full-field output of a claw-pole machine on a diode bridge with constant voltage [A].

    (Rs^2 + X^2) I^2 + 2 V1 Rs I + V1^2 - (k w)^2 = 0, X = w Ls, w = 2 pi n / 60 p,
    V1 = 2/pi (Vo + 2 Vd), Idc = 3/pi I; 0 below cut-in. Source: after Caliskan, Perreault, Jahns,
    Kassakian, IEEE Trans. CAS-I 50 (2003) 1212 (memory). Up to 30 % high near cut-in.
    """
    omega = 2.0 * math.pi * speed_rpm / 60.0 * pole_pairs
    v1 = 2.0 / math.pi * (volts + 2.0 * diode_v)
    a = phase_ohm**2 + (omega * phase_h) ** 2
    half_b = v1 * phase_ohm
    c = v1 * v1 - (flux_v_s * omega) ** 2
    if c >= 0.0:
        return 0.0
    return 3.0 / math.pi * (-half_b + math.sqrt(half_b * half_b - a * c)) / a
