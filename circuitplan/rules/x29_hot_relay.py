"""X29: a hot relay does not pull in at low volts."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, exceeds, num, ordered

RULE = Rule(
    id="X29",
    name="hot relay does not pull in",
    signal_word="WARNING",
    fails=True,
    means="A hot coil has more resistance and needs more volts to pull in: pick-up volts times "
    "(234.5 + coil temperature) / 257.5. At low supply fewer volts than that reach it.",
    why="The relay chatters or stays off: its contact burns on a half-closed arc, and the load "
    "does not work when it is needed.",
    remedy="Move the relay to a cooler place, bring more volts to its coil, or use one that pulls "
    "in lower.",
    source="copper's resistance with temperature (IEC 60028)",
    status="computed",
    example="A relay of 7.2 V at 23 °C with a coil at 115 °C needs 9.8 V.",
    by_hand="With a hot engine and a low battery, work the relay: it must click once and hold.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for circuit in case.circuits:
        for relay in circuit.relays:
            if not exceeds(relay.pick_up_hot_v, relay.coil_low_v):
                continue
            found, limit = ordered(relay.coil_low_v, relay.pick_up_hot_v)
            sag = circuit.accessories[0].sag
            yield RULE.finding(
                case.subject(circuit),
                f"Relay {relay.id} at {relay.position} needs {limit} V when hot and gets {found} V "
                f"at the lowest supply ({sag.words}). It chatters: its contact burns, and the load "
                "fails.",
                f"{sag.advice}Move {relay.id} to a cooler place, or bring "
                f"{num(relay.pick_up_hot_v - relay.coil_low_v, 2)} V more to its coil.",
                found=relay.coil_low_v,
                limit=relay.pick_up_hot_v,
                unit="V",
                circuit=circuit.id,
            )
