"""Wires that heat each other."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from circuitplan.physics.heat import insulation_k_m_per_w, surface_loss_w_per_m
from circuitplan.physics.roots import bracketed

BUNDLE_W_PER_M_K = 0.15
"""Conductivity of a bundle taken as one body, wires and air (judgement)."""
LEAST_LOADING = 0.2
"""The lowest loading of the bundle tables."""

# Diameter of the smallest circle round N equal circles of diameter 1.
# Source: optimal packings (memory; 2 to 7, 19 exact).
_CIRCLE_ROUND = {
    1: 1.0, 2: 2.0, 3: 2.1547, 4: 2.4142, 5: 2.7013, 6: 3.0, 7: 3.0, 8: 3.3048, 9: 3.6131,
    10: 3.8130, 11: 3.9238, 12: 4.0296, 13: 4.2361, 14: 4.3284, 15: 4.5214, 16: 4.6154,
    17: 4.7920, 18: 4.8637, 19: 4.8637,
}  # fmt: skip


def loading(current_sum_a: float, ampacity_sum_a: float) -> float:
    """Sum of the currents on together over sum of the derated ampacities, at least 0.2.

    ValueError unless the ampacities sum to more than nothing.
    """
    if ampacity_sum_a <= 0.0:
        raise ValueError(f"ampacity sum {ampacity_sum_a} A is not positive")
    return max(LEAST_LOADING, current_sum_a / ampacity_sum_a)


def factor_at(loadings: Sequence[float], factors: Sequence[float], at: float) -> float:
    """Factor at a loading, linear between the columns of one row of a bundle table.

    Below the first column the first factor; above the last the last (then ampacity rules).
    """
    if at <= loadings[0]:
        return factors[0]
    columns = zip(loadings, factors, strict=True)
    for (low, f_low), (high, f_high) in pairwise(columns):
        if at <= high:
            return f_low + (f_high - f_low) * (at - low) / (high - low)
    return factors[-1]


def settled_factor(
    current_sum_a: float,
    ampacity_sum_a: float,
    loadings: Sequence[float],
    factors: Sequence[float],
) -> tuple[float, float]:
    """Bundle factor f and loading L that agree: L = sum I / (f sum Iz), f = factor(L).

    ``ampacity_sum_a`` is derated by ambient only. Iterated from the factor at full load, so the
    lowest factor that agrees is found: the safe one. A loading above 1 means overload.
    """
    factor = factor_at(loadings, factors, loadings[-1])
    for _ in range(200):
        at = loading(current_sum_a, factor * ampacity_sum_a)
        better = factor_at(loadings, factors, at)
        if better <= factor + 1e-12:
            break
        factor = better
    return factor, loading(current_sum_a, factor * ampacity_sum_a)


def bundle_diameter_mm(wires: int, outer_mm: float) -> float:
    """Diameter of a tight bundle of 1 to 19 equal wires [mm]; ValueError outside."""
    if wires not in _CIRCLE_ROUND:
        raise ValueError(f"{wires} wires is outside 1 to 19")
    return _CIRCLE_ROUND[wires] * outer_mm


def heated_cylinder_ampacity_a(
    wires: int,
    r20_ohm_per_m: float,
    alpha_per_k: float,
    conductor_mm: float,
    outer_mm: float,
    resistivity_k_m_per_w: float,
    conductor_c: float,
    ambient_c: float,
) -> float:
    """Current of each of N equal, fully loaded wires that brings the hottest to its limit [A].

    The bundle is a cylinder of 0.15 W/(m K) with even heat: centre over surface by q / (4 pi k).
    A wire in the middle adds nothing of its own: its insulation is part of the body, as long as
    the body's drop exceeds that of the insulation; else the insulation rules.
    """
    hot_ohm_per_m = r20_ohm_per_m * (1.0 + alpha_per_k * (conductor_c - 20.0))
    diameter_mm = bundle_diameter_mm(wires, outer_mm)
    own_k_m_per_w = insulation_k_m_per_w(conductor_mm, outer_mm, resistivity_k_m_per_w) / wires
    inner_k_m_per_w = max(1.0 / (4.0 * math.pi * BUNDLE_W_PER_M_K), own_k_m_per_w)

    def excess(surface_c: float) -> float:
        return (
            surface_loss_w_per_m(diameter_mm, surface_c, ambient_c)
            - (conductor_c - surface_c) / inner_k_m_per_w
        )

    surface_c = bracketed(excess, ambient_c, conductor_c, x_tolerance=1e-6)
    heat = surface_loss_w_per_m(diameter_mm, surface_c, ambient_c)
    return math.sqrt(heat / (wires * hot_ohm_per_m))
