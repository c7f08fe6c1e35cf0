"""The plan's days: from scenarios to stages, and from what happened to the result."""

from __future__ import annotations

from collections.abc import Mapping

from circuitplan.design.supplying import cures, moments
from circuitplan.design.supplying.alternator import hot_output
from circuitplan.design.supplying.charge import RECHARGED, Storage, reserve_share, storage
from circuitplan.design.supplying.day import Day as Simulation
from circuitplan.design.supplying.day import Stage, Trace, whole_hours
from circuitplan.design.supplying.scenarios import Scenarios
from circuitplan.library import alternators, batteries
from circuitplan.model.plan import Day, Scenario
from circuitplan.model.record import record
from circuitplan.model.result import DayResult, Drop, ScenarioResult
from circuitplan.physics.alternator import regulator_v
from circuitplan.physics.bus import Draw

USUAL_C = 20.0
"""Temperature of a day that gives none."""


@record
class Start:
    """One start of the engine: volts while cranking, what is needed, and charge left."""

    share: float
    volts: float
    needed_v: float


class Days:
    """All days of one plan. ``drops``: by accessory, for the volts at its terminals."""

    def __init__(
        self, scenarios: Scenarios, drops: Mapping[str, Drop], shown: bool = True
    ) -> None:
        self.scenarios, self.drops, self.shown = scenarios, drops, shown
        self.plan, self.state = scenarios.plan, scenarios.state
        self.ledger, self.main = scenarios.ledger, scenarios.main
        self.scale = self.plan.nominal_v / 12.0

    def results(self, found: tuple[ScenarioResult, ...]) -> tuple[DayResult, ...]:
        """Every day of the plan, battery by battery; ``found`` are its scenarios by themselves."""
        return tuple(r for day in self.plan.days for r in self._day(day, found))

    def _day(self, day: Day, found: tuple[ScenarioResult, ...]) -> list[DayResult]:
        temperature_c = day.temperature_c
        if temperature_c is None:
            temperature_c = USUAL_C
            self.ledger.say(
                day.name, "temperature", "20 °C", "give that of the coldest day", "judgement"
            )
        stores = self.stores(temperature_c)
        stages = self.stages(day, stores, temperature_c)
        if stages is None or self.main not in stores:
            return [self._unknown(day, temperature_c)]
        trace = self.simulate(day, stages, stores)
        results = []
        for name in stores:
            if name != self.main and not any(
                stage.takers.get(name) for stage in stages
            ):
                continue
            results.append(self._outcome(day, name, stages, stores, trace, found, temperature_c))
        return results

    # --- what goes in ----------------------------------------------------------------------------

    def stores(
        self, temperature_c: float, larger: Mapping[str, float] | None = None
    ) -> dict[str, Storage]:
        """Every battery of known capacity at a temperature; ``larger`` replaces capacities [Ah]."""
        made = {}
        for name in self.scenarios.names():
            battery, level = self.scenarios.battery(name), self.state.levels.batteries.get(name)
            if battery is None or level is None:
                continue
            one = storage(
                battery, level, name == self.main, self.plan.nominal_v, temperature_c,
                (larger or {}).get(name),
            )
            if one is not None:
                made[name] = one
        return made

    def stages(
        self, day: Day, stores: Mapping[str, Storage], temperature_c: float
    ) -> list[Stage] | None:
        """The day's scenarios in order; None if one has no length or its alternator is unknown."""
        known = {s.name: s for s in self.plan.scenarios}
        made = []
        for name in day.order:
            scenario = known.get(name)
            if scenario is None or not scenario.duration_s:
                return None
            stage = self._stage(scenario, stores, temperature_c)
            if stage is None:
                return None
            made.append(stage)
        return made

    def _stage(
        self, scenario: Scenario, stores: Mapping[str, Storage], temperature_c: float
    ) -> Stage | None:
        output_a, _ = hot_output(self.plan, scenario.engine, self.ledger)
        if output_a is None:
            return None
        takers = {}
        for name in stores:
            mine = self.scenarios.lineup.takers(scenario, name)
            takers[name] = [t for t in mine if t.name.casefold() not in self._stepped(stores)]
        outside = {
            c.name: self.scenarios.outside_share(c.kind, scenario) * (c.output_a or 0.0)
            for c in self.plan.supply.chargers if c.kind in ("solar", "shore")
        }
        assert scenario.duration_s is not None
        fixed: dict[str, list[Draw]] = {self.main: [self.scenarios.vehicle(scenario.engine)]}
        return Stage(
            scenario.name, scenario.duration_s / 3600.0, takers, fixed,
            output_a if scenario.engine != "off" else None, outside, self._set_v(temperature_c),
        )

    def _stepped(self, stores: Mapping[str, Storage]) -> set[str]:
        """Chargers whose draw follows from the battery they charge; others draw all of it."""
        return {
            c.name.casefold() for c in self.plan.supply.chargers
            if c.target in stores and c.output_a is not None
        }

    def _set_v(self, temperature_c: float) -> float:
        """What the regulator holds: less when hot; no more in the cold than at 20 °C."""
        volts = regulator_v(alternators.value("regulator_v").value, max(temperature_c, USUAL_C))
        volts *= self.scale
        self.ledger.say(
            "alternator", "regulator set-point",
            f"{alternators.value('regulator_v').value * self.scale:g} V at 20 °C, less when hotter",
            alternators.value("regulator_v").source, alternators.value("regulator_v").status,
        )
        if self.plan.supply.high_v is not None:
            volts = min(volts, self.plan.supply.high_v)
        return volts

    def simulate(
        self, day: Day, stages: list[Stage], stores: Mapping[str, Storage],
        step_h: float | None = None,
    ) -> Trace:
        """Step through a day; every battery starts with the day's charge."""
        alternator = self.plan.supply.alternator
        held_back = alternator is not None and alternator.control == "engine computer"
        if held_back:
            self.ledger.say(
                "alternator", "charge that the engine computer holds", "80 %",
                "it leaves room for braking energy", "judgement",
            )
        simulation = Simulation(
            stores, self.plan.supply.chargers, self.main, self.scale, held_back,
            alternators.value("smart_bus_v").value * self.scale,
        )
        if step_h is not None:
            simulation.step_h = step_h
        share = day.charge if day.charge is not None else 1.0
        return simulation.run(stages, {n: s.wells.rested_at(share) for n, s in stores.items()})

    # --- what comes out --------------------------------------------------------------------------

    def _outcome(
        self, day: Day, name: str, stages: list[Stage], stores: Mapping[str, Storage], trace: Trace,
        found: tuple[ScenarioResult, ...], temperature_c: float,
    ) -> DayResult:
        store, is_main = stores[name], name == self.main
        ends = trace.ends[name]
        seen = moments.Seen(store, trace.intervals[name], ends)
        lowest, after = seen.lowest(name in trace.flat_h)
        end_share = max(0.0, store.wells.share_of(ends[-1][4]))
        steps = self._steps(stages, store, trace, name)
        start = self._worst_start(stages, store, trace, temperature_c) if is_main else None
        starts = None
        if start is not None:
            starts = (
                start.share >= store.reserve * (1.0 - 1e-9) and start.volts >= start.needed_v
                and name not in trace.flat_h
            )
        margins = [s for s in found if s.battery == name and s.engine != "off" and s.margin_a]
        best = max(margins, key=lambda s: (s.margin_a or 0.0, s.name), default=None)
        recharge_h = None
        if best is not None and best.margin_a is not None:
            recharge_h = store.acceptance.recharge_h(
                store.capacity_ah, end_share, RECHARGED, best.margin_a
            )
        cure_ah = None
        if self.shown and (lowest < store.reserve * (1.0 - 1e-9) or starts is False):
            cure_ah = self._larger(day, name, stages, temperature_c)
        return DayResult(
            day.name, name, day.charge if day.charge is not None else 1.0, end_share, lowest,
            store.reserve, steps, starts, start.volts if start else None,
            start.needed_v if start else None, temperature_c, store.capacity_ah, seen.curve(),
            moments.events(store, trace.intervals[name], ends, stages, name),
            moments.least_volts(self.state, self.drops, trace.intervals[name], ends, stages, name),
            after, seen.hours_to_reserve(), trace.flat_h.get(name),
            whole_hours([s for s in stages if not s.engine_on]), seen.supplied_share(),
            seen.energy_wh(), recharge_h,
            best.name if best is not None and recharge_h is not None else None, cure_ah,
        )

    @staticmethod
    def _steps(
        stages: list[Stage], store: Storage, trace: Trace, name: str
    ) -> tuple[tuple[str, float], ...]:
        """(scenario, charge after it)."""
        steps = []
        began_h = 0.0
        for stage in stages:
            began_h += stage.hours
            last = [e for e in trace.ends[name] if e[0] <= began_h + 1e-6][-1]
            steps.append((stage.name, max(0.0, store.wells.share_of(last[4]))))
        return tuple(steps)

    def _worst_start(
        self, stages: list[Stage], store: Storage, trace: Trace, temperature_c: float
    ) -> Start:
        """The start with the least volts to spare: at the day's end, and after each stop."""
        shares = [share for _, share in self._steps(stages, store, trace, self.main)]
        moments_of = [
            shares[i] for i in range(len(stages) - 1)
            if not stages[i].engine_on and stages[i + 1].engine_on
        ]
        return min(
            (self.start(store, share, temperature_c) for share in (*moments_of, shares[-1])),
            key=lambda s: (s.volts - s.needed_v, s.share),
        )

    def start(self, store: Storage, share: float, temperature_c: float) -> Start:
        """Volts while the starter turns, against what is needed, at a charge."""
        starter_a = self.plan.supply.starter_a
        if starter_a is None:
            fact = batteries.fact("starter_diesel_a")
            starter_a = self.ledger.take(
                "starter", "current", fact.value, "A", fact.source, fact.status,
                favourable=batteries.fact("starter_petrol_a").value,
            )
        share = min(1.0, max(0.0, share))
        warm = batteries.fact("crank_min_v_warm").value
        frozen = batteries.fact("crank_min_v_cold").value
        cold = min(1.0, max(0.0, (21.0 - temperature_c) / 39.0))
        return Start(
            share, store.open_v(share) - starter_a * store.ohm_at(share),
            (warm - (warm - frozen) * cold) * self.scale,
        )

    def _larger(
        self, day: Day, name: str, stages: list[Stage], temperature_c: float
    ) -> float | None:
        """Least capacity of one battery that keeps its reserve over the day, and starts."""
        battery = self.scenarios.battery(name)
        if battery is None or battery.capacity_ah is None:
            return None

        def enough(capacity_ah: float) -> bool:
            stores = self.stores(temperature_c, {name: capacity_ah})
            trace = self.simulate(day, stages, stores)
            store = stores[name]
            seen = moments.Seen(store, trace.intervals[name], trace.ends[name])
            if name in trace.flat_h or seen.lowest(False)[0] < store.reserve * (1.0 - 1e-9):
                return False
            if name != self.main:
                return True
            start = self._worst_start(stages, store, trace, temperature_c)
            return start.volts >= start.needed_v

        return cures.least_capacity(enough, battery.capacity_ah)

    def _unknown(self, day: Day, temperature_c: float) -> DayResult:
        share = day.charge if day.charge is not None else 1.0
        battery = self.scenarios.battery(self.main)
        keep = reserve_share(battery, True, temperature_c) if battery is not None else 0.5
        return DayResult(
            day.name, self.main, share, None, None, keep, (), None, None, None, temperature_c
        )
