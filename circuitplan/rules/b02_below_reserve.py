"""B02: a battery falls below what it must keep."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.model.result import DayResult, ScenarioResult
from circuitplan.rules.base import (
    Case,
    Finding,
    Rule,
    Skip,
    below,
    exceeds,
    num,
    ordered,
    ordered_percent,
)
from circuitplan.rules.supply_cures import battery_of, machines, shedding, told
from circuitplan.units import show_days, show_drain

RULE = Rule(
    id="B02",
    name="battery below its reserve",
    signal_word="NOTICE",
    fails=True,
    means="A scenario or a day takes more from a battery than it may give: the one that starts the "
    "engine keeps half its charge (three quarters below 0 °C) and enough volts to crank.",
    why="The engine does not start, far from help; a lead battery that is emptied often soon "
    "fails.",
    remedy="Run it for a shorter time, let the engine run, move the load to a second battery, or "
    "fit a cut-off that leaves the reserve.",
    source="common practice: 50 % of the charge kept for starting; NFPA 1901 (10 minutes on half "
    "the reserve capacity)",
    status="common practice",
    example="A fridge of 4 A on a 70 Ah starter battery for 12 h overnight: the reserve is reached "
    "after about 8 h.",
)

PARKED_LIMIT_A = 0.050
"""Usual upper bound of what a parked vehicle draws (common practice)."""


def judge(case: Case) -> Iterator[Finding | Skip]:
    supply = case.result.supply
    for scenario in sorted(supply.scenarios, key=lambda s: s.name):
        yield from _scenario(case, scenario)
    for day in sorted(supply.days, key=lambda d: (d.name, d.battery)):
        yield from _day(day)
    if exceeds(supply.parked_a, PARKED_LIMIT_A):
        found, limit = ordered(supply.parked_a * 1000, PARKED_LIMIT_A * 1000)
        drain = f"{found} mA" if supply.parked_a < 1.0 else show_drain(supply.parked_a)
        days = (
            f": the reserve is reached after {show_days(supply.parked_days)}"
            if supply.parked_days is not None
            else ""
        )
        yield RULE.finding(
            "parked",
            f"The parked vehicle draws {drain}; {limit} mA is usual{days}. Then the engine may "
            "not start.",
            "Put what need not stay live on a switched feed, or keep the battery on a charger.",
            found=supply.parked_a,
            limit=PARKED_LIMIT_A,
            unit="A",
            fails=False,
            source="common practice: 20 to 50 mA with the key off",
        )


def _scenario(case: Case, scenario: ScenarioResult) -> Iterator[Finding | Skip]:
    wanted_h, hours = scenario.duration_h, scenario.hours_to_reserve
    if wanted_h is None or hours is None or not below(hours, wanted_h):
        return
    found, limit = ordered(hours, wanted_h)
    largest = max(scenario.running, key=lambda r: (r[1], r[0]), default=None)
    heaviest = f"; {largest[0]} takes most, {num(largest[1])} A on average" if largest else ""
    second = [b.name for b in case.batteries if b.name.casefold() != scenario.battery.casefold()]
    other = f"feed the load from {second[0]}" if second else "fit a second battery"
    yield RULE.finding(
        scenario.name,
        f"{scenario.name} lasts {limit} h; {scenario.battery} reaches its reserve after {found} h "
        f"at {num(scenario.demand_a)} A{heaviest}. After that the engine may not start.",
        told(
            f"Keep to {found} h, run the engine, or {other}.", shedding(scenario),
            machines(scenario),
        ),
        found=hours,
        limit=wanted_h,
        unit="h",
    )


def _day(day: DayResult) -> Iterator[Finding | Skip]:
    subject = day.name
    if day.lowest_charge is None:
        yield Skip(f"the charge of {day.battery} could not be followed", day.name)
    elif below(day.lowest_charge, day.reserve_charge):
        found, limit = ordered_percent(day.lowest_charge * 100, day.reserve_charge * 100)
        worst = min(day.steps, key=lambda s: (s[1], s[0]), default=None)
        after = f" after {worst[0]}" if worst else ""
        yield RULE.finding(
            subject,
            f"In {day.name} the charge of {day.battery} falls to {found} %{after}; {limit} % is to "
            "be kept. The engine may not start, or the loads go dark.",
            told(
                "Shorten what runs before that, recharge in between, or fit a larger or second "
                "battery.", battery_of(day),
            ),
            found=day.lowest_charge * 100,
            limit=day.reserve_charge * 100,
            unit="%",
        )
    if day.starts is False:
        volts = ""
        if day.cranking_v is not None and day.cranking_limit_v is not None:
            found, limit = ordered(day.cranking_v, day.cranking_limit_v)
            volts = f" ({found} V while cranking; {limit} V is needed)"
        yield RULE.finding(
            subject,
            f"At the end of {day.name} {day.battery} does not start the engine{volts}.",
            "Keep more charge for the start, or carry a second battery for the loads.",
            found=day.cranking_v,
            limit=day.cranking_limit_v,
            unit="V",
        )
