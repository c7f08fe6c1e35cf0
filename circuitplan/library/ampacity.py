"""Published ampacities of single wires in free air at 30 °C.

AWG and SAE sizes: 33 CFR 183.425 Table 5. Metric sizes: DIN VDE 0298-4 table 11 (70 °C PVC),
carried to the class T by sqrt((T - 30)/40 * 304.5/(234.5 + T)). Above 125 °C the 125 °C value
stands. Outside a table's sizes there is no value: nothing is extended.
"""

from __future__ import annotations

import math
from functools import cache

from circuitplan.library import store
from circuitplan.library.conductors import Conductor
from circuitplan.model.record import record

HIGHEST_CLASS_C = 125.0
_SLACK = 1 + 1e-9


@record
class Published:
    """A published current of a single wire at 30 °C [A], and whose it is."""

    current_a: float
    source: str
    status: str


@cache
def published(conductor: Conductor, insulation_class_c: float) -> Published | None:
    """Published ampacity [A] of a single wire at 30 °C, or None outside the table.

    A class between two columns takes the lower one; an intermediate metric size takes the value of
    the next smaller size in the table.
    """
    if conductor.gauge in ("awg", "sae"):
        return _column("ampacity_33cfr183_425", conductor.size, insulation_class_c)
    return _from_vde(conductor.area_mm2, insulation_class_c)


def small_craft(conductor: Conductor, insulation_class_c: float) -> Published | None:
    """ISO 10133 table A.1 [A] for a metric size, 33 CFR 183.425 for the others, or None."""
    if conductor.gauge in ("awg", "sae"):
        return published(conductor, insulation_class_c)
    sizes = {float(row["size"]): row["size"] for row in store.rows("ampacity_iso_10133_a1")}
    fitting = [area for area in sizes if area <= conductor.area_mm2 * _SLACK]
    if not fitting or conductor.area_mm2 > max(sizes) * _SLACK:
        return None
    return _column("ampacity_iso_10133_a1", sizes[max(fitting)], insulation_class_c)


def table(name: str) -> tuple[dict[str, str], ...]:
    """The rows of one ampacity table as they stand, for display."""
    return store.rows(name)


def class_factor(class_c: float) -> float:
    """Ampacity at class T against that at 70 °C, both at 30 °C: I²·R(T) in step with T - 30. [-]

    sqrt((T - 30)/40 * 304.5/(234.5 + T)); 234.5 °C is copper's (IEC 60028). Raises ValueError at
    or below 30 °C.
    """
    if class_c <= 30.0:
        raise ValueError(f"an insulation class of {class_c} °C carries nothing at 30 °C")
    return math.sqrt((class_c - 30.0) / 40.0 * 304.5 / (234.5 + class_c))


@cache
def _by_size(name: str) -> dict[str, tuple[tuple[float, float, str, str], ...]]:
    """size -> (class, ampacity, status, source), ascending in class."""
    found: dict[str, list[tuple[float, float, str, str]]] = {}
    for row in store.rows(name):
        entry = (float(row["class_c"]), float(row["ampacity_a"]), row["status"], row["source"])
        found.setdefault(row["size"], []).append(entry)
    return {size: tuple(sorted(entries)) for size, entries in found.items()}


def _column(name: str, size: str, class_c: float) -> Published | None:
    """The entry of the highest column not above the class and not above 125 °C."""
    best = None
    for column_c, current_a, status, source in _by_size(name).get(size, ()):
        if column_c <= min(class_c, HIGHEST_CLASS_C):
            best = Published(current_a, source, status)
    return best


def _from_vde(area_mm2: float, class_c: float) -> Published | None:
    if class_c < 60.0:
        return None
    sizes = sorted(
        (float(size), entries[0]) for size, entries in _by_size("ampacity_din_vde_0298_4").items()
    )
    if area_mm2 > sizes[-1][0] * _SLACK:
        return None
    best = None
    for size_mm2, entry in sizes:
        if size_mm2 <= area_mm2 * _SLACK:
            best = entry
    if best is None:
        return None
    _, current_a, status, source = best
    factor = class_factor(min(class_c, HIGHEST_CLASS_C))
    note = "" if class_c == 70.0 else f", carried to {min(class_c, HIGHEST_CLASS_C):g} °C"
    return Published(current_a * factor, source + note, status)
