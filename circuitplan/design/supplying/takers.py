"""Who draws from a battery in a scenario: mean share of the time, minutes, winch pulls."""

from __future__ import annotations

import math

from circuitplan.design.assume import Ledger
from circuitplan.design.levels import is_live
from circuitplan.design.load import Load
from circuitplan.design.state import State
from circuitplan.library import batteries
from circuitplan.model.plan import Running, Scenario
from circuitplan.model.record import record
from circuitplan.physics import winch
from circuitplan.physics.bus import Draw


@record
class Taker:
    """One load in one scenario. ``share`` is its mean over the scenario, ``seconds`` how long it
    runs if the plan gives a time; ``rated_a`` is its typical draw while on, at ``rated_v``."""

    index: int
    name: str
    share: float
    seconds: float | None
    rated_a: float
    rated_v: float
    exponents: tuple[float, ...]
    once_s: float | None  # longest single run of a short-time load
    cut_off_v: float | None
    reconnect_v: float | None
    pull_n: float | None

    def mean_a(self, volts: float) -> float:
        """Mean current over the scenario at ``volts`` [A]."""
        return self.share * self.draw().at(volts)

    def draw(self, share: float = 1.0) -> Draw:
        """As a draw that follows the volts, ``share`` of it."""
        return Draw(self.rated_a * share, self.rated_v, self.exponents)

    def runs(self) -> int:
        """How many runs the minutes fall into."""
        if self.seconds is None or self.once_s is None:
            return 1
        return max(1, math.ceil(self.seconds / self.once_s - 1e-9))


class Lineup:
    """Finds who draws, from the plan's scenarios and what has no switch."""

    def __init__(self, state: State, ledger: Ledger) -> None:
        self.state, self.ledger = state, ledger
        self.chargers = {c.name.casefold() for c in state.plan.supply.chargers}

    def takers(self, scenario: Scenario, battery: str) -> list[Taker]:
        """What runs on a battery in a scenario, in the order of the wiring's loads."""
        wiring = self.state.wiring
        listed = {r.name.casefold(): r for r in scenario.running}
        found: list[Taker] = []
        for index, load in enumerate(wiring.loads):
            if load.source or wiring.nodes[wiring.root[index]].battery != battery:
                continue
            if wiring.root[index] not in self.state.levels.batteries:
                continue  # behind a converter: counted as the converter's own draw
            run = listed.get(load.name.casefold())
            share = self._share(load, scenario, index)
            if run is not None:
                share = _dimmed(load) * _run_share(run, scenario.duration_s)
            if load.name in wiring.converter_load:
                share = self._converter_share(load.name, scenario)
            if share > 0.0:
                seconds = run.seconds if run is not None else None
                found.append(self._taker(index, load, share, seconds))
        return found

    def _taker(self, index: int, load: Load, share: float, seconds: float | None) -> Taker:
        cut_off_v, reconnect_v = self._cut_off(index)
        rated_a, exponents = load.typical_a, load.exponents
        pull_n = load.accessory.pull_n
        if pull_n is not None:
            rated_a, exponents = self._pulling(load, pull_n), (0.0,)
        return Taker(
            index, load.name, share, seconds, rated_a, load.rated_v, exponents,
            load.on_s if not load.continuous else None, cut_off_v, reconnect_v, pull_n,
        )

    def _pulling(self, load: Load, pull_n: float) -> float:
        """Current of a winch at its planned pull: linear from no load to the rated pull."""
        one = load.accessory
        at_rated_a = (one.peak_a or one.current_a or load.rated_a / one.quantity) * one.quantity
        rated_n = one.rated_pull_n if one.rated_pull_n is not None else pull_n
        no_load_a = one.no_load_a
        if no_load_a is None:
            no_load_a = load.kind.low_a if load.kind is not None else 0.0
            source = load.kind.source if load.kind is not None else "judgement"
            self.ledger.say(one.name, "current without load", f"{no_load_a:g} A", source,
                            load.kind.status if load.kind is not None else "judgement")
        return winch.current_a(min(pull_n, rated_n), no_load_a, at_rated_a, rated_n)

    def _cut_off(self, index: int) -> tuple[float | None, float | None]:
        """(opens, closes again) of the low-voltage cut-off before a load."""
        wiring = self.state.wiring
        for circuit in wiring.circuits:
            if index not in circuit.loads:
                continue
            panels = [n.panel for n in wiring.nodes[circuit.node].chain() if n.panel is not None]
            cuts = [p for p in panels if p.cut_off_v is not None]
            if cuts:
                first = max(cuts, key=lambda p: p.cut_off_v or 0.0)
                again = first.reconnect_v
                if again is None:
                    again = batteries.fact("reconnect_v").value * self.state.plan.nominal_v / 12.0
                return first.cut_off_v, again
        return None, None

    def _converter_share(self, name: str, scenario: Scenario) -> float:
        """Share of a converter's full draw that its loads ask for in a scenario."""
        wiring = self.state.wiring
        behind = [
            (i, load) for i, load in enumerate(wiring.loads) if wiring.root[i] == name
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
                now += load.typical_a * _run_share(run, scenario.duration_s)
            else:
                now += load.typical_a * self._share(load, scenario, i)
        return now / whole

    def _share(self, load: Load, scenario: Scenario, index: int) -> float:
        """Share of the time that an unlisted load runs: only what has no switch does."""
        if not load.runs_by_itself or not is_live(self.state.wiring, index, scenario.engine):
            return 0.0
        if index in self.state.wiring.converter_load.values():
            return 1.0
        return load.share * _dimmed(load)


def _dimmed(load: Load) -> float:
    return load.accessory.dimmed if load.accessory.dimmed is not None else 1.0


def _run_share(run: Running, duration_s: float | None) -> float:
    if run.share is not None:
        return run.share
    if run.seconds is None or not duration_s:
        return 1.0
    return min(1.0, run.seconds / duration_s)
