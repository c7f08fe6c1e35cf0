"""S02: a relay's contact is too small for its load."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules import proposals
from circuitplan.rules.base import Case, Finding, Rule, Skip, exceeds, num, ordered

RULE = Rule(
    id="S02",
    name="relay overloaded",
    signal_word="WARNING",
    fails=True,
    means="The contact of the relay is smaller than its load asks for, inrush of lamps and motors "
    "counted. Of a reversing motor's relays the break contact counts too: the current goes back "
    "through it, and it takes what the motor gives back when it is stopped.",
    why="The contact welds: the compressor or pump runs on when switched off, or the relay burns.",
    remedy="Use a relay or contactor with a stated rating for this load, or split the load over "
    "two relays worked together, each with its own fuse.",
    source="AC 43.13-1B table 11-4; contact classes of loads",
    status="read",
    example="A 30 A compressor motor asks for 60 A of contact at 12 V; a 40 A relay is too small, "
    "a 70 A one is not.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for circuit in case.circuits:
        for relay in circuit.relays:
            change_over = relay.break_a is not None
            rated_a = min(relay.contact_a, relay.break_a or relay.contact_a)
            alike = [r.id for r in circuit.relays if r is not relay]
            if not exceeds(relay.needed_a, rated_a) or relay is not circuit.relays[0]:
                continue  # the two of a motor are the same, and said once
            found, limit = ordered(relay.needed_a, rated_a)
            other = proposals.relay_for(
                case.plan.nominal_v, relay.needed_a, case.result.supply.high_v, change_over
            )
            remedy = (
                f"Use a relay rated {num(other.contact_a)} A or more."
                if other is not None
                else "No change-over relay offered suffices: use contactors that the motor's maker "
                "names, and leave motor out of this plan."
                if change_over
                else "No single relay offered suffices: split the load over two relays worked "
                "together, each with its own fuse."
            )
            yield RULE.finding(
                case.subject(circuit),
                f"Relay {relay.id}{f' (and {alike[0]})' if alike else ''} needs a "
                f"{'break ' * (rated_a < relay.contact_a)}contact of {found} A and has {limit} A. "
                "It welds: the load runs on when switched off, or the relay burns.",
                remedy,
                found=relay.needed_a,
                limit=rated_a,
                unit="A",
                circuit=circuit.id,
            )
