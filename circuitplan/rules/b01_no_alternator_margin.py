"""B01: in a scenario the alternator does not carry what is on."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.model.result import ScenarioResult
from circuitplan.rules.base import Case, Finding, Rule, Skip, below, num, ordered_percent
from circuitplan.rules.supply_cures import machines, shedding, told

RULE = Rule(
    id="B01",
    name="no alternator margin",
    signal_word="NOTICE",
    fails=True,
    means="At the engine speed of the scenario the hot alternator gives less than the vehicle and "
    "the accessories draw, or leaves less spare than the practice asks for.",
    why="In a deficit the battery empties while the engine runs, the voltage sinks, lamps dim, and "
    "after hours the engine does not start again. With little left the battery is charged more "
    "slowly than it should be, and a hot alternator run flat out does not last.",
    remedy="Run fewer loads at idle, raise the idle speed, or fit a larger alternator. Ask its "
    "maker for the hot output at idle: the figure on the label is a cold one at high speed.",
    source="AC 43.13-1B 11-35 (80 % of the output for continuous loads); NFPA 1901 13.3.2",
    status="read",
    example="95 A cold at idle is 64 A hot; the vehicle takes 32 A, work lamps and beacons 40 A: "
    "8 A too much at idle, enough at high idle.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for scenario in sorted(case.result.supply.scenarios, key=lambda s: s.name):
        if scenario.engine == "off":
            continue
        if scenario.margin_a is None or scenario.margin_percent is None:
            yield Skip("the plan does not say what the alternator gives", scenario.name)
            continue
        limit_percent = scenario.margin_limit_percent or 0.0
        if below(scenario.margin_percent, limit_percent) or below(scenario.margin_a, 0.0):
            yield _finding(case, scenario, scenario.margin_percent, limit_percent)


def _finding(
    case: Case, scenario: ScenarioResult, margin_percent: float, limit_percent: float
) -> Finding:
    found, limit = ordered_percent(margin_percent, limit_percent)
    output_a = scenario.alternator_a or 0.0
    margin_a = scenario.margin_a or 0.0
    short_a = output_a * limit_percent / 100 - margin_a
    # In deficit the demand is that at low volts; what may be left out is reckoned as charging.
    at_volts = ", as drawn at these low volts" if margin_a < 0 else ""
    ways = [f"Take {num(short_a)} A off{at_volts}"]
    if scenario.engine == "idle":
        ways.append("run at high idle")
    if scenario.cure_rated_a is None:
        ways.append("fit an alternator with a higher hot output at this speed")
    return RULE.finding(
        scenario.name,
        f"In {scenario.name} (engine: {scenario.engine}) accessories take {num(scenario.demand_a)} "
        f"A and the vehicle {num(scenario.vehicle_a)} A of the {num(output_a)} A that the hot "
        f"alternator gives: {_state(margin_a, found, limit)}",
        told(f"{', or '.join(ways)}.", shedding(scenario), machines(scenario)),
        found=margin_percent,
        limit=limit_percent,
        unit="%",
        change=f"{scenario.name} engine high idle" if scenario.engine == "idle" else None,
    )


def _state(margin_a: float, found: str, limit: str) -> str:
    """What is short, or left and how little; and what the battery makes of it."""
    if below(margin_a, 0.0):
        return (
            f"{num(-margin_a)} A come out of the battery, a margin of {found} %; {limit} % is "
            "wanted. The battery empties while the engine runs, and the voltage sinks."
        )
    if not below(0.0, margin_a):
        return f"nothing is left; {limit} % is wanted. The battery is not recharged."
    return (
        f"{num(margin_a)} A are left, a margin of {found} %; {limit} % is wanted. What is left "
        "recharges the battery, more slowly than it should."
    )
