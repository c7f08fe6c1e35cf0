"""X07: a return goes to the battery post and past its current sensor."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, listed

RULE = Rule(
    id="X07",
    name="return past the battery sensor",
    signal_word="NOTICE",
    fails=False,
    means="The vehicle measures its battery's current in the negative lead. A return on the "
    "battery post itself is not measured.",
    why="The vehicle believes the battery to be fuller than it is, charges it wrongly, and may not "
    "start.",
    remedy="Join the return on the body side of the sensor.",
    source="trade texts",
    status="second-hand",
    example="A fridge's black lead on the battery's negative post: move it to the sensor's body "
    "side.",
    by_hand="Look for a small box with a plug on the negative clamp of the battery.",
)

STARTER_BATTERY = "battery"


def judge(case: Case) -> Iterator[Finding | Skip]:
    if not case.plan.supply.battery_sensor:
        yield Skip("the plan does not say that the battery has a current sensor")
        return
    names = [
        circuit.accessories[0].name
        for circuit in case.circuits
        if circuit.panel.casefold() == STARTER_BATTERY
        and circuit.accessories
        and any(r.role == "return" for r in circuit.runs)
    ]
    names += [
        panel.id
        for panel in case.panels
        if panel.fed_from.casefold() == STARTER_BATTERY
        and any(r.role == "return" for r in panel.feeder)
    ]
    if names:
        yield RULE.finding(
            STARTER_BATTERY,
            f"The returns of {listed(names)} go to a battery with a current sensor. On the post "
            "they are not measured: the battery is charged wrongly and may not start the engine.",
            "Join these returns on the body side of the sensor.",
            found=len(names),
            limit=0,
        )
