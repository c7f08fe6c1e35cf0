"""Steady heat of one wire in still air, and ampacity from it."""

from __future__ import annotations

import math

from circuitplan.physics.roots import bracketed

STEFAN_BOLTZMANN_W_M2_K4 = 5.670374e-8
GRAVITY_M_S2 = 9.80665
ZERO_C_IN_K = 273.15
AIR_GAS_CONSTANT_J_KG_K = 287.053
AIR_CP_J_KG_K = 3.5 * AIR_GAS_CONSTANT_J_KG_K
PRESSURE_PA = 101325.0
HIGHEST_C = 600.0
"""Above this no insulation is left and the model ends [C]."""
LEAST_MARGIN_K = 20.0
"""Below this margin to the class the square-root ambient rule errs to the unsafe side [K]."""


def air(temperature_k: float) -> tuple[float, float, float]:
    """Conductivity [W/(m K)], kinematic viscosity [m2/s] and Prandtl number of dry air, 1 atm.

    mu = 1.458e-6 T^1.5 / (T + 110.4); k = 2.64638e-3 T^1.5 / (T + 245.4 10^(-12/T));
    cp = 3.5 R. Source: U.S. Standard Atmosphere, 1976, eqs. 51 and 53 (memory).
    """
    t15 = temperature_k * math.sqrt(temperature_k)
    viscosity = 1.458e-6 * t15 / (temperature_k + 110.4)
    conductivity = 2.64638e-3 * t15 / (temperature_k + 245.4 * 10.0 ** (-12.0 / temperature_k))
    density = PRESSURE_PA / (AIR_GAS_CONSTANT_J_KG_K * temperature_k)
    return conductivity, viscosity / density, viscosity * AIR_CP_J_KG_K / conductivity


def churchill_chu_nusselt(rayleigh: float, prandtl: float) -> float:
    """Mean Nusselt number of natural convection from a long horizontal cylinder.

    Nu = (0.60 + 0.387 Ra^(1/6) / (1 + (0.559/Pr)^(9/16))^(8/27))^2, 1e-5 < Ra < 1e12.
    Source: Churchill & Chu, Int. J. Heat Mass Transfer 18 (1975) 1049.
    """
    shape = (1.0 + (0.559 / prandtl) ** 0.5625) ** (8.0 / 27.0)
    return float((0.60 + 0.387 * rayleigh ** (1.0 / 6.0) / shape) ** 2)


def convection_w_per_m(outer_mm: float, surface_c: float, ambient_c: float) -> float:
    """Natural convection from a horizontal cylinder: pi k Nu (Ts - Ta) [W/m], air at film temp."""
    difference_k = surface_c - ambient_c
    if difference_k == 0.0:
        return 0.0
    film_k = 0.5 * (surface_c + ambient_c) + ZERO_C_IN_K
    conductivity, kinematic_viscosity, prandtl = air(film_k)
    diameter_m = outer_mm * 1e-3
    rayleigh = (
        GRAVITY_M_S2
        * abs(difference_k)
        * diameter_m**3
        * prandtl
        / (film_k * kinematic_viscosity * kinematic_viscosity)
    )
    return math.pi * conductivity * churchill_chu_nusselt(rayleigh, prandtl) * difference_k


def radiation_w_per_m(
    outer_mm: float, surface_c: float, ambient_c: float, emissivity: float = 0.9
) -> float:
    """pi D eps sigma (Ts^4 - Ta^4) [W/m], temperatures taken in K."""
    surface_k = surface_c + ZERO_C_IN_K
    ambient_k = ambient_c + ZERO_C_IN_K
    area_m2_per_m = math.pi * outer_mm * 1e-3
    return area_m2_per_m * emissivity * STEFAN_BOLTZMANN_W_M2_K4 * (surface_k**4 - ambient_k**4)


def surface_loss_w_per_m(
    outer_mm: float, surface_c: float, ambient_c: float, emissivity: float = 0.9
) -> float:
    """Heat leaving a horizontal wire in still air by convection and radiation [W/m]."""
    return convection_w_per_m(outer_mm, surface_c, ambient_c) + radiation_w_per_m(
        outer_mm, surface_c, ambient_c, emissivity
    )


def insulation_k_m_per_w(
    conductor_mm: float, outer_mm: float, resistivity_k_m_per_w: float
) -> float:
    """Thermal resistance of the insulation, rho / (2 pi) ln(D / d) [K m/W].

    Source: IEC 60287-2-1, 4.1.2 (memory). ValueError unless 0 < d <= D.
    """
    if not 0.0 < conductor_mm <= outer_mm:
        raise ValueError(f"conductor {conductor_mm} mm does not fit into {outer_mm} mm")
    return resistivity_k_m_per_w / (2.0 * math.pi) * math.log(outer_mm / conductor_mm)


def _heat_at_conductor_w_per_m(
    inner_k_m_per_w: float, outer_mm: float, conductor_c: float, ambient_c: float
) -> float:
    if conductor_c <= ambient_c:
        raise ValueError(f"conductor {conductor_c} C is not above the ambient {ambient_c} C")
    if inner_k_m_per_w <= 0.0:
        return surface_loss_w_per_m(outer_mm, conductor_c, ambient_c)

    def excess(surface_c: float) -> float:
        return (
            surface_loss_w_per_m(outer_mm, surface_c, ambient_c)
            - (conductor_c - surface_c) / inner_k_m_per_w
        )

    surface_c = bracketed(excess, ambient_c, conductor_c, x_tolerance=1e-6)
    return surface_loss_w_per_m(outer_mm, surface_c, ambient_c)


def ampacity_a(
    r20_ohm_per_m: float,
    alpha_per_k: float,
    conductor_mm: float,
    outer_mm: float,
    resistivity_k_m_per_w: float,
    conductor_c: float,
    ambient_c: float,
) -> float:
    """Current at which a single horizontal wire in still air reaches ``conductor_c`` [A].

    I^2 R(T) = (T - Ts) / R_insulation = loss(Ts); the one unknown is the surface temperature Ts.
    Raw: no safety factor. ValueError unless the conductor is hotter than the ambient.
    """
    inner = insulation_k_m_per_w(conductor_mm, outer_mm, resistivity_k_m_per_w)
    heat = _heat_at_conductor_w_per_m(inner, outer_mm, conductor_c, ambient_c)
    hot_ohm_per_m = r20_ohm_per_m * (1.0 + alpha_per_k * (conductor_c - 20.0))
    return math.sqrt(heat / hot_ohm_per_m)


def conductor_temperature_c(
    r20_ohm_per_m: float,
    alpha_per_k: float,
    conductor_mm: float,
    outer_mm: float,
    resistivity_k_m_per_w: float,
    current_a: float,
    ambient_c: float,
) -> float:
    """Steady temperature of the conductor of a single wire in still air [C].

    The inverse of :func:`ampacity_a`; ``math.inf`` where it would exceed 600 C.
    """
    inner = insulation_k_m_per_w(conductor_mm, outer_mm, resistivity_k_m_per_w)
    cold_loss = current_a * current_a * r20_ohm_per_m
    if cold_loss == 0.0:
        return ambient_c

    def excess(surface_c: float) -> float:
        loss = surface_loss_w_per_m(outer_mm, surface_c, ambient_c)
        conductor_c = surface_c + loss * inner
        return loss - cold_loss * (1.0 + alpha_per_k * (conductor_c - 20.0))

    if ambient_c >= HIGHEST_C or excess(HIGHEST_C) < 0.0:
        return math.inf
    surface_c = bracketed(excess, ambient_c, HIGHEST_C, x_tolerance=1e-6)
    conductor_c = surface_c + surface_loss_w_per_m(outer_mm, surface_c, ambient_c) * inner
    return conductor_c if conductor_c <= HIGHEST_C else math.inf


def thermal_resistance_k_m_per_w(
    conductor_mm: float,
    outer_mm: float,
    resistivity_k_m_per_w: float,
    conductor_c: float,
    ambient_c: float,
) -> float:
    """(T - Ta) / heat [K m/W] from conductor to still air, with the conductor at ``conductor_c``.

    It falls as the wire gets hotter; taken at a low temperature it is on the safe side.
    """
    inner = insulation_k_m_per_w(conductor_mm, outer_mm, resistivity_k_m_per_w)
    heat = _heat_at_conductor_w_per_m(inner, outer_mm, conductor_c, ambient_c)
    return (conductor_c - ambient_c) / heat


def published_at_class(vde_a: float, class_c: float) -> float:
    """Published ampacity of a 70 C wire at 30 C, carried to another insulation class [A].

    I = I70 sqrt((T - 30) / 40 * 304.5 / (234.5 + T)): same heat path, hotter copper
    (computed; 5 to 9 % below first principles at 105 and 125 C).
    """
    return vde_a * math.sqrt((class_c - 30.0) / 40.0 * 304.5 / (234.5 + class_c))


def ambient_factor(class_c: float, ambient_c: float) -> float:
    """sqrt((Tmax - Ta) / (Tmax - 30)): ampacity at Ta over ampacity at 30 C.

    Source: rule behind DIN VDE 0298-4 table 17 and NEC 310.15(B)(1). ValueError where Tmax - Ta
    is below 20 K: there the rule exceeds first principles.
    """
    margin_k = class_c - ambient_c
    if margin_k < LEAST_MARGIN_K:
        raise ValueError(
            f"ambient {ambient_c} C leaves {margin_k:g} K to the class of {class_c} C;"
            f" at least {LEAST_MARGIN_K:g} K is needed"
        )
    return math.sqrt(margin_k / (class_c - 30.0))
