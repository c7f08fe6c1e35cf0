"""W01: a wire is copper-clad aluminium."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, listed

RULE = Rule(
    id="W01",
    name="copper-clad aluminium wire",
    signal_word="WARNING",
    fails=True,
    means="The wire has a core of aluminium under a skin of copper. It has 1.55 to 1.6 times the "
    "resistance of copper of the same size; the plan counts 1.6.",
    why="Crimps made for copper loosen on it and heat up, its strands break under vibration, and "
    "bare ends corrode: a hot joint, then fire.",
    remedy="Use copper, tinned in wet places. If it must stay: terminals made for it, sealed, away "
    "from vibration; then accept this in the plan by name.",
    source="ASTM B566; resistance from the metals' constants",
    status="memory",
    example="An amplifier kit's 25 mm² copper-clad wire counts as 15.6 mm² of copper.",
)


def is_clad(material: str | None) -> bool:
    """Whether a material, as the plan or the result words it, is copper-clad aluminium."""
    words = (material or "").casefold().replace("-", " ")
    return "clad" in words or words.strip() == "cca"


def judge(case: Case) -> Iterator[Finding | Skip]:
    subjects: dict[str, list[str]] = {}
    circuits: dict[str, str | None] = {}
    for place in case.runs:
        if is_clad(place.run.material):
            subjects.setdefault(place.subject, []).append(place.run.id)
            circuits[place.subject] = place.circuit_id
    for charger in case.chargers:
        if is_clad(charger.wire.material):
            subjects.setdefault(charger.name, [])
            circuits.setdefault(charger.name, None)
    for subject, ids in sorted(subjects.items()):
        wires = f" (wire {listed(ids)})" if ids else ""
        yield RULE.finding(
            subject,
            f"The wire of {subject}{wires} is copper-clad aluminium. Its crimps loosen and heat, "
            "its strands break: a hot joint and fire.",
            f"Use copper wire for {subject}.",
            found="copper-clad aluminium",
            limit="copper",
            change=f"{subject} material copper",
            circuit=circuits[subject],
        )
