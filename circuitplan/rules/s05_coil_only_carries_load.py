"""S05: a switch made to work a relay carries the load itself."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules import proposals
from circuitplan.rules.base import Case, Finding, Rule, Skip, num

RULE = Rule(
    id="S05",
    name="coil-only switch carries a load",
    signal_word="WARNING",
    fails=True,
    means="The switch is made for the current of a relay coil, a fraction of an ampere, and no "
    "relay stands between it and the load.",
    why="Its contact or its electronics burn at the first use.",
    remedy="Fit a relay that carries the load, its coil on this switch.",
    source="common practice of the trade",
    status="common practice",
    example="A lamp bar of 15 A on a control rated 1 A: a 30 A relay at the panel, its coil on the "
    "control.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for circuit in case.circuits:
        if circuit.relays or not circuit.accessories or case.own_contactor(circuit):
            continue
        for name in sorted(circuit.switches):
            switch = case.planned_switch(name)
            if switch is None or switch.type != "relay":
                continue
            nominal_v = case.plan.nominal_v
            needed_a = proposals.needed_contact_a(circuit.accessories, nominal_v)
            motor = case.motor_on(name)
            relay = proposals.relay_for(
                nominal_v, needed_a, case.result.supply.high_v, motor == "reversing"
            )
            what = {"reversing": "two change-over relays", "two-speed": "two relays"}.get(
                motor or "", "a relay"
            )
            rated = f"rated {num(relay.contact_a)} A or more" if relay else "made for this load"
            yield RULE.finding(
                case.subject(circuit),
                f"{name} is made to work a relay, and carries the {num(circuit.current_a)} A of "
                f"{case.subject(circuit)} itself. It burns at the first use.",
                f"Fit {what} {rated} at {circuit.panel}, "
                f"{'their coils' if motor else 'its coil'} on {name}.",
                found=circuit.current_a,
                limit=switch.rating_a,
                unit="A",
                circuit=circuit.id,
            )
