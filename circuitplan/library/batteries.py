"""Battery types: two-well parameters, resistances, reserve, temperature, open-circuit volts."""

from __future__ import annotations

from functools import cache

from circuitplan.errors import TableError
from circuitplan.library import facts, store
from circuitplan.model.record import record


@record
class Resistance:
    """Internal resistance rule of a 12 V block: ohm_ah/C20 + fixed_ohm, or cca_v/CCA.

    ``combine``: "cca first" takes the CCA form where CCA is known, "lower" the lower of both,
    "capacity" never uses CCA.
    """

    cca_v: float | None
    ohm_ah: float
    fixed_ohm: float
    combine: str

    def ohm(self, capacity_ah: float, cca_a: float | None, nominal_v: float) -> float:
        """Resistance of the whole battery [ohm]: blocks of 12 V in series, each of that CCA."""
        by_capacity = self.ohm_ah / capacity_ah + self.fixed_ohm
        block = by_capacity
        if cca_a and self.cca_v is not None:
            by_cca = self.cca_v / cca_a
            block = min(by_cca, by_capacity) if self.combine == "lower" else by_cca
        return block * nominal_v / 12.0


@record
class BatteryType:
    """One chemistry. Volts are those of a 12 V battery (times 2 at 24 V, 4 at 48 V).

    ``c`` and ``k_prime_per_h``: share of the available well and rate of the two-well model, with
    k' = k/(c(1 - c)); ``qmax_over_c20``: its whole charge. ``r_low`` serves breaking capacity,
    ``r_high`` clearing and cranking, ``r_warm`` sag. ``low_emf_v`` less the larger of ``low_sag_v``
    and 1.5·R_warm·I is the low end of the supply.
    """

    type: str
    c: float
    k_prime_per_h: float
    qmax_over_c20: float
    peukert: float
    r_warm: Resistance
    r_low: Resistance
    r_high: Resistance
    usable_depth: float
    start_reserve: float
    start_reserve_cold: float
    charge_acceptance_c: float
    lowest_charge_temperature_c: float | None
    low_emf_v: float
    low_sag_v: float
    high_v: float
    fault_emf_v: float
    ocv_full_v: float
    ocv_empty_v: float
    status: str
    source: str


def _resistance(row: dict[str, str], name: str) -> Resistance:
    return Resistance(
        store.number(row[f"{name}_cca_v"]),
        float(row[f"{name}_ohm_ah"]),
        float(row[f"{name}_fixed_ohm"]),
        row[f"{name}_combine"],
    )


@cache
def type_(name: str) -> BatteryType:
    """The type ``name``: flooded, gel, agm, lifepo4, or unknown (safe mixture of flooded and AGM).

    TableError for any other name (see ``names``).
    """
    wanted = name.lower()
    for row in store.rows("battery_types"):
        if row["type"] == wanted:
            return BatteryType(
                type=row["type"],
                c=float(row["c"]),
                k_prime_per_h=float(row["k_prime_per_h"]),
                qmax_over_c20=float(row["qmax_over_c20"]),
                peukert=float(row["peukert"]),
                r_warm=_resistance(row, "r_warm"),
                r_low=_resistance(row, "r_low"),
                r_high=_resistance(row, "r_high"),
                usable_depth=float(row["usable_depth"]),
                start_reserve=float(row["start_reserve"]),
                start_reserve_cold=float(row["start_reserve_cold"]),
                charge_acceptance_c=float(row["charge_acceptance_c"]),
                lowest_charge_temperature_c=store.number(row["lowest_charge_temperature_c"]),
                low_emf_v=float(row["low_emf_v"]),
                low_sag_v=float(row["low_sag_v"]),
                high_v=float(row["high_v"]),
                fault_emf_v=float(row["fault_emf_v"]),
                ocv_full_v=float(row["ocv_full_v"]),
                ocv_empty_v=float(row["ocv_empty_v"]),
                status=row["status"],
                source=row["source"],
            )
    raise TableError(f"no battery type is named {name}; known: {', '.join(names())}")


def names() -> tuple[str, ...]:
    """All battery types, in table order."""
    return tuple(row["type"] for row in store.rows("battery_types"))


@cache
def _points(table: str, x: str, y: str, type: str) -> tuple[tuple[float, float], ...]:
    found = (
        (float(row[x]), float(row[y]))
        for row in store.rows(table)
        if row.get("type", type) == type and row[y]
    )
    return tuple(sorted(found))


def capacity_share(temperature_c: float) -> float | None:
    """Share of the 25 °C capacity left at a temperature; 1 above 25 °C, None below -20 °C. [-]"""
    points = _points("battery_temperature", "temperature_c", "capacity_share", "")
    if temperature_c < points[0][0]:
        return None
    return facts.interpolate(points, min(temperature_c, points[-1][0]))


def open_circuit_v(type: str, charge: float) -> float:
    """Rested voltage of a 12 V battery at a charge of 0 to 1 [V]; ValueError outside that."""
    if not 0.0 <= charge <= 1.0:
        raise ValueError(f"a charge lies between 0 and 1, not at {charge}")
    curve = {"unknown": "flooded", "gel": "agm"}.get(type.lower(), type.lower())
    points = _points("battery_ocv", "charge", "open_circuit_v", curve)
    if not points:
        raise TableError(f"no open-circuit curve for the battery type {type}")
    return facts.interpolate(points, charge)


def resistance_rise(charge: float) -> float:
    """Internal resistance at a charge of 0 to 1 against that of a full battery, at least 1. [-]"""
    if not 0.0 <= charge <= 1.0:
        raise ValueError(f"a charge lies between 0 and 1, not at {charge}")
    return facts.interpolate(_points("battery_resistance", "charge", "factor", ""), charge)


def fact(key: str) -> facts.Fact:
    """A single battery value: cranking volts, starter current, charge limits (battery_defaults)."""
    return facts.get("battery_defaults", key)
