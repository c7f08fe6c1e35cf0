"""U02: nobody knows what the load draws at the start, and its fuse leaves little room."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, FusePlace, Item, Rule, Skip, below, num, ordered

RULE = Rule(
    id="U02",
    name="inrush unknown on a tight fuse",
    signal_word="CAUTION",
    fails=False,
    means="Motors, lamps and electronics draw a multiple of their current for a moment. Here it is "
    "not known, and the fuse is less than twice the running current.",
    why="The fuse may blow now and then at switching on, and a contact may weld.",
    remedy="Ask the maker for the inrush current, or measure it with a clamp meter that holds "
    "peaks, and write it into the plan (inrush: 40 A).",
    source="contact classes of loads: unknown inrush counts twice",
    status="judgement",
    example="A pump of 9 A on a 15 A fuse, start unknown: 1.7 times; 20 A would leave room if the "
    "wire carries it.",
)

ROOM = 2.0
SURGING = ("lamp", "motor", "capacitive", "ptc")


def judge(case: Case) -> Iterator[Finding | Skip]:
    for item in case.items:
        known = item.result.inrush_known or item.plan.inrush_a is not None
        outlet = item.kind is not None and item.kind.family == "outlet"
        if outlet:
            continue  # what is plugged in, nobody knows
        if known or item.result.contact_class not in SURGING or item.result.current_a <= 0:
            continue
        place = _nearest(case, item)
        if place is None or place.fuse.short_circuit_only:
            continue
        ratio = place.fuse.rating_a / item.result.current_a
        if not below(ratio, ROOM):
            continue
        found, limit = ordered(ratio, ROOM)
        yield RULE.finding(
            item.name,
            f"The inrush of {item.name} is not known, and {place.fuse.id} "
            f"({num(place.fuse.rating_a)} A) is {found} times its current; {limit} times leaves "
            "room. It may blow at switching on; a larger one may not protect the wire.",
            f"Ask the maker of {item.name} for its inrush, or measure it, and write it into the "
            "plan.",
            found=ratio,
            limit=ROOM,
            circuit=item.circuit.id,
        )


def _nearest(case: Case, item: Item) -> FusePlace | None:
    """The fuse with the least rating in front of the accessory's own wire."""
    ids = {run.protected_by for run in item.runs()}
    found = [f for f in case.fuses if f.fuse.id in ids]
    return min(found, key=lambda f: f.fuse.rating_a, default=None)
