"""X27: fuses side by side heat each other."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.library import fuses
from circuitplan.rules.base import Case, Finding, Rule, Skip, below, listed, num

RULE = Rule(
    id="X27",
    name="fuses warmed by neighbours",
    signal_word="CAUTION",
    fails=False,
    means="More than half the ways of a panel carry over half of their fuse's rating: count 15 K "
    "more on the place of its fuses.",
    why="Fuses there blow below their rating and holders soften: a hot panel may burn a hand.",
    remedy="Leave ways empty between loaded ones, spread the loads over two panels, or take the "
    "next rating where the wire allows it.",
    source="judgement",
    status="judgement",
    example="A panel of six with four fuses at 60 to 80 % of their rating.",
    by_hand="Touch the fuses after an hour at full load: too hot to hold is too hot.",
)

WARMER_K = 15.0
LOADED = 0.5


def judge(case: Case) -> Iterator[Finding | Skip]:
    for panel in case.panels:
        places = [
            (c, f)
            for c in case.circuits
            if c.panel == panel.id
            for f in c.fuses[:1]
            if (f.current_a or c.current_a) > LOADED * f.rating_a and not f.short_circuit_only
        ]
        if not places:
            continue
        if panel.ways is None:
            yield Skip("the plan does not say how many ways the panel has", panel.id)
            continue
        if 2 * len(places) <= panel.ways:
            continue
        tight = []
        for circuit, fuse in places:
            now = fuses.ambient_factor(fuse.ambient_c)
            warm = fuses.ambient_factor(fuse.ambient_c + WARMER_K)
            if now is None or warm is None or below(fuse.rating_a, fuse.min_a * now / warm):
                tight.append(f"{fuse.id} ({case.subject(circuit)})")
        effect = (
            f"At {num(WARMER_K)} K more {listed(tight)} would be too small and may blow"
            if tight
            else f"All still carry their loads at {num(WARMER_K)} K more; the panel gets hot"
        )
        yield RULE.finding(
            panel.id,
            f"{len(places)} of {panel.ways} ways of {panel.id} carry over half of their fuse. "
            f"{effect}.",
            f"Leave ways of {panel.id} empty between loaded ones, or spread the loads.",
            found=len(places),
            limit=panel.ways / 2,
        )
