"""Each scenario by itself: demand, margin, hours, recharge, what to leave out, cures."""

from __future__ import annotations

from dataclasses import replace

from circuitplan.design.assume import Ledger
from circuitplan.design.levels import vehicle_load
from circuitplan.design.state import State
from circuitplan.design.supplying import cures, shedding
from circuitplan.design.supplying.alternator import fitted, hot_output, speed
from circuitplan.design.supplying.charge import (
    RECHARGED,
    hours_to,
    reserve_share,
    rounded_down,
    storage,
    wells,
)
from circuitplan.design.supplying.takers import Lineup, Taker
from circuitplan.model.plan import Battery, Scenario
from circuitplan.model.result import ScenarioResult
from circuitplan.physics.battery import Wells
from circuitplan.physics.bus import Draw

WORKSHOP_C = 20.0
"""Temperature at which a scenario by itself is reckoned."""
ENGINE_CHARGERS = ("dc-dc", "voltage relay", "diode")


class Scenarios:
    """The scenarios of one plan, battery by battery."""

    def __init__(self, state: State, ledger: Ledger) -> None:
        self.state, self.ledger, self.plan = state, ledger, state.plan
        self.lineup = Lineup(state, ledger)
        known = self.plan.supply.batteries
        self.main = known[0].name if known else "battery"

    def battery(self, name: str) -> Battery | None:
        """The plan's battery of that name."""
        return next((b for b in self.plan.supply.batteries if b.name == name), None)

    def names(self) -> list[str]:
        """All batteries, the one that starts the engine first."""
        others = [b.name for b in self.plan.supply.batteries if b.name != self.main]
        return [self.main, *others]

    def results(self) -> tuple[ScenarioResult, ...]:
        """Every scenario on every battery that something runs on."""
        return tuple(
            found
            for scenario in self.plan.scenarios
            for name in self.names()
            if (found := self._on(scenario, name)) is not None
        )

    def _on(self, scenario: Scenario, name: str) -> ScenarioResult | None:
        level = self.state.levels.batteries.get(name)
        if level is None:
            return None
        is_main = name == self.main
        battery = self.battery(name)
        engine_on = scenario.engine != "off"
        charging = engine_on and (is_main or self._charged_by_engine(name))
        volts = level.high_v if charging else level.low_emf_v
        vehicle = vehicle_load(self.plan, scenario.engine, self.ledger) if is_main else 0.0
        takers = self.lineup.takers(scenario, name)
        if not is_main and not takers:
            return None
        running = [(t.name, t.mean_a(volts)) for t in takers]
        demand = charging_demand = vehicle + sum(a for _, a in running)
        income, note = self._income(scenario, name, is_main)
        margin = None
        if income is not None:
            margin = income - demand
            if margin < 0.0:  # the bus is the battery's then: constant power draws more
                running = [(t.name, t.mean_a(level.low_emf_v - level.sag_v)) for t in takers]
                demand = max(demand, vehicle + sum(a for _, a in running))
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
        found = ScenarioResult(
            scenario.name, scenario.engine, name, demand, vehicle, income, margin, percent, limit,
            hours, duration, used, note, tuple(running),
            shaft_rpm=self._shaft_rpm(scenario) if is_main else None,
            alternator_share=None if income is None or not demand else min(1.0, income / demand),
            recharge_h=self._recharge_h(name, is_main, margin),
        )
        return self._cured(found, scenario, takers, charging_demand, battery, is_main)

    def _income(
        self, scenario: Scenario, name: str, is_main: bool
    ) -> tuple[float | None, str]:
        """(what comes in while it runs [A], from where); sun and shore if the plan says."""
        apart = 0.0
        notes = []
        for charger in self.plan.supply.chargers:
            if charger.target != name or charger.kind not in ("solar", "shore"):
                continue
            share = self.outside_share(charger.kind, scenario)
            apart += share * (charger.output_a or 0.0)
            if share > 0.0:
                notes.append(f"{charger.name} {share:.0%}")
        if is_main:
            income, note = hot_output(self.plan, scenario.engine, self.ledger)
            notes.insert(0, note)
            return (None if income is None else income + apart), "; ".join(notes)
        if scenario.engine != "off":
            apart += sum(
                c.output_a or 0.0 for c in self.plan.supply.chargers
                if c.target == name and c.kind in ENGINE_CHARGERS
            )
            notes.insert(0, "from its charger")
        return apart, "; ".join(notes)

    @staticmethod
    def outside_share(kind: str, scenario: Scenario) -> float:
        """Share of a solar or shore charger's output that the scenario credits."""
        if kind == "solar":
            return scenario.sun or 0.0
        return 1.0 if scenario.shore else 0.0

    def _charged_by_engine(self, name: str) -> bool:
        return any(
            c.target == name and c.kind in ENGINE_CHARGERS for c in self.plan.supply.chargers
        )

    def _shaft_rpm(self, scenario: Scenario) -> float | None:
        machines = fitted(self.plan)
        if not machines or scenario.engine == "off":
            return None
        return speed(*machines[0], scenario.engine, self.ledger)

    def _recharge_h(self, name: str, is_main: bool, margin_a: float | None) -> float | None:
        """Hours from the reserve to recharged at a steady margin, at 20 °C."""
        battery = self.battery(name)
        if battery is None or margin_a is None or margin_a <= 0.0:
            return None
        level = self.state.levels.batteries[name]
        kept = storage(battery, level, is_main, self.plan.nominal_v, WORKSHOP_C)
        if kept is None:
            return None
        return kept.acceptance.recharge_h(kept.capacity_ah, kept.reserve, RECHARGED, margin_a)

    # --- cures -----------------------------------------------------------------------------------

    def _cured(
        self, found: ScenarioResult, scenario: Scenario, takers: list[Taker],
        charging_demand: float, battery: Battery | None, is_main: bool,
    ) -> ScenarioResult:
        """The scenario with what to leave out and what would carry it, where it is not carried."""
        if found.margin_a is None or found.alternator_a is None:
            return found
        level = self.state.levels.batteries[found.battery]
        if found.margin_limit_percent is not None:  # engine on, starting battery
            output_a = found.alternator_a
            wanted_share = 1.0 - found.margin_limit_percent / 100.0
            short_a = charging_demand - output_a * wanted_share
            if short_a <= 1e-9 * output_a:
                return found
            wanted_a = charging_demand / wanted_share
            shed, enough = shedding.order(self._sheddable(takers, level.high_v), short_a)
            return replace(
                found, shed=tuple((s.name, s.current_a) for s in shed), shed_cures=enough,
                cure_shaft_rpm=cures.shaft_speed(
                    self.plan, scenario.engine, wanted_a, self.ledger
                ),
                cure_rated_a=cures.rated_output(self.plan, scenario.engine, wanted_a, self.ledger),
            )
        hours, wanted_h = found.hours_to_reserve, found.duration_h
        too_short = hours is not None and wanted_h is not None and hours < wanted_h * (1 - 1e-9)
        model = wells(battery) if battery is not None else None
        if not too_short or battery is None or model is None or not battery.capacity_ah:
            return found
        assert wanted_h is not None
        drawn = 1.0 - reserve_share(battery, is_main)
        allowed_a = _longest_current(model, drawn, wanted_h, -found.margin_a)
        sheddable = self._sheddable(takers, level.low_emf_v - level.sag_v)
        shed, enough = shedding.order(sheddable, -found.margin_a - allowed_a)
        return replace(
            found, shed=tuple((s.name, s.current_a) for s in shed), shed_cures=enough,
            cure_capacity_ah=cures.capacity_for_hours(
                model, battery.capacity_ah, -found.margin_a, drawn, wanted_h
            ),
        )

    def _sheddable(self, takers: list[Taker], volts: float) -> list[shedding.Sheddable]:
        """What may be left out, with its mean current."""
        found = []
        for taker in takers:
            load = self.state.wiring.loads[taker.index]
            rank = float(load.accessory.priority or shedding.NO_PRIORITY)
            if taker.name.casefold() in self.lineup.chargers:
                rank = shedding.CHARGING
            if not load.critical:
                found.append(shedding.Sheddable(taker.name, rank, taker.mean_a(volts)))
        return found

    def vehicle(self, engine: str) -> Draw:
        """The vehicle's own load as a draw that does not follow the volts."""
        return Draw(vehicle_load(self.plan, engine, self.ledger), 1.0, (0.0,))


def _longest_current(model: Wells, drawn: float, hours: float, most_a: float) -> float:
    """Largest current that lasts for some hours on a share of the battery [A]."""
    low, high = 0.0, most_a
    for _ in range(60):
        middle = 0.5 * (low + high)
        lasts = model.hours_to(middle, drawn)
        if lasts is not None and lasts >= hours:
            low = middle
        else:
            high = middle
    return low
