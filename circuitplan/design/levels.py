"""The volts at the battery posts at both ends, and what the batteries' resistances are.

Every resistance is a pair: warm and new for sag, low for breaking capacity, high (cold, aged) for
fault clearing and cranking.
"""

from __future__ import annotations

from circuitplan.design.assume import Ledger
from circuitplan.design.draft import Wiring
from circuitplan.design.load import Load
from circuitplan.design.supplying.alternator import hot_output
from circuitplan.library import alternators, batteries
from circuitplan.model.circuit import Sag
from circuitplan.model.plan import Battery, Plan
from circuitplan.model.record import record

SMALL_AH, LARGE_AH = 45.0, 100.0
"""A starter battery of unknown size lies between these (judgement)."""
UNKNOWN_SAG_V = 2.0
"""Most that an unknown 12 V battery is taken to sag: one that sags more does not turn the load
that is asked of it (judgement)."""
SAG_FACTOR = 1.5
"""Aged battery: times the warm resistance (judgement)."""


@record
class BatteryLevels:
    """One battery's posts. Volts and ohms are those of the whole battery."""

    battery: Battery
    type: str
    low_emf_v: float
    sag_v: float
    high_v: float
    breaking_v: float
    warm_ohm: float
    low_ohm: float
    high_ohm: float
    capacity_ah: float | None  # None: unknown, no hours are reckoned

    @property
    def unknown(self) -> bool:
        """Whether nothing says how strong the battery is."""
        known = (self.capacity_ah, self.battery.cranking_a, self.battery.resistance_ohm)
        return all(value is None for value in known)


@record
class Levels:
    """Supply ends for every load: index as in the wiring's loads."""

    batteries: dict[str, BatteryLevels]
    low_v: tuple[float, ...]
    high_v: tuple[float, ...]
    when: tuple[Sag, ...]


def battery_levels(plan: Plan, battery: Battery, ledger: Ledger) -> BatteryLevels:
    """Volts and resistances of one battery, assumptions noted."""
    volts = plan.nominal_v
    type_name = battery.type or "unknown"
    if battery.type is None:
        ledger.say(
            battery.name, "type", "flooded for hours, AGM for short circuits",
            "the worse of the two each time", "judgement",
        )
    kind = batteries.type_(type_name)
    level = alternators.supply_level(volts, type_name)
    small = large = battery.capacity_ah
    if battery.capacity_ah is None:
        small = ledger.take(
            battery.name, "capacity, for resistance and sag", SMALL_AH, "Ah",
            "small starter battery", "judgement", favourable=LARGE_AH,
        )
        large = ledger.take(
            battery.name, "capacity, for short circuits", LARGE_AH, "Ah",
            "large starter battery", "judgement", favourable=SMALL_AH,
        )
    assert small is not None
    assert large is not None
    cca = battery.cranking_a
    warm = kind.r_warm.ohm(small, cca, volts)
    low = kind.r_low.ohm(large, cca, volts)
    high = kind.r_high.ohm(small, cca, volts)
    if battery.resistance_ohm is not None:
        warm = battery.resistance_ohm
        low = min(low, battery.resistance_ohm)
        high = max(high, battery.resistance_ohm)
    if battery.short_circuit_a is not None:
        low = level.fault_emf_v / battery.short_circuit_a
    elif type_name == "lifepo4":
        # Protection electronics are not credited; 20 kA unless the maker states less.
        low = min(low, level.fault_emf_v / 20000.0)
        ledger.say(
            battery.name, "short-circuit current", "20 kA", "ABYC E-11 practice for lithium",
            "second-hand",
        )
    high_v = plan.supply.high_v or level.high_v
    if plan.supply.high_v is None:
        ledger.say(
            "supply", "highest charging volts", f"{level.high_v:g} V", level.source, level.status
        )
    return BatteryLevels(
        battery, type_name, level.low_emf_v, level.low_sag_v, high_v, level.fault_emf_v,
        warm, low, high, battery.capacity_ah,
    )


def supply_levels(plan: Plan, wiring: Wiring, ledger: Ledger) -> Levels:
    """Both supply ends of every load, with the sag of the scenario in which it runs."""
    known = {b.name: b for b in plan.supply.batteries}
    found: dict[str, BatteryLevels] = {}
    for node in wiring.nodes.values():
        if node.panel is None:
            battery = known.get(node.name, Battery(node.name))
            found[node.name] = battery_levels(plan, battery, ledger)
    low: list[float] = []
    high: list[float] = []
    ruled: list[Sag] = []
    draws = {name: _battery_draws(plan, wiring, name, ledger) for name in found}
    for index, load in enumerate(wiring.loads):
        root = wiring.nodes[wiring.root[index]]
        if root.panel is not None and root.panel.output_v is not None:
            low.append(root.panel.output_v)
            high.append(root.panel.output_v)
            ruled.append(Sag("the converter's output"))
            continue
        level = found[root.name]
        current_a, name = _worst_draw(draws[root.name], load.name)
        sag_v = max(level.sag_v, SAG_FACTOR * level.warm_ohm * current_a)
        if level.unknown and sag_v > UNKNOWN_SAG_V * plan.nominal_v / 12.0:
            sag_v = UNKNOWN_SAG_V * plan.nominal_v / 12.0
            ledger.say(
                root.name, "sag under the largest load", f"{sag_v:g} V",
                "nothing is known of the battery; give its capacity or cranking current",
                "judgement",
            )
        low.append(level.low_emf_v - sag_v)
        high.append(level.high_v)
        ruled.append(name)
    _together(wiring, low, ruled)
    return Levels(found, tuple(low), tuple(high), tuple(ruled))


def _together(wiring: Wiring, low: list[float], ruled: list[Sag]) -> None:
    """Loads on one switch or one lead are on together: all of them at the lowest end of any.

    Else a lamp of some scenario would be taken at the volts of its own scenario, while the lamp
    that the same switch lights, and that no scenario names, is solved at those of the deepest sag:
    wire sized with the smaller current of the first would drop too much for the second.
    """
    groups = [list(circuit.loads) for circuit in wiring.circuits]
    by_switch: dict[str, list[int]] = {}
    for index, load in enumerate(wiring.loads):
        for switch in load.accessory.switches:
            by_switch.setdefault(switch.casefold(), []).append(index)
    groups += by_switch.values()
    changed = True
    while changed:
        changed = False
        for group in groups:
            for root in {wiring.root[i] for i in group}:
                members = [i for i in group if wiring.root[i] == root]
                deepest = min(members, key=lambda i: (low[i], ruled[i].words))
                for index in members:
                    if low[index] > low[deepest]:
                        low[index], ruled[index] = low[deepest], ruled[deepest]
                        changed = True


Draws = list[tuple[Sag, float, frozenset[str] | None]]
"""(what pulls, current out of the battery [A], who runs meanwhile; None: everything)."""


def _worst_draw(draws: Draws, name: str) -> tuple[float, Sag]:
    mine = [(a, s) for s, a, members in draws if members is None or name in members]
    if not mine:  # in no scenario: as deep as any of them
        mine = [(a, s) for s, a, _ in draws]
    return max(mine, key=lambda one: (one[0], one[1].words), default=(0.0, Sag("at rest")))


def _sag(scenario: str, running: list[Load], beside: list[Load], volts: float) -> Sag:
    """The heaviest of what pulls in a scenario; ``beside``: what no scenario names."""
    heaviest = max([*running, *beside], key=lambda one: (_pull(one, volts), one.name), default=None)
    if heaviest is None:
        return Sag(scenario)
    words = f"{scenario}, while {heaviest.name} draws {_pull(heaviest, volts):.0f} A"
    if all(heaviest is not one for one in beside):
        return Sag(words)
    return Sag(
        f"{words} beside it: no scenario names it",
        f"Say in a scenario when {heaviest.name} runs, and whether the engine does. ",
    )


def _battery_draws(plan: Plan, wiring: Wiring, battery: str, ledger: Ledger) -> Draws:
    """What is drawn from this battery in each scenario, all of it on at once."""
    here = [
        (i, load) for i, load in enumerate(wiring.loads)
        if wiring.nodes[wiring.root[i]].name == battery and not load.source
    ]
    main = next(iter(sorted(n for n, node in wiring.nodes.items() if node.panel is None)), battery)
    is_main = battery == "battery" or battery == main
    nominal = plan.nominal_v
    draws: Draws = []
    listed = {r.name.casefold() for s in plan.scenarios for r in s.running}
    # Nothing forbids what no scenario names: it counts beside each of them.
    others = _at_once([
        load for _, load in here
        if load.name.casefold() not in listed and not load.runs_by_itself
    ], nominal)
    beside = sum(_pull(load, nominal) for load in others)
    for scenario in plan.scenarios:
        names = frozenset(r.name for r in scenario.running)
        fixed = frozenset(
            load.name for i, load in here
            if load.runs_by_itself and is_live(wiring, i, scenario.engine)
        )
        running = [load for _, load in here if load.name in names | fixed]
        total = beside + sum(_pull(load, nominal) for load in running)
        if is_main and scenario.engine != "off":
            total += vehicle_load(plan, scenario.engine, ledger)
            total -= hot_output(plan, scenario.engine, ledger)[0] or 0.0
        sag = _sag(f"scenario {scenario.name}", running, others, nominal)
        draws.append((sag, max(total, 0.0), names | fixed))
    if not plan.scenarios:
        running = _at_once([load for _, load in here], nominal)
        sag = _sag("engine off", [], running, nominal)
        draws.append((sag, sum(_pull(load, nominal) for load in running), None))
    return draws


def _at_once(loads: list[Load], volts: float) -> list[Load]:
    """All that runs for long, and the hardest of the short-time machines: one runs at a time."""
    short = [load for load in loads if not load.continuous]
    short.sort(key=lambda one: (-_pull(one, volts), one.name))
    return [load for load in loads if load.continuous] + short[:1]


def _pull(load: Load, volts: float) -> float:
    """What a load takes out of the battery at its hardest [A]: the peak of a short-time machine."""
    if load.continuous or load.peak_a is None:
        return load.current_at(volts)
    return max(load.current_at(volts), load.peak_a)


def is_live(wiring: Wiring, index: int, engine: str) -> bool:
    """Whether a load without a switch is fed in an engine state."""
    live = next((c.live for c in wiring.circuits if index in c.loads), "always")
    return live == "always" or engine != "off"


def vehicle_load(plan: Plan, engine: str, ledger: Ledger) -> float:
    """What the vehicle itself draws in an engine state [A]; given, or the worst night's."""
    given = dict(plan.supply.vehicle_load_a)
    if engine in given:
        return given[engine]
    if engine == "off":
        if "parked" in given:
            return given["parked"]
        fact = alternators.vehicle_load(plan.nominal_v, False)
        ledger.say("vehicle", "load, engine off", f"{fact.value:g} A", fact.source, fact.status)
        return fact.value
    running = [given[key] for key in ("high idle", "idle", "cruise") if key in given]
    if running:
        return max(running)
    fact = alternators.vehicle_load(plan.nominal_v, True)
    return ledger.take(
        "vehicle", "load with the engine on, worst night", fact.value, "A", fact.source,
        fact.status, favourable=fact.value / 3.0,
    )
