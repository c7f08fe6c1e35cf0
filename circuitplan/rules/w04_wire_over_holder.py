"""W04: the wire is thicker than the fuse's holder takes, or the fuse does not fit its panel."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.library import fuses
from circuitplan.rules.base import Case, Finding, FusePlace, Rule, Skip, exceeds, num

RULE = Rule(
    id="W04",
    name="wire or fuse does not fit the holder",
    signal_word="CAUTION",
    fails=False,
    means="A holder of ordinary blade fuses takes wire to 6 mm², one of high-current blades to "
    "16 mm²; a bolted fuse does not go into a blade panel at all.",
    why="A wire trimmed to fit loses strands and strength: the joint heats and burns the holder.",
    remedy="Join a tail of the largest size that the holder takes, at most 7 in (178 mm) long and "
    "still able to carry the fuse, or fit a holder of another family beside the panel.",
    source="sizes of ordinary holders (judgement); 33 CFR 183.425(g) exempts pigtails below 7 in",
    status="judgement",
    example="10 mm² on a blade fuse of 20 A: a tail of 6 mm² at the holder.",
)

MAY_BE_TRIED = " 'check' with its name tries a thinner wire of more drop."
"""Ends the remedy until that was tried (``planner.thinner``)."""


def judge(case: Case) -> Iterator[Finding | Skip]:
    for place in case.fuses:
        kind = fuses.type_name(place.fuse.type)
        if kind is None or place.fuse.type in ("output", "breaker"):
            continue
        family = fuses.family(kind)
        yield from _too_thick(case, place, family)
        yield from _wrong_family(case, place, family)


def _too_thick(case: Case, place: FusePlace, family: fuses.Family) -> Iterator[Finding]:
    held = case.run(place.fuse.protects)
    most = family.holder_max_mm2
    if held is None or most is None or not exceeds(held.run.area_mm2, most):
        return
    drops = held.run.limited_by == "drop" and held.circuit is not None
    ask = MAY_BE_TRIED if drops else ""
    yield RULE.finding(
        place.subject,
        f"Wire {held.run.id} ({held.run.size}) is thicker than the {num(most)} mm² that the holder "
        f"of {place.fuse.id} (type {family.type}) takes. A wire trimmed to fit heats there: burns.",
        f"Join a tail of {num(most)} mm² at {place.fuse.id}, at most 178 mm long, or fit a holder "
        f"of another family beside the panel.{ask}",
        found=held.run.area_mm2,
        limit=most,
        unit="mm²",
        circuit=place.circuit_id,
    )


def _wrong_family(case: Case, place: FusePlace, family: fuses.Family) -> Iterator[Finding]:
    panel = case.planned_panel(place.circuit.panel) if place.circuit is not None else None
    if panel is None or panel.fuses is None or panel.fuses == family.type:
        return
    if not place.fuse.position.startswith(panel.name):
        return
    yield RULE.finding(
        place.subject,
        f"{place.fuse.id} is of type {family.type}; the ways of {panel.name} take type "
        f"{panel.fuses}. Forced in, it makes a poor contact: it heats.",
        f"Mount {place.fuse.id} in a holder of its own beside {panel.name}, fed from its bar.",
        found=family.type,
        limit=panel.fuses,
        circuit=place.circuit_id,
    )
