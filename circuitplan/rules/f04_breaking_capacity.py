"""F04: a fuse may have to break more current than it is made for."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.model.result import Fuse
from circuitplan.rules import cures, proposals
from circuitplan.rules.base import Case, Finding, FusePlace, Rule, Skip, below, listed, num, ordered

RULE = Rule(
    id="F04",
    name="short-circuit current over the fuse's breaking capacity",
    signal_word="WARNING",
    fails=True,
    means="A dead short close to the fuse lets the battery, warm and fresh, drive more current "
    "than the fuse is made to break. The first fuse after a source has nobody behind it; further "
    "fuses may stand behind one that suffices.",
    why="A fuse that is asked to break too much can burst, throw hot metal and keep an arc: burns, "
    "eye injury, fire.",
    remedy="Fit a main fuse of high breaking capacity (class T, 20 kA) at the source. Behind it "
    "ordinary fuses may stand; cover their panel.",
    source="ISO 8820-3, -4 (1 kA), -5, -6 (2 kA); UL 248-15 class T (20 kA); ABYC E-11 table V",
    status="second-hand",
    example="A 95 Ah battery drives 3.9 kA or more at its posts: a 2 kA strip fuse there is not "
    "enough, a class T fuse is. The 1 kA blades in the panel behind it are a CAUTION.",
)

MAIN_FUSE = "class T"


def judge(case: Case) -> Iterator[Finding | Skip]:
    groups: dict[tuple[str, bool], list[FusePlace]] = {}
    for place in case.fuses:
        fuse = place.fuse
        if fuse.breaking_capacity_a is None:
            if fuse.first_after_source:
                yield _unknown(place)
            else:
                yield Skip(f"the breaking capacity of {fuse.id} is not known", place.subject)
        elif below(fuse.breaking_capacity_a, fuse.prospective_a):
            covered = fuse.behind_sufficient and not fuse.first_after_source
            groups.setdefault((place.group, covered), []).append(place)
    for (group, covered), places in sorted(groups.items()):
        yield _finding(group, covered, places)


def _finding(group: str, covered: bool, places: list[FusePlace]) -> Finding:
    worst = max(
        places,
        key=lambda p: (p.fuse.prospective_a / (p.fuse.breaking_capacity_a or 1.0), p.fuse.id),
    )
    capacity_a = worst.fuse.breaking_capacity_a or 0.0
    found, limit = ordered(worst.fuse.prospective_a, capacity_a)
    names = listed([p.fuse.id for p in places])
    single = len(places) == 1
    subject = places[0].subject if single else group
    if covered:
        return RULE.finding(
            subject,
            f"Up to {found} A may flow at {names}, made to break {limit} A; the fuse nearer the "
            "source can break it. A burst fuse may still burn a hand.",
            "Nothing is required: cover the panel, and replace these fuses only with the supply "
            "isolated.",
            found=worst.fuse.prospective_a,
            limit=capacity_a,
            unit="A",
            circuit=places[0].circuit_id if single else None,
            signal_word="CAUTION",
            fails=False,
        )
    rating_a = max(_main_rating(p.fuse) for p in places)
    first = worst.fuse.first_after_source
    otherwise = f"Fit a {MAIN_FUSE} fuse (20 kA) at the source" + (
        f" before {group}: it must carry all of it, and the wire behind it must bear its rating."
        if not first
        else f", {num(rating_a)} A or what the start needs; its wire must bear it."
    )
    remedy, change = otherwise, None
    owner = worst.circuit or worst.panel
    if single and owner is not None:
        remedy, change = cures.remedy(owner, RULE.id, worst.fuse.id, otherwise)
    return RULE.finding(
        subject,
        f"Up to {found} A may flow in a short circuit at {names}, made to break {limit} A, and no "
        "fuse nearer the source breaks it. The fuse may burst and keep an arc: burns and fire.",
        remedy,
        found=worst.fuse.prospective_a,
        limit=capacity_a,
        unit="A",
        change=change,
        circuit=places[0].circuit_id if single else None,
    )


def _main_rating(fuse: Fuse) -> float:
    """The present rating if the main family has it and the wire allows it, else the least [A]."""
    same_a = proposals.fuse_at_least(MAIN_FUSE, fuse.rating_a)
    if same_a is not None and (fuse.max_a is None or same_a <= fuse.max_a):
        return same_a
    return proposals.fuse_at_least(MAIN_FUSE, fuse.min_a) or fuse.rating_a


def _unknown(place: FusePlace) -> Finding:
    fuse = place.fuse
    return RULE.finding(
        place.subject,
        f"{fuse.id} ({fuse.type}) is the first device after a source, where up to "
        f"{num(fuse.prospective_a)} A may flow; what it can break is not known. It may burst and "
        "keep an arc: burns and fire.",
        f"Take the figure from its maker, {num(fuse.prospective_a)} A or more, or fit a "
        f"{MAIN_FUSE} fuse before it.",
        found=fuse.prospective_a,
        unit="A",
        circuit=place.circuit_id,
    )
