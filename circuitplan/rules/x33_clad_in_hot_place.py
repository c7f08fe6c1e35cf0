"""X33: copper-clad aluminium in an engine bay or another hot place."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, RunPlace, Skip, num
from circuitplan.rules.w01_copper_clad_aluminium import is_clad

RULE = Rule(
    id="X33",
    name="copper-clad aluminium in a hot place",
    signal_word="WARNING",
    fails=True,
    means="Copper-clad aluminium lies in an engine bay or another hot, shaking place. Beyond what "
    "W01 says it is not for that at all, and not for copper barrels.",
    why="Aluminium creeps under pressure, faster when hot, and breaks when shaken: a hot joint "
    "where fuel and oil are near: fire.",
    remedy="Use copper there, tinned where it is wet.",
    source="material constants; common practice of the trade",
    status="common practice",
    example="A copper-clad battery cable under the bonnet: replace it.",
    by_hand="Scrape a strand: silver inside is aluminium. It is also much lighter than copper.",
)

HOT_C = 80.0


def judge(case: Case) -> Iterator[Finding | Skip]:
    seen: set[str] = set()
    for place in case.runs:
        if is_clad(place.run.material) and _hot(place) and place.subject not in seen:
            seen.add(place.subject)
            yield RULE.finding(
                place.subject,
                f"Wire {place.run.id} is copper-clad aluminium in a place of "
                f"{num(place.run.ambient_c)} °C. It creeps in its crimps and breaks: a hot joint "
                "near fuel and oil.",
                f"Use copper wire for {place.subject}.",
                found="copper-clad aluminium",
                limit="copper",
                change=f"{place.subject} material copper",
                circuit=place.circuit_id,
            )


def _hot(place: RunPlace) -> bool:
    return place.run.ambient_c >= HOT_C or any("engine" in p.casefold() for p in place.run.places)
