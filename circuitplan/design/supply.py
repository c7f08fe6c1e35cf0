"""Alternator margin, battery hours and a first balance of days, scenario by scenario."""

from __future__ import annotations

import math

from circuitplan.design.alternator import hot_output
from circuitplan.design.assume import Ledger
from circuitplan.design.levels import is_live, vehicle_load
from circuitplan.design.load import Load
from circuitplan.design.state import State
from circuitplan.library import batteries
from circuitplan.model.plan import Battery, Day, Scenario
from circuitplan.model.result import DayResult, ScenarioResult, SupplyResult
from circuitplan.physics.battery import Wells

HOURS_STEP = 0.1
"""Hours are rounded down to this."""


def wells(battery: Battery) -> Wells | None:
    """Two-well model of a battery; None if its capacity is not known."""
    if battery.capacity_ah is None:
        return None
    kind = batteries.type_(battery.type or "unknown")
    return Wells(kind.c, kind.k_prime_per_h, kind.qmax_over_c20 * battery.capacity_ah)


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
    return None if hours is None else math.floor(hours / HOURS_STEP + 1e-9) * HOURS_STEP


class Supply:
    """The supply side of one plan."""

    def __init__(self, state: State, ledger: Ledger) -> None:
        self.state, self.ledger = state, ledger
        self.plan = state.plan
        known = self.plan.supply.batteries
        self.main = known[0].name if known else "battery"

    def result(self, isolate: tuple[str, ...]) -> SupplyResult:
        parked = self.parked_a()
        scenarios = tuple(
            s for scenario in self.plan.scenarios for s in self._scenario(scenario)
        )
        main = self._battery(self.main)
        days = None
        if main is not None and parked > 0.0:
            hours = hours_to(main, parked, 1.0 - reserve_share(main, True))
            days = None if hours is None else hours / 24.0
        lows = [
            self.state.levels.low_v[i] for i in range(len(self.state.wiring.loads))
            if self.state.wiring.root[i] in self.state.levels.batteries
        ]
        level = self.state.levels.batteries[self.main]
        return SupplyResult(
            parked, days, isolate, min(lows, default=level.low_emf_v - level.sag_v),
            level.high_v, scenarios, self._days(scenarios),
        )

    def parked_a(self) -> float:
        """Drain with the key off: the vehicle and what always is live [A]."""
        vehicle = vehicle_load(self.plan, "off", self.ledger)
        live = {
            i for c in self.state.wiring.circuits if c.live == "always" for i in c.loads
        }
        return vehicle + sum(
            load.parked_a for i, load in enumerate(self.state.wiring.loads) if i in live
        )

    def _battery(self, name: str) -> Battery | None:
        return next((b for b in self.plan.supply.batteries if b.name == name), None)

    # --- scenarios -----------------------------------------------------------------------------

    def _scenario(self, scenario: Scenario) -> list[ScenarioResult]:
        names = [self.main] + [
            b.name for b in self.plan.supply.batteries if b.name != self.main
        ]
        return [
            found for name in names if (found := self._on_battery(scenario, name)) is not None
        ]

    def running(self, scenario: Scenario, battery: str, volts: float) -> list[tuple[str, float]]:
        """(name, mean current at ``volts``) of what runs on a battery in a scenario."""
        listed = {r.name.casefold(): r for r in scenario.running}
        found: list[tuple[str, float]] = []
        for index, load in enumerate(self.state.wiring.loads):
            if load.source or self._root_battery(index) != battery:
                continue
            if self.state.wiring.root[index] not in self.state.levels.batteries:
                continue  # behind a converter: counted as the converter's own draw
            run = listed.get(load.name.casefold())
            share = self._share(load, scenario, index)
            if run is not None:
                dimmed = load.accessory.dimmed if load.accessory.dimmed is not None else 1.0
                share = dimmed * _run_share(run.share, run.seconds, scenario.duration_s)
            if load.name in self.state.wiring.converter_load:
                share = self._converter_share(load.name, scenario)
            if share > 0.0:
                found.append((load.name, share * _mean_at(load, volts)))
        return found

    def _converter_share(self, name: str, scenario: Scenario) -> float:
        """Share of a converter's full draw that its loads ask for in a scenario."""
        behind = [
            (i, load) for i, load in enumerate(self.state.wiring.loads)
            if self.state.wiring.root[i] == name
        ]
        whole = sum(load.average_a() for _, load in behind)
        if whole <= 0.0:
            return 0.0
        now = 0.0
        for i, load in behind:
            run = next(
                (r for r in scenario.running if r.name.casefold() == load.name.casefold()), None
            )
            if run is not None:
                now += load.typical_a * _run_share(run.share, run.seconds, scenario.duration_s)
            else:
                now += load.typical_a * self._share(load, scenario, i)
        return now / whole

    def _share(self, load: Load, scenario: Scenario, index: int) -> float:
        """Share of the time that an unlisted load runs: only what has no switch does."""
        if not load.runs_by_itself or not is_live(self.state.wiring, index, scenario.engine):
            return 0.0
        if index in self.state.wiring.converter_load.values():
            return 1.0
        dimmed = load.accessory.dimmed if load.accessory.dimmed is not None else 1.0
        return load.share * dimmed

    def _root_battery(self, index: int) -> str:
        return self.state.wiring.nodes[self.state.wiring.root[index]].battery

    def _on_battery(self, scenario: Scenario, name: str) -> ScenarioResult | None:
        level = self.state.levels.batteries.get(name)
        if level is None:
            return None
        is_main = name == self.main
        battery = self._battery(name)
        engine_on = scenario.engine != "off"
        charging = engine_on and (is_main or self._charged_by_engine(name))
        volts = level.high_v if charging else level.low_emf_v
        vehicle = vehicle_load(self.plan, scenario.engine, self.ledger) if is_main else 0.0
        running = self.running(scenario, name, volts)
        if not is_main and not running:
            return None
        demand = vehicle + sum(a for _, a in running)
        note = ""
        income: float | None = 0.0
        if is_main:
            income, note = hot_output(self.plan, scenario.engine, self.ledger)
        elif engine_on:
            income = sum(
                c.output_a or 0.0 for c in self.plan.supply.chargers
                if c.target == name and c.kind in ("dc-dc", "voltage relay")
            )
            note = "from its charger"
        margin = None
        if income is not None:
            margin = income - demand
            if margin < 0.0:  # the bus is the battery's then: constant power draws more
                running = self.running(scenario, name, level.low_emf_v - level.sag_v)
                low_demand = vehicle + sum(a for _, a in running)
                demand = max(demand, low_demand)
                margin = income - demand
        deficit = -margin if margin is not None and margin < 0.0 else 0.0
        hours = used = None
        duration = None if scenario.duration_s is None else scenario.duration_s / 3600.0
        if battery is not None and deficit > 0.0:
            keep = reserve_share(battery, is_main)
            hours = rounded_down(hours_to(battery, deficit, 1.0 - keep))
            model = wells(battery)
            capacity = model.capacity_ah(deficit) if model is not None else None
            if capacity is None and model is not None:
                note = (note + "; " if note else "") + "faster than the 1 h rate: no hours given"
            if capacity is not None and duration is not None:
                used = deficit * duration / capacity
        limit = None
        if engine_on and is_main:
            share = self.state.practice.value("alternator_load_share") or 0.8
            limit = 100.0 * (1.0 - share)
        percent = None
        if engine_on and margin is not None and income:
            percent = 100.0 * margin / income
        return ScenarioResult(
            scenario.name, scenario.engine, name, demand, vehicle, income, margin, percent, limit,
            hours, duration, used, note, tuple(running),
        )

    def _charged_by_engine(self, name: str) -> bool:
        return any(
            c.target == name and c.kind in ("dc-dc", "voltage relay")
            for c in self.plan.supply.chargers
        )

    # --- days ----------------------------------------------------------------------------------

    def _days(self, scenarios: tuple[ScenarioResult, ...]) -> tuple[DayResult, ...]:
        return tuple(self._day(day, scenarios) for day in self.plan.days)

    def _day(self, day: Day, scenarios: tuple[ScenarioResult, ...]) -> DayResult:
        """Charge balance of the starting battery over the day's scenarios, in order."""
        start = day.charge if day.charge is not None else 1.0
        battery = self._battery(self.main)
        temperature = day.temperature_c if day.temperature_c is not None else 20.0
        keep = reserve_share(battery, True, temperature) if battery is not None else 0.5
        steps: list[tuple[str, float]] = []
        charge: float | None = start
        lowest = start
        model = wells(battery) if battery is not None else None
        cold = batteries.capacity_share(temperature)
        for name in day.order:
            found = next(
                (s for s in scenarios if s.name == name and s.battery == self.main), None
            )
            charge = self._after(found, charge, model, battery, cold)
            if charge is None:
                break
            steps.append((name, charge))
            lowest = min(lowest, charge)
        volts, limit = self._cranking(battery, charge, temperature)
        starts = None
        if charge is not None and volts is not None and limit is not None:
            starts = charge >= keep * (1 - 1e-9) and volts >= limit
        return DayResult(
            day.name, self.main, start, charge, None if charge is None else lowest, keep,
            tuple(steps), starts, volts, limit,
        )

    def _after(
        self, found: ScenarioResult | None, charge: float | None, model: Wells | None,
        battery: Battery | None, cold: float | None,
    ) -> float | None:
        if found is None or charge is None or model is None or battery is None or cold is None:
            return None
        if found.margin_a is None or found.duration_h is None or battery.capacity_ah is None:
            return None
        if found.margin_a < 0.0:
            capacity = model.capacity_ah(-found.margin_a)
            if capacity is None:
                return None
            return max(0.0, charge + found.margin_a * found.duration_h / (capacity * cold))
        kind = batteries.type_(battery.type or "unknown")
        least = kind.lowest_charge_temperature_c
        if least is not None and cold < (batteries.capacity_share(least) or 0.0):
            return charge  # too cold to charge this chemistry
        accepted = min(found.margin_a, kind.charge_acceptance_c * battery.capacity_ah)
        key = "charge_efficiency_lifepo4" if battery.type == "lifepo4" else "charge_efficiency_lead"
        gained = accepted * found.duration_h * batteries.fact(key).value / battery.capacity_ah
        # Above 80 % acceptance falls; half of it is credited there (common practice: 2 to 4 h).
        taper = batteries.fact("taper_charge").value
        full_rate = max(0.0, min(gained, taper - charge))
        return min(1.0, charge + full_rate + (gained - full_rate) / 2.0)

    def _cranking(
        self, battery: Battery | None, charge: float | None, temperature_c: float
    ) -> tuple[float | None, float | None]:
        """(volts while the starter turns, least volts) of the starting battery."""
        if battery is None or charge is None:
            return None, None
        level = self.state.levels.batteries[self.main]
        scale = self.plan.nominal_v / 12.0
        starter = self.plan.supply.starter_a
        if starter is None:
            fact = batteries.fact("starter_diesel_a")
            starter = self.ledger.take(
                "starter", "current", fact.value, "A", fact.source, fact.status,
                favourable=batteries.fact("starter_petrol_a").value,
            )
        cold_share = min(1.0, max(0.0, (25.0 - temperature_c) / 43.0))
        ohm = level.warm_ohm + (level.high_ohm - level.warm_ohm) * cold_share
        ohm *= batteries.resistance_rise(min(1.0, max(0.0, charge)))
        rested = batteries.open_circuit_v(battery.type or "unknown", charge) * scale
        warm = batteries.fact("crank_min_v_warm").value
        frozen = batteries.fact("crank_min_v_cold").value
        share = min(1.0, max(0.0, (21.0 - temperature_c) / 39.0))
        return rested - starter * ohm, (warm - (warm - frozen) * share) * scale


def _run_share(share: float | None, seconds: float | None, duration_s: float | None) -> float:
    if share is not None:
        return share
    if seconds is None:
        return 1.0
    return min(1.0, seconds / duration_s) if duration_s else 1.0


def _mean_at(load: Load, volts: float) -> float:
    """Typical current at other volts, the largest of its models [A]."""
    return float(load.typical_a * max((volts / load.rated_v) ** m for m in load.exponents))
