"""The weight of copper wire."""

from __future__ import annotations

KG_PER_M_MM2 = 8.96e-3
"""Copper at 20 °C, 8.96 g/cm³ (handbooks; from memory; IEC 60028 has 8.89 for annealed wire)."""


def mass_kg(area_mm2: float, length_m: float) -> float:
    """Copper in a wire of that section and length, insulation not counted [kg]."""
    return area_mm2 * length_m * KG_PER_M_MM2
