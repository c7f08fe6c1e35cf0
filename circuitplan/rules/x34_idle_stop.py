"""X34: the engine stops at every halt, and the alternator with it."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, listed, num

RULE = Rule(
    id="X34",
    name="idle-stop vehicle",
    signal_word="CAUTION",
    fails=False,
    means="The vehicle stops its engine at every halt. What a scenario counts as idling is then "
    "battery only.",
    why="The battery empties in traffic or on scene; loads dim at every restart, and lamps may "
    "fail when they are needed.",
    remedy="Switch idle-stop off while the equipment works (many vehicles take a signal for "
    "that), or count those scenarios with the engine off.",
    source="common practice of the trade",
    status="common practice",
    example="Work lamps at a halt: plan the scenario with engine: off.",
    by_hand="Look for the idle-stop button, and whether it stays off after a restart.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    if not case.plan.supply.idle_stop:
        yield Skip("the plan does not say that the vehicle stops its engine at halts")
        return
    idling = [s for s in case.result.supply.scenarios if s.engine in ("idle", "high idle")]
    names = [s.name for s in idling]
    demand_a = max((s.demand_a for s in idling), default=0.0)
    where = f" In {listed(names)} up to {num(demand_a)} A then come from it." if names else ""
    yield RULE.finding(
        "supply",
        f"The engine stops at every halt, and the battery alone feeds what is on.{where} It "
        "empties, and lamps may fail when they are needed.",
        "Switch idle-stop off while the equipment works, or plan those scenarios with engine: off.",
    )
