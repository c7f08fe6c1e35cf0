"""X23: a short-time load runs longer in a scenario than it is made for."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.model.plan import Running, Scenario
from circuitplan.rules.base import (
    Case,
    Finding,
    Item,
    Rule,
    Skip,
    exceeds,
    num,
    ordered,
    ordered_percent,
)

RULE = Rule(
    id="X23",
    name="held on above its duty",
    signal_word="CAUTION",
    fails=False,
    means="A locker coil, compressor or winch is made for a time on and a pause. A scenario keeps "
    "it on for a larger share than that.",
    why="The coil or motor overheats: burns at its housing, and it fails.",
    remedy="Shorten the time on, add a timer or speed interlock, or use one made for continuous "
    "duty.",
    source="duty of the kind, or of the plan",
    status="common practice",
    example="A winch of 60 s in 10 min that a scenario runs for half an hour in three.",
    by_hand="Feel the coil or motor after use (carefully): too hot to hold is too long.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for scenario in sorted(case.plan.scenarios, key=lambda s: s.name):
        for running in sorted(scenario.running, key=lambda r: r.name):
            item = case.item(running.name)
            if item is None or item.result.on_s is None:
                continue
            finding = _judge(scenario, running, item, item.result.on_s)
            if finding is not None:
                yield finding


def _judge(scenario: Scenario, running: Running, item: Item, on_s: float) -> Finding | Skip | None:
    share = running.share
    if share is None and running.seconds is not None and scenario.duration_s:
        share = running.seconds / scenario.duration_s
    if share is not None and item.result.period_s:
        allowed = min(1.0, on_s / item.result.period_s)
        if not exceeds(share, allowed):
            return None
        found, limit = ordered_percent(share * 100, allowed * 100)
        unit = "%"
        values = share * 100, allowed * 100
    elif running.seconds is not None:
        if not exceeds(running.seconds, on_s):
            return None
        found, limit = ordered(running.seconds, on_s)
        unit = "s"
        values = running.seconds, on_s
    else:
        return Skip("the plan does not say how long it is on at a time", item.name)
    return RULE.finding(
        item.name,
        f"In {scenario.name}, {item.name} is on for {found} {unit}; its duty ({num(on_s)} s on) "
        f"allows {limit} {unit}. It overheats: burns at its housing.",
        f"Keep {item.name} to {limit} {unit}, by a timer or an interlock, or use one made for "
        "continuous duty.",
        found=values[0],
        limit=values[1],
        unit=unit,
        circuit=item.circuit.id,
    )
