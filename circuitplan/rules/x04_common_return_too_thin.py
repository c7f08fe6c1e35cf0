"""X04: a shared return is thinner than what flows back through it."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules import proposals
from circuitplan.rules.base import Case, Finding, Rule, RunPlace, Skip, exceeds, num, ordered

RULE = Rule(
    id="X04",
    name="common return too thin",
    signal_word="WARNING",
    fails=True,
    means="A return that several feeds share carries the sum of all that may be on, and in a short "
    "circuit the current of the largest fuse that feeds into it. It is thinner than that.",
    why="There is no fuse in a return: it overheats while each feed is within its own limit, and "
    "burns.",
    remedy="Size the return for the sum, and at least for the largest fuse that feeds into it.",
    source="circuit theory; IEC 60364-4-43 433.1",
    status="computed",
    example="Four feeds of 10 A each on one return that carries 20 A.",
    by_hand="Add up the fuses of all feeds that end on one return, and compare with its size.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for place in case.runs:
        run = place.run
        shared = len(run.accessories) > 1 or place.panel is not None
        if run.role != "return" or not shared:
            continue
        largest_a = _largest_fuse(case, place)
        needed_a = max(run.thermal_a, largest_a)
        if not exceeds(needed_a, run.ampacity_a):
            continue
        if place.panel is not None and not exceeds(largest_a, run.ampacity_a):
            continue  # the current alone is A01's
        found, limit = ordered(needed_a, run.ampacity_a)
        label = proposals.size_for_ampacity(run, needed_a)
        what = (
            f"the {num(largest_a)} A fuse that feeds into it"
            if largest_a >= run.thermal_a
            else "the sum of what is on"
        )
        yield RULE.finding(
            place.subject,
            f"The common return {run.id} ({run.size}) carries {limit} A, less than {what}: {found} "
            "A. No fuse guards a return: it overheats, fire.",
            f"Use {label} for this return." if label else "Give each load a return of its own.",
            found=needed_a,
            limit=run.ampacity_a,
            unit="A",
            circuit=place.circuit_id,
        )


def _largest_fuse(case: Case, place: RunPlace) -> float:
    """Rating of the largest full-protection fuse whose fault current comes back here [A]."""
    if place.panel is not None:
        fuse = place.panel.fuse
        return fuse.rating_a if fuse is not None and not fuse.short_circuit_only else 0.0
    fuses = place.circuit.fuses if place.circuit else ()
    return max((f.rating_a for f in fuses if not f.short_circuit_only), default=0.0)
