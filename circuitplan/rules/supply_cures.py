"""What the supply found where a scenario or a day is not carried, in the words of a remedy."""

from __future__ import annotations

from circuitplan.model.result import DayResult, ScenarioResult
from circuitplan.rules.base import num

MOST_NAMED = 6


def shedding(scenario: ScenarioResult) -> str:
    """The order in which to leave loads out, and whether that is enough; empty if not wanted."""
    if scenario.shed_cures is None:
        return ""
    if not scenario.shed:
        return "Nothing in it may be left out."
    named = [f"{name} ({num(amps)} A)" for name, amps in scenario.shed[:MOST_NAMED]]
    if len(scenario.shed) > MOST_NAMED:
        named.append(f"then {len(scenario.shed) - MOST_NAMED} more")
    enough = "" if scenario.shed_cures else "; even so it is not enough"
    return f"Leave out, in this order: {', '.join(named)}{enough}."


def machines(scenario: ScenarioResult) -> str:
    """A faster idle, a larger alternator or battery that would carry it; empty if none."""
    found = []
    if scenario.cure_shaft_rpm is not None:
        found.append(f"an alternator shaft speed of {num(scenario.cure_shaft_rpm, 4)} r/min")
    if scenario.cure_rated_a is not None:
        found.append(
            f"an alternator rated {num(scenario.cure_rated_a)} A, its idle output in proportion"
        )
    if scenario.cure_capacity_ah is not None:
        found.append(_battery(scenario.cure_capacity_ah, scenario.battery))
    return f"Or: {'; or '.join(found)}." if found else ""


def battery_of(day: DayResult) -> str:
    """The battery that keeps the reserve through a day; empty if none was found."""
    if day.cure_capacity_ah is None:
        return ""
    words = _battery(day.cure_capacity_ah, day.battery)
    return f"{words[0].upper()}{words[1:]} keeps the reserve."


def _battery(capacity_ah: float, name: str) -> str:
    place = "" if name == "battery" else f" in place of {name}"
    return f"a battery of {num(capacity_ah)} Ah{place}"


def told(*sentences: str) -> str:
    """Sentences as one text, without those that are empty."""
    return " ".join(s for s in sentences if s)
