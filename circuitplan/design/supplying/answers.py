"""The owner's three questions in one sentence each: does it keep up, how long, does it start."""

from __future__ import annotations

import math

from circuitplan.model.result import DayResult, ScenarioResult
from circuitplan.units import show_days, show_hours


def sentences(
    scenarios: tuple[ScenarioResult, ...], days: tuple[DayResult, ...], parked_days: float | None
) -> tuple[str, ...]:
    """Plain answers, in the order keeps up, how long, starts; what cannot be said is said so."""
    found = [_keeps_up(scenarios), _how_long(scenarios, parked_days)]
    found += [_day(day) for day in days]
    return tuple(s for s in found if s)


def _keeps_up(scenarios: tuple[ScenarioResult, ...]) -> str:
    running = [s for s in scenarios if s.engine != "off" and s.margin_limit_percent is not None]
    if not running:
        return ""
    unknown = [s.name for s in running if s.margin_a is None]
    if unknown:
        return (
            "Whether the alternator keeps up cannot be said for " + _list(unknown)
            + f": {next(s.note for s in running if s.margin_a is None)}."
        )
    short = [s for s in running if (s.margin_a or 0.0) < 0.0]
    thin = [
        s for s in running
        if s not in short and (s.margin_percent or 0.0) < (s.margin_limit_percent or 0.0) - 1e-9
    ]
    fine = [s for s in running if s not in short and s not in thin]
    parts = []
    if short:
        parts.append(
            "The alternator does not keep up in "
            + _list([f"{s.name} ({_up(-(s.margin_a or 0.0))} A short)" for s in short])
        )
    if thin:
        parts.append(
            ("it" if parts else "The alternator")
            + " keeps up with less to spare than it should in "
            + _list([f"{s.name} ({_down(s.margin_percent or 0.0)} % spare)" for s in thin])
        )
    if fine:
        least = min(fine, key=lambda s: (s.margin_percent or 0.0, s.name))
        spare = f" with {_down(least.margin_percent or 0.0)} % spare" + (
            " or more" if len(fine) > 1 else ""
        )
        head = "it" if parts else "The alternator"
        parts.append(f"{head} keeps up in {_list([s.name for s in fine])}{spare}")
    return "; ".join(parts) + "."


def _how_long(scenarios: tuple[ScenarioResult, ...], parked_days: float | None) -> str:
    off = [s for s in scenarios if s.engine == "off"]
    parts = []
    for one in off:
        asked = "" if one.duration_h is None else f" ({_asked(one.duration_h)} asked)"
        if one.hours_to_reserve is not None:
            parts.append(
                f"{one.name} lasts {show_hours(one.hours_to_reserve)}{asked} on {one.battery}"
            )
        elif one.margin_a is not None and one.margin_a >= 0.0:
            parts.append(f"{one.name} draws {one.battery} down not at all")
        else:
            parts.append(f"how long {one.name} lasts on {one.battery} cannot be said")
    if parts:
        return "Engine off, down to the reserve: " + "; ".join(parts) + "."
    if parked_days is not None:
        return f"Parked, the starting reserve lasts {show_days(parked_days)}."
    return ""


def _day(day: DayResult) -> str:
    if day.end_charge is None:
        return f"How {day.name} ends for {day.battery} cannot be said: {_missing(day)}."
    charge = f"{day.battery} ends at {_down(100.0 * day.end_charge)} % charge"
    if day.flat_after_h is not None:
        return f"In {day.name} {day.battery} is flat after {show_hours(day.flat_after_h)}."
    if day.lowest_charge is not None and day.lowest_charge < day.reserve_charge * (1.0 - 1e-9):
        fell = f" and has been at {_down(100.0 * day.lowest_charge)} %, under its reserve of " \
               f"{_up(100.0 * day.reserve_charge)} %"
    else:
        fell = ""
    if day.starts is None:
        return f"After {day.name} {charge}{fell}."
    volts = ""
    if day.cranking_v is not None and day.cranking_limit_v is not None:
        volts = (
            f" (at worst {math.floor(day.cranking_v * 10.0) / 10.0:.1f} V while cranking, "
            f"{math.ceil(day.cranking_limit_v * 10.0 - 1e-9) / 10.0:.1f} V needed)"
        )
    word = "the engine starts" if day.starts else "the engine may not start"
    return f"After {day.name} {word}{volts}; {charge}{fell}."


def _missing(day: DayResult) -> str:
    return "a length, the battery's capacity or the alternator's output is missing"


def _list(names: list[str]) -> str:
    unique = list(dict.fromkeys(names))
    if len(unique) < 2:
        return "".join(unique)
    return ", ".join(unique[:-1]) + " and " + unique[-1]


def _asked(hours: float) -> str:
    """A time as it was asked for: exact, not rounded to days."""
    return f"{round(hours * 60.0, 1):g} min" if hours < 1.0 else f"{round(hours, 1):g} h"


def _down(value: float) -> str:
    places = 0 if abs(value) >= 10.0 else 1
    scale = 10.0**places
    return f"{math.floor(value * scale + 1e-9) / scale:g}"


def _up(value: float) -> str:
    scale = 10.0
    return f"{math.ceil(value * scale - 1e-9) / scale:g}"
