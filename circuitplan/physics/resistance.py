"""Resistance of conductors: temperature, gauge number, resistivity, run length."""

from __future__ import annotations

import math

COPPER_RHO20_OHM_M = 1.7241e-8
"""Annealed copper at 20 C, 100 % IACS (IEC 60028; second-hand) [ohm m]."""
COPPER_ALPHA = 0.00393
"""Temperature coefficient of copper at 20 C (IEC 60028; memory) [1/K]."""
COPPER_BETA = 234.5
"""Copper: minus the temperature of zero resistance (IEC 60949; AC 43.13-1B 11-66 d) [C]."""
ALUMINIUM_RHO20_OHM_M = 2.8264e-8
"""Aluminium at 20 C (IEC 60889; second-hand) [ohm m]."""
ALUMINIUM_ALPHA = 0.00403
"""Temperature coefficient of aluminium at 20 C (IEC 60889; memory) [1/K]."""
ALUMINIUM_BETA = 228.0
"""Aluminium: minus the temperature of zero resistance (IEC 60949; memory) [C]."""

MM2_PER_CIRCULAR_MIL = math.pi / 4.0 * 0.0254**2
METRES_PER_1000_FT = 304.8


def at_temperature(r20_ohm: float, temperature_c: float, alpha_per_k: float) -> float:
    """R(T) = R20 (1 + alpha20 (T - 20)); R20 in ohm or ohm/m, T in C, alpha in 1/K.

    Source: IEC 60287-1-1, 2.1.1 (memory).
    """
    return r20_ohm * (1.0 + alpha_per_k * (temperature_c - 20.0))


def temperature_at_ratio(ratio: float, alpha_per_k: float, reference_c: float = 20.0) -> float:
    """T0 + (r - 1) / alpha [C]: where resistance is ``ratio`` times that at the reference."""
    return reference_c + (ratio - 1.0) / alpha_per_k


def from_resistivity(rho_ohm_m: float, length_m: float, area_mm2: float) -> float:
    """R = rho L / A [ohm]; rho in ohm m, L in m, A in mm2. ValueError unless A is positive."""
    if area_mm2 <= 0.0:
        raise ValueError(f"area {area_mm2} mm2 is not positive")
    return rho_ohm_m * length_m / (area_mm2 * 1e-6)


def length_for(resistance_ohm: float, rho_ohm_m: float, area_mm2: float) -> float:
    """Length of wire with a given resistance, L = R A / rho [m]."""
    return resistance_ohm * area_mm2 * 1e-6 / rho_ohm_m


def circle_area_mm2(diameter_mm: float) -> float:
    """A = pi d^2 / 4 [mm2]."""
    return math.pi / 4.0 * diameter_mm * diameter_mm


def circular_mil_to_mm2(circular_mil: float) -> float:
    """Area of a circle of one mil (0.0254 mm) diameter is one circular mil."""
    return circular_mil * MM2_PER_CIRCULAR_MIL


def mm2_to_circular_mil(area_mm2: float) -> float:
    """Inverse of :func:`circular_mil_to_mm2`."""
    return area_mm2 / MM2_PER_CIRCULAR_MIL


def per_1000_ft(ohm_per_m: float) -> float:
    """ohm/m as ohm per 1000 ft."""
    return ohm_per_m * METRES_PER_1000_FT


def awg_diameter_mm(number: int) -> float:
    """d = 0.127 mm * 92^((36 - n)/39); 1/0 is 0, 2/0 is -1, 3/0 is -2, 4/0 is -3.

    Raises ValueError outside 4/0 to 40. Source: ASTM B258.
    """
    if not -3 <= number <= 40:
        raise ValueError(f"AWG number {number} is outside -3 (4/0) to 40")
    return float(0.127 * 92.0 ** ((36 - number) / 39.0))


def awg_area_mm2(number: int) -> float:
    """Area of the solid round wire of an AWG number [mm2]. Source: ASTM B258."""
    return circle_area_mm2(awg_diameter_mm(number))


def awg_number(diameter_mm: float) -> float:
    """n = 36 - 39 log92(d / 0.127 mm), not rounded. ValueError unless d is positive."""
    if diameter_mm <= 0.0:
        raise ValueError(f"diameter {diameter_mm} mm is not positive")
    return 36.0 - 39.0 * math.log(diameter_mm / 0.127) / math.log(92.0)


def drop_v(ohm_per_m: float, length_m: float, current_a: float) -> float:
    """Voltage lost in one conductor, U = r L I [V]."""
    return ohm_per_m * length_m * current_a


def longest_run_m(allowed_v: float, ohm_per_m: float, current_a: float) -> float:
    """Longest single conductor that keeps within a drop, L = U / (r I) [m]."""
    return allowed_v / (ohm_per_m * current_a)


def ac4313_run_length(length_at_20c: float, conductor_c: float) -> float:
    """L2 = 254.5 L1 / (234.5 + T2): copper run length at conductor temperature T2, unit of L1.

    Source: FAA AC 43.13-1B CHG 1 (2001), 11-66 d (4).
    """
    return (COPPER_BETA + 20.0) * length_at_20c / (COPPER_BETA + conductor_c)


def ac4313_conductor_c(
    ambient_c: float, rated_c: float, current_a: float, max_current_a: float
) -> float:
    """T2 = T1 + (TR - T1) sqrt(I2/Imax) [C]: a high estimate; heat itself goes with the square.

    Source: FAA AC 43.13-1B CHG 1 (2001), 11-66 d (6) (memory).
    """
    return ambient_c + (rated_c - ambient_c) * math.sqrt(current_a / max_current_a)
