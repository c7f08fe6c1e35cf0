"""T02: a size, temperature or bundle that no published table covers."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, exceeds, listed, num

RULE = Rule(
    id="T02",
    name="outside the published table",
    signal_word="WARNING",
    fails=True,
    means="No published table holds a value for this wire or fuse as it is used. A table is never "
    "stretched in silence.",
    why="Nothing vouches for what the wire or fuse carries there; it may overheat and burn.",
    remedy="Use a size or class that the tables hold, split the bundle, or move the part to a "
    "cooler place.",
    source="33 CFR 183.425 table 5; DIN VDE 0298-4; MIL-W-5088L (up to 19 wires); fuse ambient "
    "table (up to 125 °C)",
    status="second-hand",
    example="A bundle of 24 loaded wires is beyond the curve, which ends at 19: lay it as two.",
)

HOTTEST_FUSE_C = 125.0


def judge(case: Case) -> Iterator[Finding | Skip]:
    groups: dict[str, list[int]] = {}
    for index, place in enumerate(case.runs):
        if place.run.published_a is None:
            groups.setdefault(place.subject, []).append(index)
    for subject, indices in groups.items():
        places = [case.runs[i] for i in indices]
        run = places[0].run
        yield RULE.finding(
            subject,
            f"No table gives what wire {listed([p.run.id for p in places])} ({run.size}, "
            f"{run.insulation_c:g} °C) carries. It may overheat: fire.",
            "Use a size and class of insulation that the tables hold.",
            found=run.size,
            circuit=places[0].circuit_id,
        )
    for fuse in case.fuses:
        if exceeds(fuse.fuse.ambient_c, HOTTEST_FUSE_C):
            yield RULE.finding(
                fuse.subject,
                f"Fuse {fuse.fuse.id} sits in {num(fuse.fuse.ambient_c)} °C; the table ends at "
                f"{HOTTEST_FUSE_C:g} °C. Its holder may burn.",
                "Move the fuse to a cooler place.",
                found=fuse.fuse.ambient_c,
                limit=HOTTEST_FUSE_C,
                unit="°C",
                circuit=fuse.circuit_id,
            )
