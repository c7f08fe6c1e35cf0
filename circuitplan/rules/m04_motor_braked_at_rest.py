"""M04: a reversing motor whose relays hold both its ends on the negative at rest."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, listed

RULE = Rule(
    id="M04",
    name="reversing motor braked at rest",
    signal_word="CAUTION",
    fails=False,
    means="Two change-over relays reverse this motor. At rest both its ends lie on the negative: "
    "it brakes itself. Each of its two wires is fed in one direction and the way back in the "
    "other; neither is an earth.",
    why="It stops short and resists being turned by hand: what it moves may jam with a hand in it. "
    "Whoever earths one of its wires makes a short as soon as the motor is reversed.",
    remedy="Fit a release by hand where a person could be caught; let the motor stand before it is "
    "reversed; put both wires on the motor, none on the body.",
    source="circuit theory: a permanent-magnet motor with its ends joined is a loaded generator",
    status="judgement",
    example="A tail hatch on two relays stops within a hand's breadth, and cannot be pushed open.",
    by_hand="Relays at rest: less than 1 Ω from either motor wire to the negative.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for item in case.items:
        relays = [r for r in item.circuit.relays if r.break_a is not None]
        if item.result.motor != "reversing" or not relays:
            continue
        wires = [r.id for r in item.circuit.runs if r.role == "feed" and r.at]
        yield RULE.finding(
            item.name,
            f"At rest {listed([r.id for r in relays])} hold both ends of {item.name} on the "
            f"negative: it brakes and is hard to turn by hand. {listed(wires)} are fed in turn.",
            "Fit a release by hand where somebody could be caught; let it stand before it is "
            f"reversed. Put neither of {listed(wires)} on the body.",
            circuit=item.circuit.id,
        )
