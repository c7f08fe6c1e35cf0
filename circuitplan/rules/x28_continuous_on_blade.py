"""X28: a blade holder carries more for good than it should."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.library import fuses
from circuitplan.rules import proposals
from circuitplan.rules.base import Case, Finding, Rule, Skip, exceeds, num, ordered

RULE = Rule(
    id="X28",
    name="continuous current too high for a blade holder",
    signal_word="CAUTION",
    fails=False,
    means="An ordinary holder for blades of type C carries 25 A for good (type F 20 A), whatever "
    "the rating of the fuse.",
    why="The holder's springs lose their grip, the joint heats, plastic melts: burns, and a dead "
    "circuit.",
    remedy="Use a fuse of type E or one that is bolted.",
    source="common practice of the trade",
    status="common practice",
    example="A 28 A inverter on 40 A of type C: 40 A of type E instead.",
    by_hand="A browned or softened holder has been too hot.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for place in case.fuses:
        fuse = place.fuse
        if fuses.type_name(fuse.type) is None:
            continue
        limit_a = fuses.family(fuse.type).max_continuous_a
        if fuse.current_a is not None:
            current_a = fuse.current_a
        elif place.circuit is not None:
            current_a = place.circuit.current_a if place.circuit.continuous else 0.0
        else:
            current_a = place.panel.current_a if place.panel else 0.0
        if limit_a is None or not exceeds(current_a, limit_a):
            continue
        found, limit = ordered(current_a, limit_a)
        rating_a = proposals.fuse_between("E", fuse.min_a, fuse.max_a or fuse.rating_a)
        change = f"{place.thing} fuse {num(rating_a)} A E" if rating_a and place.thing else None
        yield RULE.finding(
            place.subject,
            f"{fuse.id} (type {fuse.type}) carries {found} A for good; its holder is for {limit} "
            "A. The joint heats and the holder melts: burns.",
            f"Use {num(rating_a)} A of type E." if rating_a else "Use a bolted fuse.",
            found=current_a,
            limit=limit_a,
            unit="A",
            change=change,
            circuit=place.circuit_id,
        )
