"""X06: an accessory has a return wire and an earth through its case."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip

RULE = Rule(
    id="X06",
    name="earthed twice",
    signal_word="WARNING",
    fails=True,
    means="The accessory has a return wire to the battery and is also earthed through its metal "
    "case or antenna.",
    why="If the engine's earth strap opens, the starter current flows back through this thin "
    "return: it glows, fire. It also brings alternator noise into a radio.",
    remedy="Keep one of the two; or put a fuse in both leads close to the battery.",
    source="trade texts: fuse both leads of a two-way radio",
    status="second-hand",
    example="A radio with its negative on the battery and its antenna bolted to the body: a fuse "
    "in the negative lead too.",
    by_hand="With the return wire off, measure from the case to the body: below an ohm it is "
    "earthed twice.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for item in case.items:
        if item.result.back != "wire":
            continue
        if item.plan.earth:
            yield RULE.finding(
                item.name,
                f"{item.name} has a return wire and an earth at {item.plan.earth}. If the engine's "
                "earth strap opens, the starter current comes back through the thin wire: fire.",
                "Keep one of the two, or put a fuse in the negative lead at the battery as well.",
                found="wire and body",
                limit="one return",
                circuit=item.circuit.id,
            )
        elif item.kind is not None and item.kind.family == "radio":
            yield RULE.finding(
                item.name,
                f"{item.name} has a return wire, and its antenna or case usually meets the body. "
                "If the engine's earth strap opens, the starter current may come back through it.",
                "Mount case and antenna insulated, or put a fuse in the negative lead too.",
                circuit=item.circuit.id,
                signal_word="CAUTION",
                fails=False,
            )
