"""F06: the first stretch of wire before the fuse is too long."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, exceeds, ordered

RULE = Rule(
    id="F06",
    name="fuse too far from its source",
    signal_word="WARNING",
    fails=True,
    means="The wire from the source to its fuse is unprotected. It may be 7 in (178 mm) long, or "
    "40 in (1.02 m) if it lies in a sheath or enclosure all the way.",
    why="Whatever chafes on that stretch is fed by the whole battery, and no fuse can open it: "
    "fire.",
    remedy="Move the fuse to the source, or, up to 40 in, put the stretch in a sheath all the way.",
    source="33 CFR 183.455(b)",
    status="read",
    example="A main fuse 0.6 m from the battery on open cable: move it within 178 mm, or sheathe "
    "the cable.",
)

OPEN_M = 0.1778
SHEATHED_M = 1.016


def judge(case: Case) -> Iterator[Finding | Skip]:
    for place in case.fuses:
        fuse = place.fuse
        limit_m = SHEATHED_M if fuse.sheathed else OPEN_M
        if not exceeds(fuse.distance_m, limit_m):
            continue
        found, limit = ordered(fuse.distance_m, limit_m)
        state = "sheathed" if fuse.sheathed else "open"
        sheath = not fuse.sheathed and not exceeds(fuse.distance_m, SHEATHED_M)
        yield RULE.finding(
            place.subject,
            f"Between the source and {fuse.id} lie {found} m of {state} wire; {limit} m is "
            "allowed. A chafe there is fed by the whole battery and nothing opens: fire.",
            f"Move {fuse.id} within {OPEN_M:g} m of the source"
            + (", or put the stretch in a sheath all the way." if sheath else "."),
            found=fuse.distance_m,
            limit=limit_m,
            unit="m",
            circuit=place.circuit_id,
        )
