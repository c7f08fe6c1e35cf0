"""T01: a wire lies where it is too hot for its insulation."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, RunPlace, Skip, below, ordered

RULE = Rule(
    id="T01",
    name="place too hot for the insulation",
    signal_word="WARNING",
    fails=True,
    means="The place is within 20 K of the class of the insulation, or above it. No published rule "
    "holds there; what the wire would carry is not known.",
    why="The insulation softens by the heat of the place, before any current flows; bare wires "
    "meet: fire.",
    remedy="Use insulation at least 40 K above the place (125 °C cross-linked in an engine bay), "
    "or another way.",
    source="the ambient rule sqrt((Tmax - Ta)/(Tmax - 30)), checked down to 20 K",
    status="computed",
    example="105 °C PVC in an engine bay of 93 °C: 12 K are left; use 150 °C cross-linked.",
)

LEAST_MARGIN_K = 20.0
OFFERED_MARGIN_K = 40.0
CLASSES_C = (105.0, 125.0, 150.0)


def judge(case: Case) -> Iterator[Finding | Skip]:
    worst: dict[str, RunPlace] = {}
    for place in case.runs:
        run = place.run
        if not below(run.insulation_c - run.ambient_c, LEAST_MARGIN_K):
            continue
        known = worst.get(place.subject)
        margin_k = run.insulation_c - run.ambient_c
        if known is None or margin_k < known.run.insulation_c - known.run.ambient_c:
            worst[place.subject] = place
    for subject, place in worst.items():
        run = place.run
        margin_k = run.insulation_c - run.ambient_c
        found, limit = ordered(margin_k, LEAST_MARGIN_K)
        better = next((c for c in CLASSES_C if c >= run.ambient_c + OFFERED_MARGIN_K), None)
        assumed = " (assumed)" if run.ambient_assumed else ""
        yield RULE.finding(
            subject,
            f"Wire {run.id} ({run.insulation}) lies in {run.ambient_c:g} °C{assumed}: {found} K "
            f"below its class, {limit} K is the least. Its insulation softens: short circuit and "
            "fire.",
            f"Use {better:g} °C insulation there, or another way."
            if better is not None
            else "No insulation offered suits this place: take another way.",
            found=run.ambient_c,
            limit=run.insulation_c - LEAST_MARGIN_K,
            unit="°C",
            change=f"{place.thing} insulation {better:g} °C"
            if better is not None and place.thing
            else None,
            circuit=place.circuit_id,
        )
