"""Heating of a wire over time, and what melts it.

One body: C dT/dt = I^2 R20 (1 + alpha (T - 20)) - (T - Ta) / Rth, all per metre of wire.
The equation is linear in T, so every answer is a closed form.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

COPPER_J_PER_M3_K = 3.45e6
"""Volumetric heat capacity of copper (IEC 60949; memory)."""
INSULATION_J_PER_M3_K = 1.25e6
"""PVC: 1390 kg/m3 times 900 J/(kg K) (DIN EN 12524:2000)."""
MM_PER_INCH = 25.4


def heat_capacity_j_per_m_k(area_mm2: float, conductor_mm: float, outer_mm: float) -> float:
    """3.45e6 S + 1.25e6 A_insulation / 2 [J/(m K)].

    Half of the insulation counts: its outside lags behind the conductor (judgement).
    """
    insulation_mm2 = math.pi / 4.0 * (outer_mm * outer_mm - conductor_mm * conductor_mm)
    return 1e-6 * (COPPER_J_PER_M3_K * area_mm2 + INSULATION_J_PER_M3_K * insulation_mm2 / 2.0)


@dataclass(frozen=True, slots=True)
class Body:
    """A metre of wire: r20 [ohm/m], alpha [1/K], thermal resistance to the air [K m/W],
    heat capacity [J/(m K)] and ambient [C]."""

    r20_ohm_per_m: float
    alpha_per_k: float
    thermal_k_m_per_w: float
    heat_capacity_j_per_m_k: float
    ambient_c: float

    def _rates(self, current_a: float) -> tuple[float, float]:
        """dT/dt = a - b T, as (a [K/s], b [1/s])."""
        loss20 = current_a * current_a * self.r20_ohm_per_m
        conductance = 1.0 / self.thermal_k_m_per_w
        a = loss20 * (1.0 - 20.0 * self.alpha_per_k) + conductance * self.ambient_c
        b = conductance - loss20 * self.alpha_per_k
        return a / self.heat_capacity_j_per_m_k, b / self.heat_capacity_j_per_m_k


def _rise_factor(b: float, seconds: float) -> float:
    """(1 - exp(-b t)) / b, also for b near or below zero."""
    x = b * seconds
    if abs(x) < 1e-12:
        return seconds
    if x < -700.0:
        return math.inf
    return -math.expm1(-x) / b


def temperature_after(body: Body, start_c: float, current_a: float, seconds: float) -> float:
    """Temperature after a steady current for some time [C]; inf in thermal runaway."""
    a, b = body._rates(current_a)
    return start_c + (a - b * start_c) * _rise_factor(b, seconds)


def time_to(body: Body, start_c: float, current_a: float, target_c: float) -> float:
    """Seconds until the wire reaches ``target_c``; 0 if it is there, inf if it never gets there."""
    if start_c >= target_c:
        return 0.0
    a, b = body._rates(current_a)
    speed = a - b * start_c
    if speed <= 0.0:
        return math.inf
    share = b * (target_c - start_c) / speed
    if share >= 1.0:
        return math.inf
    if abs(share) < 1e-12:
        return (target_c - start_c) / speed
    return -math.log1p(-share) / b


def periodic_peak(
    body: Body, current_a: float, on_s: float, off_s: float, off_current_a: float = 0.0
) -> float:
    """Highest temperature once a cycle of on and off has repeated itself for long [C].

    Both halves are affine in the starting temperature; the peak is the fixed point of one whole
    cycle. ``math.inf`` if every cycle ends hotter than the one before, without limit.
    """
    a_on, b_on = body._rates(current_a)
    a_off, b_off = body._rates(off_current_a)
    if -(b_on * on_s + b_off * off_s) >= 0.0:
        return math.inf
    keep_on, keep_off = math.exp(-b_on * on_s), math.exp(-b_off * off_s)
    gain_on, gain_off = a_on * _rise_factor(b_on, on_s), a_off * _rise_factor(b_off, off_s)
    return (gain_on + keep_on * gain_off) / (1.0 - keep_on * keep_off)


def adiabatic_k(
    initial_c: float, final_c: float, constant: float = 226.0, beta: float = 234.5
) -> float:
    """k = K sqrt(ln((beta + Tf) / (beta + Ti))) [A s^0.5 / mm2].

    Copper K 226, beta 234.5; aluminium 148, 228. Source: IEC 60949; IEC 60364-5-54 annex A
    (memory). ValueError unless the final temperature is the higher one.
    """
    if final_c <= initial_c:
        raise ValueError(f"final {final_c} C is not above initial {initial_c} C")
    return constant * math.sqrt(math.log((beta + final_c) / (beta + initial_c)))


def adiabatic_time_s(k: float, area_mm2: float, current_a: float) -> float:
    """t = (k S / I)^2 [s]: how long a conductor withstands a fault; good to about 5 s.

    Source: IEC 60364-4-43, 434.5.2 (memory).
    """
    return (k * area_mm2 / current_a) ** 2


def preece_a(diameter_mm: float, constant_a_per_in15: float = 10244.0) -> float:
    """Fusing current of a wire in open air, I = C d^1.5, d in inches [A].

    Copper 10244, aluminium 7585 A/in^1.5. Source: Preece 1884, as quoted in handbooks.
    """
    return float(constant_a_per_in15 * (diameter_mm / MM_PER_INCH) ** 1.5)


def onderdonk_a(
    circular_mil: float, seconds: float, ambient_c: float = 25.0, melting_c: float = 1083.0
) -> float:
    """Adiabatic fusing current of copper [A].

    I = A sqrt(log10((Tm - Ta) / (234 + Ta) + 1) / (33 t)), A in circular mil. ValueError outside
    0 to 10 s, where it is no longer adiabatic. Source: Onderdonk, as quoted in handbooks.
    """
    if not 0.0 < seconds <= 10.0:
        raise ValueError(f"{seconds} s is outside 0 to 10 s")
    rise = math.log10((melting_c - ambient_c) / (234.0 + ambient_c) + 1.0)
    return circular_mil * math.sqrt(rise / (33.0 * seconds))


def icea_a(circular_mil: float, seconds: float, initial_c: float, final_c: float) -> float:
    """Short-circuit current of copper by (I/A)^2 t = 0.0297 log10((T2 + 234)/(T1 + 234)) [A].

    A in circular mil. Source: ICEA P-32-382.
    """
    rise = math.log10((final_c + 234.0) / (initial_c + 234.0))
    return circular_mil * math.sqrt(0.0297 * rise / seconds)
