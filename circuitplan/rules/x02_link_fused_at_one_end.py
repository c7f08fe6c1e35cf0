"""X02: the wire between two batteries has a fuse at one end only."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.model.plan import Charger
from circuitplan.model.result import Fuse
from circuitplan.rules.base import Case, Finding, Rule, Skip, num

RULE = Rule(
    id="X02",
    name="battery link fused at one end",
    signal_word="DANGER",
    fails=True,
    means="A wire between two batteries is fed from both ends. Each end needs its own fuse, within "
    "7 in of its battery.",
    why="A chafe on the link is fed by the battery without a fuse until the wire has burnt away: "
    "fire.",
    remedy="Fit a fuse at each battery, each no larger than the wire carries.",
    source="33 CFR 183.455: protection at the source of power; both ends are sources",
    status="read",
    example="A 40 A charger between starter and house battery with one 60 A fuse at the starter "
    "battery: a second one at the house battery.",
    by_hand="Follow the link from one battery to the other: there are two fuses, one within a "
    "hand's breadth of each.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for charger in case.chargers:
        if charger.source is None:
            continue
        fuses = _fuses(case, charger)
        if charger.fuse is not None and charger.fuse.none:
            count = 0
        elif fuses is None:
            yield Skip("the result does not show the fuses of this link", charger.name)
            continue
        else:
            count = len(fuses)
        if count >= 2:
            continue
        rating = f" of {num(fuses[0].rating_a)} A" if fuses else ""
        ends = f"{charger.source} and {charger.target}"
        yield RULE.finding(
            charger.name,
            f"{charger.name} links {ends} with {count or 'no'} fuse{'' if count == 1 else 's'}. "
            "Each end is a source: a chafe is fed by the end without a fuse until the wire burns "
            "away.",
            f"Fit a fuse{rating} within 178 mm of {charger.source} and one of {charger.target}.",
            found=count,
            limit=2,
        )


def _fuses(case: Case, charger: Charger) -> tuple[Fuse, ...] | None:
    """The fuses of the charger's circuits, or None where the result shows no such circuit."""
    wanted = charger.name.casefold()
    found = [
        circuit
        for circuit in case.circuits
        if circuit.label.casefold() == wanted
        or any(wanted in (r.from_.casefold(), r.to.casefold()) for r in circuit.runs)
        or any(a.name.casefold() == wanted for a in circuit.accessories)
    ]
    if not found:
        return None
    return tuple(f for circuit in found for f in circuit.fuses)
