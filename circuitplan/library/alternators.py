"""Alternator defaults, supply levels of the vehicle, and what the vehicle itself draws."""

from __future__ import annotations

from circuitplan.errors import TableError
from circuitplan.library import facts, store
from circuitplan.library.facts import Fact
from circuitplan.model.record import record


@record
class SupplyLevel:
    """Supply at the battery posts for one nominal voltage and battery type [V].

    Low end = ``low_emf_v`` less the larger of ``low_sag_v`` and 1.5·R_warm·I; high end ``high_v``;
    ``fault_emf_v`` drives a short circuit; ``ask_high_v`` is what cold or smart regulators reach.
    """

    nominal_v: float
    battery_type: str
    low_emf_v: float
    low_sag_v: float
    high_v: float
    fault_emf_v: float
    ask_high_v: float
    status: str
    source: str


def defaults() -> dict[str, Fact]:
    """All alternator defaults by key: idle_share, hot_factor_slow, cut_in_rpm, idle_rpm ..."""
    return facts.of_table("alternator_defaults")


def value(key: str) -> Fact:
    """One alternator default; TableError for an unknown key."""
    return facts.get("alternator_defaults", key)


def supply_level(nominal_v: float, battery_type: str = "unknown") -> SupplyLevel:
    """Supply levels for a nominal voltage [V] and battery type; TableError for an unknown pair."""
    for row in store.rows("supply_levels"):
        if float(row["nominal_v"]) == nominal_v and row["battery_type"] == battery_type.lower():
            return SupplyLevel(
                nominal_v,
                row["battery_type"],
                float(row["low_emf_v"]),
                float(row["low_sag_v"]),
                float(row["high_v"]),
                float(row["fault_emf_v"]),
                float(row["ask_high_v"]),
                row["status"],
                row["source"],
            )
    raise TableError(f"no supply level for {nominal_v:g} V and a {battery_type} battery")


def vehicle_load(nominal_v: float, engine_on: bool) -> Fact:
    """What the vehicle itself draws, worst night and weather [A]; TableError if not listed."""
    state = "engine on" if engine_on else "engine off"
    for row in store.rows("vehicle_load"):
        if float(row["nominal_v"]) == nominal_v and row["state"] == state:
            return Fact(
                f"vehicle load, {state}",
                float(row["current_a"]),
                "A",
                row["meaning"],
                row["status"],
                row["source"],
            )
    raise TableError(f"no vehicle load for {nominal_v:g} V")
