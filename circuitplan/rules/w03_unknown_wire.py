"""W03: a wire that is there already and whose size nobody knows."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, listed, num

RULE = Rule(
    id="W03",
    name="existing wire of unknown size",
    signal_word="WARNING",
    fails=True,
    means="The plan says size: unknown. The wire is taken as the thinnest that it can be, and "
    "fails until somebody measures it.",
    why="A fuse can only be chosen for a known wire. Too large a fuse on an old thin wire: fire.",
    remedy="Measure it: the outside of its insulation (circuitplan wire --outside 3mm), or count "
    "and measure its strands (circuitplan wire --strands 19 --strand 0.3mm); write the size into "
    "the plan. Or lay a new wire.",
    source="judgement",
    status="judgement",
    example="3.0 mm outside may hold as little as 1 mm² of copper.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    groups: dict[str, list[int]] = {}
    for index, place in enumerate(case.runs):
        if place.run.unknown:
            groups.setdefault(place.subject, []).append(index)
    for subject, indices in groups.items():
        places = [case.runs[i] for i in indices]
        run = places[0].run
        yield RULE.finding(
            subject,
            f"Nobody knows the size of wire {listed([p.run.id for p in places])}; it is taken as "
            f"{run.size}, which carries {num(run.ampacity_a)} A here. A fuse chosen by guess may "
            "not protect it: fire.",
            'Measure its outside or its strands with "circuitplan wire" and write the size into '
            "the plan, or lay a new wire.",
            found="unknown",
            limit=None,
            circuit=places[0].circuit_id,
        )
