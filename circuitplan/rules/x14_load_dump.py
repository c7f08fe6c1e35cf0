"""X14: a lithium battery may disconnect itself from a running alternator."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip

RULE = Rule(
    id="X14",
    name="load dump",
    signal_word="WARNING",
    fails=True,
    means="A lithium battery hangs directly on the alternator, or over a relay. When its "
    "protection opens while it is charged, the alternator's current has nowhere to go.",
    why="The voltage jumps to 79 to 101 V in a 12 V system, 151 to 202 V in a 24 V one: "
    "electronics and lamps burst, relays arc, fire; the alternator is lost.",
    remedy="Charge it through a DC-DC charger; keep a lead battery on the alternator; never open "
    "an isolator while the engine runs.",
    source="ISO 16750-2 load dump",
    status="read",
    example="A LiFePO4 house battery joined to the starter battery by a voltage-sensing relay.",
    by_hand="Look for a relay or a plain cable between alternator and lithium battery.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    lithium = {b.name.casefold(): b.name for b in case.batteries if b.type == "lifepo4"}
    if case.plan.supply.alternator is not None and "battery" in lithium:
        yield RULE.finding(
            lithium["battery"],
            "The lithium battery hangs on the alternator itself. If its protection opens, the "
            "volts jump to 79 V or more: electronics burst and burn.",
            "Keep a lead battery on the alternator and charge the lithium one by a DC-DC charger.",
            found="direct",
            limit="DC-DC charger",
        )
    for charger in case.chargers:
        ends = {(charger.source or "").casefold(), charger.target.casefold()}
        if charger.kind == "voltage relay" and ends & lithium.keys():
            yield RULE.finding(
                charger.name,
                f"{charger.name} joins a lithium battery to the alternator by a relay. If the "
                "battery's protection opens, the volts jump to 79 V or more: electronics burst and "
                "burn.",
                f"Use a DC-DC charger for {charger.name}.",
                found="voltage relay",
                limit="DC-DC charger",
                change=f"{charger.name} type dc-dc",
            )
    if not case.batteries or any(b.type is None for b in case.batteries):
        yield Skip("the plan does not say of what type every battery is")
