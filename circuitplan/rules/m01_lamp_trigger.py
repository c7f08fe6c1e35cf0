"""M01: a lamp circuit of the vehicle feeds an accessory instead of working a coil."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules import proposals
from circuitplan.rules.base import Case, Finding, Rule, Skip, num

RULE = Rule(
    id="M01",
    name="vehicle signal feeds an accessory",
    signal_word="WARNING",
    fails=True,
    means="A signal of the vehicle (reverse lamp, high beam, door, ignition) may work the coil of "
    "a relay; it may not carry the accessory.",
    why="The vehicle's lamp circuit is loaded beyond its fuse or its electronics: the reverse or "
    "head lamp goes out in traffic, or the body computer fails.",
    remedy="Fit a relay: coil on the signal, through a diode if a switch works it too; load from a "
    "fused panel.",
    source="common practice of the trade",
    status="common practice",
    example="Rear work lamps of 4 A spliced into the reverse lamp's wire: a relay instead, its "
    "coil takes 0.2 A from the lamp's wire.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for circuit in case.circuits:
        if circuit.relays or not circuit.accessories or case.own_contactor(circuit):
            continue
        for name in sorted(circuit.switches):
            switch = case.planned_switch(name)
            if switch is None or not (switch.type == "signal" or switch.signal):
                continue
            nominal_v = case.plan.nominal_v
            needed_a = proposals.needed_contact_a(circuit.accessories, nominal_v)
            relay = proposals.relay_for(nominal_v, needed_a, case.result.supply.high_v)
            rated = f"rated {num(relay.contact_a)} A or more" if relay else "made for this load"
            subject = case.subject(circuit)
            yield RULE.finding(
                subject,
                f"{subject} ({num(circuit.current_a)} A) hangs on the vehicle's signal "
                f"{switch.signal or name}. That circuit is overloaded: a lamp the vehicle needs "
                "may go out in traffic.",
                f"Fit a relay {rated} at {circuit.panel}, only its coil on {name}.",
                found=circuit.current_a,
                limit=switch.rating_a,
                unit="A",
                circuit=circuit.id,
            )
