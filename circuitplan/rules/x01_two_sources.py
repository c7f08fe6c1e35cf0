"""X01: a wire can be live from two sources."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, listed

RULE = Rule(
    id="X01",
    name="two sources reach one wire",
    signal_word="DANGER",
    fails=True,
    means="Two sources can reach the same wire without a diode, relay, isolator or converter "
    "between: two vehicle outputs joined at a load, a charger tied to a panel, a charger without "
    "a fuse.",
    why="Pull one fuse or open one switch and the wire is still live from the other side: burns at "
    "the next touch of a tool; and a fault is fed from both.",
    remedy="Keep one source a wire. Where two shall work one load let each work a relay coil "
    "through its own diode. Put a fuse at every source, and isolate all of them before work.",
    source="circuit theory",
    status="computed",
    example="Lamps fed by outputs S1 and S2 tied together: with S1's fuse pulled S2 keeps it live.",
    by_hand="With one fuse pulled, measure both of its contacts against earth: neither side but "
    "the feeding one may be live.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for circuit in case.circuits:
        if circuit.relays or not circuit.accessories:
            continue
        feeding = [
            name
            for name in circuit.switches
            if (switch := case.planned_switch(name)) is not None
            and (switch.type == "output" or (switch.type == "signal" and len(circuit.switches) > 1))
        ]
        if len(feeding) > 1:
            name = case.subject(circuit)
            yield RULE.finding(
                name,
                f"{listed(feeding)} both feed {name} directly. With one fuse pulled the wire stays "
                "live from the other: burns to whoever works on it.",
                f"Fit a relay for {name} whose coil each of them works through its own diode.",
                found=len(feeding),
                limit=1,
                circuit=circuit.id,
            )
    panels = {p.name.casefold() for p in case.plan.panels}
    for charger in case.chargers:
        if charger.target.casefold() in panels:
            yield RULE.finding(
                charger.name,
                f"{charger.name} feeds panel {charger.target}, which a battery feeds too. With the "
                "panel's fuse pulled it stays live from the charger: burns.",
                f"Let {charger.name} charge the battery, with a fuse of its own there.",
            )
        elif charger.source is None and charger.fuse is not None and charger.fuse.none:
            yield RULE.finding(
                charger.name,
                f"{charger.name} is tied to {charger.target} without a fuse: its wire is live from "
                "both ends and nothing opens it. Burns and fire.",
                f"Fit a fuse close to {charger.target} and a way to isolate {charger.name}.",
            )
