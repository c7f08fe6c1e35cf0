"""X17: a contact breaks more volts than it is rated for."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, below, num, ordered

RULE = Rule(
    id="X17",
    name="contact above its volts",
    signal_word="DANGER",
    fails=True,
    means="The contact of a switch or accessory is rated for fewer volts than the system has. A "
    "rating for 12 or 14 V says nothing about 24 or 48 V.",
    why="A direct-current arc does not go out by itself: above its volts the contact burns on "
    "after it has opened.",
    remedy="Use a switch, relay or contactor rated for the system's highest volts in direct "
    "current.",
    source="circuit theory; voltage classes of AC 43.13-1B table 11-4 (14 and 28 V)",
    status="read",
    example="A rocker switch of 20 A at 12 V in a 48 V system: a contactor rated 60 V DC instead.",
    by_hand="Read the print on the contact: volts with DC behind them.",
)

STRICT_FROM_V = 48.0


def judge(case: Case) -> Iterator[Finding | Skip]:
    nominal_v, high_v = case.plan.nominal_v, case.result.supply.high_v
    rated: list[tuple[str, float | None, str | None, bool]] = []
    for switch in case.switches:
        planned = case.planned_switch(switch.id)
        carries = switch.type == "direct" and bool(switch.works)
        rated.append((switch.id, planned.contact_v if planned else None, None, carries))
    rated += [(i.name, i.plan.contact_v, i.circuit.id, False) for i in case.items]
    for subject, contact_v, circuit, carries in rated:
        if contact_v is None:
            if carries and nominal_v >= STRICT_FROM_V:
                yield RULE.finding(
                    subject,
                    f"{subject} breaks up to {num(high_v)} V, and the plan does not say for what "
                    "volts its contact is made. A 12 or 24 V contact arcs on after it has opened: "
                    "fire.",
                    f"Use a contact rated {num(high_v)} V DC or more and give its volts in the "
                    "plan.",
                    limit=high_v,
                    unit="V",
                    circuit=circuit,
                    signal_word="WARNING",
                )
            elif carries and nominal_v > 12.0:
                yield Skip("the plan does not say for what volts its contact is made", subject)
            continue
        limit_v = high_v if nominal_v >= STRICT_FROM_V else nominal_v
        if below(contact_v, limit_v):
            found, limit = ordered(contact_v, limit_v)
            yield RULE.finding(
                subject,
                f"The contact of {subject} is made for {found} V and breaks {limit} V. Its arc "
                "does not go out: fire.",
                f"Use a contact rated {num(high_v)} V DC or more.",
                found=contact_v,
                limit=limit_v,
                unit="V",
                circuit=circuit,
            )
