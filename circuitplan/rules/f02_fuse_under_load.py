"""F02: a fuse is too small for the load it has to carry for good."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules import cures, proposals
from circuitplan.rules.base import Case, Finding, Rule, Skip, below, num, ordered

RULE = Rule(
    id="F02",
    name="fuse too small for its load",
    signal_word="WARNING",
    fails=True,
    means="A fuse carries 0.8 of its rating for good, less in a hot place. The load asks for more "
    "than that.",
    why="It blows in use, on the road at night, or its holder overheats and burns. Whoever then "
    "fits a larger one takes the protection from the wire.",
    remedy="Fit the next rating that carries the load, with wire that the new rating protects; or "
    "move the fuse to a cooler place.",
    source="ISO 8820 and makers' practice: 0.8 of the rating for continuous loads",
    status="common practice",
    example="18 A continuous at 50 °C asks for 18 / (0.8 × 0.9) = 25 A; a 20 A fuse is too small.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for place in case.fuses:
        fuse = place.fuse
        if fuse.short_circuit_only or not below(fuse.rating_a, fuse.min_a):
            continue
        found, least = ordered(fuse.rating_a, fuse.min_a)
        larger = proposals.fuse_at_least(fuse.type, fuse.min_a)
        otherwise = (
            f"Fit a fuse of {least} A or more, and wire that carries its rating and whose far-end "
            "short it still clears: thicker, or shorter; or move the fuse to a cooler place."
        )
        if larger is None:
            otherwise = (
                f"No fuse of type {fuse.type} carries this: use another type, {least} A or more, "
                "with wire that it guards; or split the load over two circuits."
            )
        owner = place.circuit or place.panel
        remedy, change = otherwise, None
        if owner is not None:
            remedy, change = cures.remedy(owner, RULE.id, fuse.id, otherwise)
        yield RULE.finding(
            place.subject,
            f"Fuse {fuse.id} is {found} A; its load asks for at least {least} A at "
            f"{num(fuse.ambient_c)} °C. It blows in use or burns its holder.",
            remedy,
            found=fuse.rating_a,
            limit=fuse.min_a,
            unit="A",
            change=change,
            circuit=place.circuit_id,
        )
