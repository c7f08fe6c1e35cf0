"""One battery as the supply sees it: capacity, reserve, volts, what it takes and gives.

Temperature and age scale its charge; resistance is that of an aged battery, rising in the cold
and as the charge falls.
"""

from __future__ import annotations

import math

from circuitplan.design.levels import SAG_FACTOR, BatteryLevels
from circuitplan.library import batteries
from circuitplan.model.plan import Battery
from circuitplan.model.record import record
from circuitplan.physics.battery import Charge, Wells
from circuitplan.physics.bus import Store
from circuitplan.physics.charging import Acceptance, acceptance_cold_share

HOURS_STEP = 0.1
"""Hours are rounded down to this."""
RECHARGED = 0.95
"""Charge that counts as recharged: the last of it takes hours (judgement)."""
COMPUTER_HOLDS = (0.75, 0.80)
"""An engine computer lets the battery take less from the first charge on, nothing at the second,
to leave room for braking energy (judgement)."""


def wells(battery: Battery) -> Wells | None:
    """Two-well model of a battery at 25 °C and its present age; None if its capacity is unknown."""
    if battery.capacity_ah is None:
        return None
    kind = batteries.type_(battery.type or "unknown")
    health = battery.health if battery.health is not None else 1.0
    return Wells(kind.c, kind.k_prime_per_h, kind.qmax_over_c20 * battery.capacity_ah * health)


def reserve_share(battery: Battery, is_main: bool, temperature_c: float = 20.0) -> float:
    """Share of the capacity that must stay: to start the engine, or by usable depth."""
    kind = batteries.type_(battery.type or "unknown")
    if not is_main:
        return 1.0 - kind.usable_depth
    return kind.start_reserve_cold if temperature_c < 0.0 else kind.start_reserve


def hours_to(battery: Battery, current_a: float, drawn_share: float) -> float | None:
    """Hours until a share of the capacity at this current is drawn; None if it cannot be said."""
    model = wells(battery)
    if model is None or current_a <= 0.0:
        return None
    found = model.hours_to(current_a, drawn_share)
    return None if found is None or math.isinf(found) else found


def rounded_down(hours: float | None) -> float | None:
    """Hours down to the last tenth."""
    return None if hours is None else math.floor(hours / HOURS_STEP + 1e-9) * HOURS_STEP


@record
class Storage:
    """A battery at one temperature. Volts and ohms are those of the whole battery."""

    name: str
    type: str
    wells: Wells
    capacity_ah: float  # 20 h rate, at this temperature and age
    reserve: float
    ohm: float  # aged, at this temperature, full
    full_v: float  # volts at which it takes its full charging current
    acceptance: Acceptance
    scale: float  # nominal over 12 V

    def open_v(self, share: float) -> float:
        """Rested volts at a charge [V]."""
        return batteries.open_circuit_v(self.type, min(1.0, max(0.0, share))) * self.scale

    def ohm_at(self, share: float) -> float:
        """Resistance at a charge [ohm]."""
        return self.ohm * batteries.resistance_rise(min(1.0, max(0.0, share)))

    def store(self, charge: Charge, held_back: bool = False) -> Store:
        """The battery at this moment, for the balance at its posts.

        ``held_back``: an engine computer charges it, which stops short of full.
        """
        share = self.wells.share_of(charge)
        accepts_a = self.acceptance.current_a(share)
        if held_back:
            begins, ends = COMPUTER_HOLDS
            accepts_a *= min(1.0, max(0.0, (ends - share) / (ends - begins)))
        return Store(self.open_v(share), self.ohm_at(share), accepts_a, self.full_v)

    def after(self, charge: Charge, battery_a: float, hours: float) -> Charge:
        """State after a steady current, positive while discharging; of a charging current only
        the share that can be got out again is stored."""
        stored_a = battery_a if battery_a >= 0.0 else battery_a * self.acceptance.efficiency
        return charge.after(self.wells, stored_a, hours)

    def share_left(self, charge: Charge, battery_a: float) -> float:
        """Share left of what it yields at the current drawn now; by ampere-hours while charging."""
        if battery_a <= 0.0:
            return self.wells.share_of(charge)
        return self.wells.share_left(charge, battery_a)


def storage(
    battery: Battery, level: BatteryLevels, is_main: bool, nominal_v: float, temperature_c: float,
    capacity_ah: float | None = None,
) -> Storage | None:
    """A plan's battery at a temperature; ``capacity_ah`` replaces its own, for trying others.

    None where its capacity is unknown, or colder than the table of capacities goes.
    """
    model = wells(battery)
    cold = batteries.capacity_share(temperature_c)
    if model is None or cold is None or battery.capacity_ah is None:
        return None
    larger = 1.0 if capacity_ah is None else capacity_ah / battery.capacity_ah
    model = model.scaled(cold * larger)
    kind = batteries.type_(level.type)
    scale = nominal_v / 12.0
    taper = batteries.fact("taper_charge").value
    return Storage(
        name=battery.name,
        type=level.type,
        wells=model,
        capacity_ah=model.c20_ah,
        reserve=reserve_share(battery, is_main, temperature_c),
        ohm=cold_ohm(level, temperature_c) / larger,
        full_v=_full_v(level, temperature_c, scale),
        acceptance=Acceptance(
            _accepts_a(level, battery.capacity_ah * larger, temperature_c), taper,
            batteries.fact(
                "charge_efficiency_lifepo4" if kind.type == "lifepo4" else "charge_efficiency_lead"
            ).value,
        ),
        scale=scale,
    )


def cold_ohm(level: BatteryLevels, temperature_c: float) -> float:
    """Resistance of an aged battery, from warm at 25 °C to its high value at -18 °C [ohm]."""
    cold_share = min(1.0, max(0.0, (25.0 - temperature_c) / 43.0))
    warm = min(SAG_FACTOR * level.warm_ohm, level.high_ohm)
    return warm + (max(level.high_ohm, warm) - warm) * cold_share


def _full_v(level: BatteryLevels, temperature_c: float, scale: float) -> float:
    """Volts at which the full charging current flows: higher in the cold for lead."""
    if level.type == "lifepo4":
        return batteries.type_("lifepo4").high_v * scale
    volts = batteries.fact("lead_absorption_v").value
    per_k = batteries.fact("lead_temperature_v_per_k").value
    return (volts + per_k * (temperature_c - 25.0)) * scale


def _accepts_a(level: BatteryLevels, capacity_ah: float, temperature_c: float) -> float:
    kind = batteries.type_(level.type)
    least_c = kind.lowest_charge_temperature_c
    if least_c is not None and temperature_c < least_c:
        return 0.0  # too cold to charge this chemistry
    return kind.charge_acceptance_c * capacity_ah * acceptance_cold_share(temperature_c)
