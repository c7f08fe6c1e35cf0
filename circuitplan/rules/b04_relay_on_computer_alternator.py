"""B04: a voltage-sensing relay on an alternator that the engine computer runs."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip

RULE = Rule(
    id="B04",
    name="second battery hardly charged",
    signal_word="NOTICE",
    fails=False,
    means="A relay that closes when the volts are high links the second battery, and the engine "
    "computer lets the alternator idle at 12.2 to 12.8 V.",
    why="The relay never closes, or drops out again: the second battery stays empty.",
    remedy="Use a DC-DC charger, started by the engine-running signal.",
    source="trade texts: such relays close at 13.3 to 13.7 V",
    status="second-hand",
    example="A relay that closes at 13.4 V on a bus that stays at 12.5 V.",
    by_hand="Measure the battery with the engine at 2000 r/min after half an hour: below 13.3 V it "
    "is such an alternator.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    relays = [c for c in case.chargers if c.kind == "voltage relay"]
    if not relays:
        return
    alternator = case.plan.supply.alternator
    control = alternator.control if alternator is not None else None
    for charger in relays:
        if control is None:
            yield Skip("the plan does not say what controls the alternator", charger.name)
        elif "computer" in control.casefold():
            yield RULE.finding(
                charger.name,
                f"{charger.name} closes at about 13.4 V, and an alternator run by the engine "
                f"computer stays at 12.2 to 12.8 V: {charger.target} is hardly charged.",
                f"Use a DC-DC charger for {charger.name}.",
                found="voltage relay",
                limit="DC-DC charger",
                change=f"{charger.name} type dc-dc",
            )
