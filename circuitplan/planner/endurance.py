"""How long a battery lasts: an accessory or scenario of a plan, or plain figures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from circuitplan.design.assume import Ledger
from circuitplan.design.load import resolve
from circuitplan.design.supplying.supply import hours_to, reserve_share, rounded_down, wells
from circuitplan.errors import InputError, Problem
from circuitplan.model.plan import Accessory, Battery, Plan, Supply
from circuitplan.model.record import record
from circuitplan.model.result import Assumption, Result

FORMAT = "circuitplan hours 1"
NOMINAL_CHARGE = 1.0


@record
class HoursAnswer:
    """Hours are rounded down to 0.1; None where they cannot be said, and ``because`` says why."""

    format: str
    answer: str  # ok or cannot say
    because: str
    battery: str
    name: str
    current_a: float  # mean, with what the parked vehicle draws
    hours_to_reserve: float | None
    hours_to_empty: float | None
    reserve_share: float
    assumptions: tuple[Assumption, ...]


def hours_by_figures(
    battery: Battery, accessory: Accessory, nominal_v: float, parked_a: float = 0.0
) -> HoursAnswer:
    """Time of one accessory on one full battery at 20 °C; the battery starts the engine."""
    plan = Plan(nominal_v=nominal_v, supply=Supply(batteries=(battery,)), accessories=(accessory,))
    ledger = Ledger()
    load = resolve(accessory, plan, ledger)
    low_v = nominal_v  # 2.0 V a cell at rest: the mean of a discharge, and safe for constant power
    scale = max((low_v / load.rated_v) ** m for m in load.exponents)
    current = load.average_a() * scale + parked_a
    return _answer(battery, True, accessory.name, current, ledger.listed())


def hours_of(plan: Plan, result: Result, name: str) -> HoursAnswer:
    """Time of one accessory (alone, with the parked drain) or of one scenario of a plan.

    ``result`` is the study of the plan. InputError if nothing has that name.
    """
    wanted = name.casefold()
    for scenario in result.supply.scenarios:
        if scenario.name.casefold() == wanted:
            battery = _battery(plan, scenario.battery)
            if scenario.margin_a is not None and scenario.margin_a >= 0.0:
                return _endless(battery, scenario.name, scenario.demand_a, result)
            drawn = scenario.demand_a if scenario.margin_a is None else -scenario.margin_a
            return _answer(
                battery, _is_main(plan, battery), scenario.name, drawn, result.assumptions
            )
    for circuit in result.circuits:
        for accessory in circuit.accessories:
            if accessory.name.casefold() == wanted:
                battery = _battery(plan, circuit.source)
                main = _is_main(plan, battery)
                parked = result.supply.parked_a if main else 0.0
                current = accessory.average_a + parked
                return _answer(battery, main, accessory.name, current, result.assumptions)
    known = [a.name for c in result.circuits for a in c.accessories]
    known += [s.name for s in result.supply.scenarios]
    raise InputError(
        [
            Problem(
                plan.file or "plan", f"nothing is named {name!r}", ", ".join(dict.fromkeys(known)),
                "name one of these",
            )
        ]
    )


def _battery(plan: Plan, name: str) -> Battery:
    return next((b for b in plan.supply.batteries if b.name == name), Battery(name))


def _is_main(plan: Plan, battery: Battery) -> bool:
    known = plan.supply.batteries
    return not known or known[0].name == battery.name


def _endless(battery: Battery, name: str, current_a: float, result: Result) -> HoursAnswer:
    return HoursAnswer(
        FORMAT, "ok", "the alternator carries it: the battery is not drawn down", battery.name,
        name, current_a, None, None, 0.0, result.assumptions,
    )


def _answer(
    battery: Battery, is_main: bool, name: str, current_a: float, assumed: Sequence[Assumption]
) -> HoursAnswer:
    keep = reserve_share(battery, is_main)
    reserve = rounded_down(hours_to(battery, current_a, 1.0 - keep))
    empty = rounded_down(hours_to(battery, current_a, 1.0))
    model = wells(battery)
    if battery.capacity_ah is None:
        because = "the plan does not give the battery's capacity"
    elif model is not None and model.capacity_ah(current_a) is None:
        because = f"{current_a:.1f} A empties it within the hour: outside the battery model"
    elif reserve is None:
        because = "it draws no current"
    else:
        because = f"at {current_a:.2f} A, from full, at 20 °C"
    extra = Assumption(
        battery.name, "charge and temperature", "full, 20 °C, new", "stated condition", "judgement"
    )
    return HoursAnswer(
        FORMAT, "ok" if reserve is not None else "cannot say", because, battery.name, name,
        current_a, reserve, empty, keep, (*assumed, replace(extra)),
    )
