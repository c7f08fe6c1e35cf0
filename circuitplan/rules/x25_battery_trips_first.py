"""X25: the battery's own protection opens before a branch fuse."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.physics import fuses as curves
from circuitplan.rules import proposals
from circuitplan.rules.base import Case, Finding, Rule, Skip, below, num, ordered

RULE = Rule(
    id="X25",
    name="battery trips before the fuse",
    signal_word="WARNING",
    fails=True,
    means="A lithium battery switches itself off above a current. A branch fuse that needs more "
    "than that to open quickly never gets it.",
    why="One fault in a branch makes the whole vehicle dark at night: lamps, radio, pumps.",
    remedy="Use smaller fuses or types that open sooner, split safety loads to another battery, "
    "or use a battery that delivers more.",
    source="ISO 8820-3 and -5 time limits against the battery's stated trip current",
    status="memory",
    example="A battery that trips at 200 A and a 60 A fuse of type E, which needs 249 A.",
    by_hand="Read the battery's sheet: trip or peak discharge current, and its time.",
)

WITHIN_S = 5.0


def judge(case: Case) -> Iterator[Finding | Skip]:
    for battery in case.batteries:
        if battery.trip_a is None:
            if battery.type == "lifepo4":
                yield Skip("the plan does not say at what current it trips", battery.name)
            continue
        worst: tuple[float, str, str] | None = None
        for place in case.fuses:
            if place.circuit is None or place.fuse.short_circuit_only:
                continue
            gates = proposals.gates_of(place.fuse.type)
            if place.circuit.source.casefold() != battery.name.casefold() or not gates:
                continue
            needs_a = curves.least_multiple_to_clear(gates, WITHIN_S) * place.fuse.rating_a
            if worst is None or (needs_a, place.fuse.id) > worst[:2]:
                worst = needs_a, place.fuse.id, place.subject
        if worst is not None and below(battery.trip_a, worst[0]):
            found, limit = ordered(battery.trip_a, worst[0])
            yield RULE.finding(
                battery.name,
                f"{battery.name} switches itself off at {found} A; {worst[1]} ({worst[2]}) opens "
                f"within {WITHIN_S:g} s only from {limit} A. One fault there makes everything "
                "dark, on the road at night.",
                f"Feed safety loads from another battery, or use fuses that open below "
                f"{num(battery.trip_a)} A.",
                found=battery.trip_a,
                limit=worst[0],
                unit="A",
            )
