"""The physics once more, written apart from the package: nothing of circuitplan is imported.

Arrays run over wires. Natural convection: Churchill & Chu 1975; air: Incropera & DeWitt, table
A.4, 1 atm (from memory); short circuits: IEC 60949; fuses: the gates in tables/fuse_gates.csv.
"""

from __future__ import annotations

import csv
import math
from functools import cache
from pathlib import Path

import numpy as np

Array = np.ndarray
TABLES = Path(__file__).resolve().parents[2] / "tables"
COPPER_PER_K = 0.00393
AIR_K = np.array([250.0, 300.0, 350.0, 400.0, 450.0, 500.0, 600.0, 800.0])
AIR_CONDUCTIVITY = 1e-3 * np.array([22.3, 26.3, 30.0, 33.8, 37.3, 40.7, 46.9, 57.3])
AIR_VISCOSITY = 1e-6 * np.array([11.44, 15.89, 20.92, 26.41, 32.39, 38.79, 52.69, 84.93])
AIR_PRANDTL = np.array([0.720, 0.707, 0.700, 0.690, 0.686, 0.684, 0.685, 0.709])
FINAL_C = {"PVC": 160.0, "cross-linked": 250.0}
"""IEC 60364-4-43 table 43A (from memory); without a declared material class + 50 K."""


@cache
def rows(name: str) -> tuple[dict[str, str], ...]:
    """The rows of a shipped table, read with the csv module alone."""
    with (TABLES / f"{name}.csv").open(encoding="utf-8", newline="") as stream:
        return tuple(csv.DictReader(stream))


def ohm_per_m(r20: Array, temperature_c: Array) -> Array:
    return r20 * (1.0 + COPPER_PER_K * (temperature_c - 20.0))


def surface_loss(outer_mm: Array, surface_c: Array, ambient_c: Array) -> Array:
    """Heat that leaves a horizontal wire in still air [W/m], emissivity 0.9."""
    film = 0.5 * (surface_c + ambient_c) + 273.15
    conductivity = np.interp(film, AIR_K, AIR_CONDUCTIVITY)
    viscosity = np.interp(film, AIR_K, AIR_VISCOSITY)
    prandtl = np.interp(film, AIR_K, AIR_PRANDTL)
    rise = np.maximum(surface_c - ambient_c, 0.0)
    diameter = 1e-3 * outer_mm
    rayleigh = 9.81 * rise * diameter**3 * prandtl / (film * viscosity**2)
    root = 0.60 + 0.387 * rayleigh ** (1 / 6) / (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)
    radiated = 0.9 * 5.67e-8 * ((surface_c + 273.15) ** 4 - (ambient_c + 273.15) ** 4)
    return np.pi * (conductivity * root**2 * rise + diameter * radiated)


def steady_c(
    r20: Array, conductor_mm: Array, outer_mm: Array, resistivity: Array, current_a: Array,
    ambient_c: Array,
) -> Array:  # fmt: skip
    """Conductor temperature of single wires [°C], 600 where it would be higher.

    Along the surface temperature the loss q, the conductor Ts + q rho ln(D/d)/2 pi and the
    current sqrt(q/R) all rise, so that one bisection finds the current.
    """
    path = resistivity / (2.0 * math.pi) * np.log(outer_mm / conductor_mm)
    low, high = ambient_c.astype(float).copy(), np.full(len(r20), 600.0)
    for _ in range(50):
        middle = 0.5 * (low + high)
        loss = surface_loss(outer_mm, middle, ambient_c)
        inside = middle + loss * path
        carried = np.sqrt(loss / ohm_per_m(r20, inside))
        cool = carried < current_a
        low, high = np.where(cool, middle, low), np.where(cool, high, middle)
    return np.minimum(high + surface_loss(outer_mm, high, ambient_c) * path, 600.0)


def after(
    start_c: Array, current_a: Array, seconds: Array, r20: Array, loss_w_per_k_m: Array,
    capacity: Array, ambient_c: Array, steps: int = 200,
) -> Array:  # fmt: skip
    """One body heated for some time [°C], by the explicit midpoint rule in many small steps."""
    dt = seconds / steps
    temperature = start_c.astype(float).copy()

    def rate(t: Array) -> Array:
        return (current_a**2 * ohm_per_m(r20, t) - loss_w_per_k_m * (t - ambient_c)) / capacity

    for _ in range(steps):
        temperature = temperature + dt * rate(temperature + 0.5 * dt * rate(temperature))
    return temperature


def capacity_j_per_k_m(area_mm2: Array, conductor_mm: Array, outer_mm: Array) -> Array:
    """Copper 3.45 MJ/(m3 K) and half the wall at 1.25 MJ/(m3 K), IEC 60949 and EN 12524."""
    return 3.45 * area_mm2 + 0.5 * 1.25 * math.pi / 4 * (outer_mm**2 - conductor_mm**2)


@cache
def gates(fuse_type: str) -> tuple[tuple[float, float], ...]:
    """(multiple, latest clearing [s]) of a fuse type."""
    return tuple(
        (float(r["multiple"]), float(r["t_max_s"]))
        for r in rows("fuse_gates") if r["type"] == fuse_type and r["t_max_s"]
    )  # fmt: skip


def clears_s(fuse_type: str, multiple: float, fastest_s: float = 0.010) -> float:
    """Latest clearing: constant I2t from the last gate passed, ``fastest_s`` at least [s]."""
    latest = math.inf
    for gate, seconds in gates(fuse_type):
        if multiple >= gate:
            latest = max(seconds * (gate / multiple) ** 2, fastest_s)
    return latest


def adiabatic_k(class_c: float, material: str | None) -> float:
    """k of copper from class to final temperature, IEC 60949 [A s^0.5/mm2]."""
    final = FINAL_C.get(material or "", class_c + 50.0)
    return 226.0 * math.sqrt(math.log((234.5 + final) / (234.5 + class_c)))


def warm_share(ambient_c: float) -> float:
    """Share of its rating that a fuse carries in a warm place, straight lines between rows."""
    table = [(float(r["ambient_c"]), float(r["factor"])) for r in rows("fuse_ambient")]
    return float(np.interp(ambient_c, *zip(*table, strict=True)))


def least_ohm(
    battery_type: str, capacity_ah: float, cranking_a: float | None, volts: float
) -> float:
    """Lowest resistance of a battery that the reference allows for breaking capacity [ohm]."""
    per_ah = {"flooded": 0.25, "gel": 0.25, "agm": 0.16, "lifepo4": 0.10}[battery_type]
    found = per_ah / capacity_ah
    if cranking_a and battery_type == "agm":
        found = min(found, 2.8 / cranking_a)
    elif cranking_a and battery_type == "flooded":
        found = 2.8 / cranking_a
    found *= volts / 12.0
    return min(found, 13.6 * volts / 12.0 / 20000.0) if battery_type == "lifepo4" else found
