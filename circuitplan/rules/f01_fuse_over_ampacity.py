"""F01: a fuse is larger than the wire behind it carries."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.model.result import Run
from circuitplan.rules import proposals
from circuitplan.rules.base import Case, Finding, FusePlace, Rule, Skip, exceeds, num, ordered

RULE = Rule(
    id="F01",
    name="fuse larger than the wire carries",
    signal_word="WARNING",
    fails=True,
    means="The rating of the fuse is above the ampacity of the thinnest wire behind it, as that "
    "wire lies: heat, bundle and tube counted. The smallest wire in the chain rules.",
    why="The wire melts and the fuse never blows: the usual cause of a burnt loom.",
    remedy="Fit the smaller fuse if it still carries the load; otherwise use thicker wire. Never "
    "fit a larger fuse because one has blown.",
    source="IEC 60364-4-43 433.1 (In <= Iz)",
    status="memory",
    example="A 40 A fuse before 2.5 mm² that carries 28 A where it lies: fit 25 A, or use 6 mm². "
    "A fuse that guards against short circuits only (winch) is not judged here but by its duty.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for place in case.fuses:
        fuse = place.fuse
        if fuse.short_circuit_only or fuse.type == "output":
            continue  # judged by duty (A01), or as an output's lead (S04)
        if fuse.max_a is None:
            yield Skip(f"the ampacity behind {fuse.id} is not known", place.subject)
        elif exceeds(fuse.rating_a, fuse.max_a):
            yield _finding(case, place, fuse.max_a)


def _finding(case: Case, place: FusePlace, max_a: float) -> Finding:
    fuse = place.fuse
    found, limit = ordered(fuse.rating_a, max_a)
    thin = min(case.guarded(fuse).own, key=lambda r: r.run.ampacity_a, default=None)
    wire = f"{thin.run.size} of wire {thin.run.id}" if thin else "the wire"
    remedy, change = _remedy(place, thin.run if thin else None, max_a)
    return RULE.finding(
        place.subject,
        f"The {found} A fuse {fuse.id} is larger than {wire} behind it carries: {limit} A. In an "
        "overload the wire melts and the fuse does not blow: fire.",
        remedy,
        found=fuse.rating_a,
        limit=max_a,
        unit="A",
        change=change,
        circuit=place.circuit_id,
    )


def _remedy(place: FusePlace, run: Run | None, max_a: float) -> tuple[str, str | None]:
    fuse = place.fuse
    start = proposals.start_behind(place.circuit or place.panel, fuse.id)
    smaller = proposals.fuse_between(fuse.type, fuse.min_a, max_a, start)
    if smaller is not None:
        change = f"{place.thing} fuse {num(smaller)} A {fuse.type}" if place.thing else None
        also = " and lets it start" if start else ""
        return (
            f"Fit a {num(smaller)} A fuse of type {fuse.type}; it still carries the load{also}.",
            change,
        )
    carries = proposals.fuse_between(fuse.type, fuse.min_a, max_a) is not None
    label = proposals.size_for_ampacity(run, fuse.rating_a) if run else None
    if label is not None and run is not None:
        return (
            f"Use {label} instead of {run.size}: a smaller fuse would "
            f"{'blow when the load starts' if carries else 'not carry the load'}.",
            proposals.size_change(place.thing, label),
        )
    if carries:
        return (
            f"No fuse that the wire allows ({num(max_a)} A) lets the load start: hold the start "
            "down (soft start, fewer at a time), or use insulation of a higher class or a cooler "
            "place.",
            None,
        )
    return (
        f"The load needs a fuse of at least {num(fuse.min_a)} A and the wire allows "
        f"{num(max_a)} A: use thicker wire, insulation of a higher class, or a cooler place.",
        None,
    )
