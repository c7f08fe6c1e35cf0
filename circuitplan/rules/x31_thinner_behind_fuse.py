"""X31: behind a fuse the wire becomes thinner than the fuse allows."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.model.result import Run
from circuitplan.rules import cures, proposals
from circuitplan.rules.base import (
    Case,
    Finding,
    FusePlace,
    Rule,
    RunPlace,
    Skip,
    exceeds,
    num,
    ordered,
)

RULE = Rule(
    id="X31",
    name="thinner wire behind a splice",
    signal_word="WARNING",
    fails=True,
    means="A pigtail, tail or branch after a splice is longer than 7 in and carries less than the "
    "fuse. The wire before the splice is judged by F01.",
    why="A chafe on the thin part melts it while the fuse holds: the fuse was chosen for the thick "
    "part.",
    remedy="Put an inline fuse into the feed where the thin part begins, or go on in the same "
    "size.",
    source="33 CFR 183.425(g), 183.455",
    status="read",
    example="4 mm² behind 30 A, then tails of 0.75 mm² to each lamp: a 7.5 A inline fuse.",
    by_hand="Follow each wire past its splices to the last connector.",
)

PIGTAIL_M = 0.1778


def judge(case: Case) -> Iterator[Finding | Skip]:
    for place in case.fuses:
        if place.fuse.short_circuit_only:
            continue
        branches: dict[tuple[str, ...], list[RunPlace]] = {}
        for run in case.guarded(place.fuse).beyond:
            branches.setdefault(run.run.accessories, []).append(run)
        for branch in branches.values():
            thin = [
                r.run for r in branch
                if exceeds(place.fuse.rating_a, r.run.ampacity_a)
                and exceeds(r.run.length_m, PIGTAIL_M)
            ]
            if thin:
                yield _finding(place, branch, min(
                    thin, key=lambda r: (r.role != "feed", r.ampacity_a, r.id)
                ))


def _finding(place: FusePlace, branch: list[RunPlace], worst: Run) -> Finding:
    """A fuse belongs into the feed: a return is named with the feed whose current it carries."""
    fuse = place.fuse
    found, limit = ordered(fuse.rating_a, worst.ampacity_a)
    feed = min((r.run for r in branch if r.run.role == "feed"), key=lambda r: r.id, default=None)
    if feed is None and place.circuit is not None:
        feed = next((r for r in place.circuit.runs if r.id == fuse.protects), None)
    start = worst.id if feed is None else feed.id
    wire = f"wire {worst.id}" if start == worst.id else f"wire {worst.id} (in line with {start})"
    inline, change = _inline(place, branch, worst, start)
    return RULE.finding(
        branch[0].subject,
        f"Behind {fuse.id} ({found} A) {wire} is only {worst.size} and carries {limit} A over "
        f"{num(worst.length_m)} m. A chafe there melts it while the fuse holds: fire.",
        f"{inline} Or go on in the size of the wire before it." if inline
        else "There go on in the size of the wire before it.",
        found=fuse.rating_a,
        limit=worst.ampacity_a,
        unit="A",
        change=change,
        circuit=place.circuit_id,
    )


def _inline(
    place: FusePlace, branch: list[RunPlace], worst: Run, start: str
) -> tuple[str | None, str | None]:
    """(words, words for ``try``) of a fuse where the branch begins.

    Where a short at the branch's end is not cleared either (F03), the fuse that was tried for
    that is the one; none is named where none passed.
    """
    thing = branch[0].thing
    circuit = place.circuit
    fault = None if circuit is None else circuit.fault
    if circuit is not None and fault is not None and any(r.run.id == fault.run for r in branch):
        tried = [c for c in cures.of(circuit, "F03", place.fuse.id) if c.sort == "inline fuse"]
        if tried:
            return tried[0].words, tried[0].change
        if fault.clears_s is None or exceeds(fault.clears_s, fault.allowed_s):
            return None, None
    least_a = min(r.run.ampacity_a for r in branch)
    rating = proposals.fuse_between("C", worst.current_a / max(worst.pieces, 1) / 0.8, least_a)
    if rating is None:
        return None, None
    change = None if thing is None else f"{thing} fuse {num(rating)} A C"
    return f"Put an inline fuse of {num(rating)} A where {start} begins.", change
