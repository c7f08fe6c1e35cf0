"""The supply side of one plan: scenarios, days, parked drain, and the plain answers."""

from __future__ import annotations

from circuitplan.design.assume import Ledger
from circuitplan.design.levels import vehicle_load
from circuitplan.design.solve import Solved, electrical
from circuitplan.design.state import State
from circuitplan.design.supplying import alternator, answers
from circuitplan.design.supplying.charge import hours_to, reserve_share, rounded_down, wells
from circuitplan.design.supplying.days import Days
from circuitplan.design.supplying.scenarios import Scenarios
from circuitplan.model.result import Drop, SupplyResult

__all__ = ["Supply", "hours_to", "reserve_share", "rounded_down", "wells"]


class Supply:
    """The supply side of one plan.

    ``solved`` is the finished network, for the volts at critical accessories; it is worked out
    again where it is needed and not given.
    """

    def __init__(self, state: State, ledger: Ledger, solved: Solved | None = None) -> None:
        self.state, self.ledger, self.plan = state, ledger, state.plan
        self.solved = solved
        self.scenarios = Scenarios(state, ledger)
        self.main = self.scenarios.main

    def result(self, isolate: tuple[str, ...]) -> SupplyResult:
        """Everything that the result says of the supply."""
        parked = self.parked_a()
        found = self.scenarios.results()
        main = self.scenarios.battery(self.main)
        parked_days = None
        if main is not None and parked > 0.0:
            hours = hours_to(main, parked, 1.0 - reserve_share(main, True))
            parked_days = None if hours is None else hours / 24.0
        self._say_condition()
        lows = [
            self.state.levels.low_v[i] for i in range(len(self.state.wiring.loads))
            if self.state.wiring.root[i] in self.state.levels.batteries
        ]
        level = self.state.levels.batteries[self.main]
        days = self.days().results(found)
        return SupplyResult(
            parked, parked_days, isolate, min(lows, default=level.low_emf_v - level.sag_v),
            level.high_v, found, days,
            answers=answers.sentences(found, days, parked_days),
            alternators=alternator.points(self.plan, self.ledger),
            vehicle_on_a=self._vehicle_on_a(),
        )

    def days(self) -> Days:
        """The plan's days, ready to be simulated."""
        # Cures are for the pass that is shown, not for those that only tell what decides.
        shown = self.ledger.favourable is not None and not self.ledger.favourable
        return Days(self.scenarios, self._drops(), shown)

    def _drops(self) -> dict[str, Drop]:
        if not self.plan.days or not any(load.critical for load in self.state.wiring.loads):
            return {}
        solved = self.solved if self.solved is not None else electrical(self.state)
        return {d.accessory: d for d in solved.drops if d is not None}

    def _say_condition(self) -> None:
        """What the plan leaves unsaid about batteries and weather."""
        for battery in self.plan.supply.batteries:
            if battery.capacity_ah is not None and battery.health is None:
                self.ledger.say(
                    battery.name, "share of its new capacity left", "all of it",
                    "state health: 80 % for an old one", "judgement",
                )
        for charger in self.plan.supply.chargers:
            if charger.kind == "solar" and all(s.sun is None for s in self.plan.scenarios):
                self.ledger.say(charger.name, "sun", "none credited",
                                "a scenario may give sun: 40 %", "judgement")
            if charger.kind == "shore" and not any(s.shore for s in self.plan.scenarios):
                self.ledger.say(charger.name, "shore supply", "not plugged in",
                                "a scenario may say shore: yes", "judgement")

    def _vehicle_on_a(self) -> float | None:
        """The vehicle's own load with the engine on, in its worst state [A]."""
        if self.plan.supply.alternator is None:
            return None
        return max(
            vehicle_load(self.plan, engine, self.ledger) for engine in alternator.ENGINE_STATES
        )

    def parked_a(self) -> float:
        """Drain on the starting battery with the key off [A]: the vehicle, what always is live,
        and what has no switch and so runs on."""
        wiring = self.state.wiring
        total = vehicle_load(self.plan, "off", self.ledger)
        live = {i for c in wiring.circuits if c.live == "always" for i in c.loads}
        for index in sorted(live):
            load = wiring.loads[index]
            if wiring.nodes[wiring.root[index]].battery == self.main:
                drain = load.average_a() if load.runs_by_itself else load.parked_a
                total += max(drain, load.parked_a)
        return total
