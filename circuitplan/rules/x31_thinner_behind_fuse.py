"""X31: behind a fuse the wire becomes thinner than the fuse allows."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules import proposals
from circuitplan.rules.base import Case, Finding, Rule, Skip, exceeds, num, ordered

RULE = Rule(
    id="X31",
    name="thinner wire behind a splice",
    signal_word="WARNING",
    fails=True,
    means="The first wire behind the fuse suits it; a pigtail, tail or branch after a splice is "
    "thinner, longer than 7 in, and carries less than the fuse.",
    why="A chafe on the thin part melts it while the fuse holds: the fuse was chosen for the thick "
    "part.",
    remedy="Put an inline fuse where the thin part begins, or go on in the same size.",
    source="33 CFR 183.425(g), 183.455",
    status="read",
    example="4 mm² behind 30 A, then tails of 0.75 mm² to each lamp: a 7.5 A inline fuse.",
    by_hand="Follow each wire past its splices to the last connector.",
)

PIGTAIL_M = 0.1778


def judge(case: Case) -> Iterator[Finding | Skip]:
    for place in case.fuses:
        fuse = place.fuse
        if fuse.short_circuit_only:
            continue
        behind = [r for r in case.runs if r.run.protected_by == fuse.id and r.run.role != "control"]
        suits = [r for r in behind if not exceeds(fuse.rating_a, r.run.ampacity_a)]
        thin = [
            r
            for r in behind
            if exceeds(fuse.rating_a, r.run.ampacity_a) and exceeds(r.run.length_m, PIGTAIL_M)
        ]
        if not suits or not thin:
            continue
        worst = min(thin, key=lambda r: (r.run.ampacity_a, r.run.id)).run
        found, limit = ordered(fuse.rating_a, worst.ampacity_a)
        inline = proposals.fuse_between(
            "C", worst.current_a / max(worst.pieces, 1) / 0.8, worst.ampacity_a
        )
        yield RULE.finding(
            place.subject,
            f"Behind {fuse.id} ({found} A) wire {worst.id} is only {worst.size} and carries "
            f"{limit} A over {num(worst.length_m)} m. A chafe there melts it while the fuse holds: "
            "fire.",
            (f"Put an inline fuse of {num(inline)} A where it begins, or" if inline else "There")
            + " go on in the size of the wire before it.",
            found=fuse.rating_a,
            limit=worst.ampacity_a,
            unit="A",
            circuit=place.circuit_id,
        )
