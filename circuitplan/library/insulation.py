"""Insulation classes: temperature, heat flow through the wall, short-circuit constants.

A bare temperature is an unknown material: its end temperature in a short circuit is class + 50 K,
and its thermal resistivity that of PVC.
"""

from __future__ import annotations

import re
from functools import cache

from circuitplan.library import store
from circuitplan.model.record import record

_WRITTEN = re.compile(r"(\d+(?:\.\d+)?)\s*(?:(?:°\s*|deg\s*)?C\b)?\s*(.*)", re.IGNORECASE)


@record
class Insulation:
    """One insulation.

    ``class_c``: highest continuous conductor temperature [°C]; ``final_c``: highest temperature
    after a short circuit [°C]; ``k_copper`` and ``k_aluminium``: adiabatic constants from class
    to final temperature [A·s^0.5/mm²]; ``material`` is None where it was not declared.
    """

    label: str
    class_c: float
    material: str | None
    resistivity_k_m_per_w: float
    k_copper: float
    k_aluminium: float
    final_c: float
    status: str
    source: str


@cache
def all_of() -> tuple[Insulation, ...]:
    """Every insulation, in table order."""
    return tuple(
        Insulation(
            row["name"],
            float(row["class_c"]),
            row["material"] or None,
            float(row["thermal_resistivity_k_m_per_w"]),
            float(row["k_copper"]),
            float(row["k_aluminium"]),
            float(row["final_c"]),
            row["status"],
            row["source"],
        )
        for row in store.rows("insulation_classes")
    )


def classes() -> tuple[float, ...]:
    """All class temperatures, ascending. [°C]"""
    return tuple(sorted({insulation.class_c for insulation in all_of()}))


def get(class_c: float, material: str | None = None) -> Insulation | None:
    """The insulation of a class [°C] and a declared material, or None if the table has no such."""
    wanted = material_name(material) if material else None
    if material and wanted is None:
        return None
    for insulation in all_of():
        if insulation.class_c == class_c and insulation.material == wanted:
            return insulation
    return None


def material_name(words: str) -> str | None:
    """The table's name of an insulating material: XLPE and crosslinked are cross-linked."""
    plain = " ".join(words.lower().replace("-", " ").split())
    for row in store.rows("insulation_materials"):
        if plain in (row["material"].lower().replace("-", " "), *row["aliases"].split(";")):
            return row["material"]
    return None


def find(text: str) -> Insulation | None:
    """The insulation as people write it: "105 °C", "105 C PVC", "125 °C cross-linked"."""
    match = re.fullmatch(
        r"\s*(\d+(?:\.\d+)?)\s*(?:°\s*C|deg\s*C|C)?\b\s*(.*?)\s*", text, re.IGNORECASE
    )
    if match is None:
        return None
    return get(float(match.group(1)), match.group(2) or None)
