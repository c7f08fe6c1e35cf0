"""S04: the lead of a vehicle's output, or a branch on it, is thinner than its fuse allows."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules import proposals
from circuitplan.rules.base import Case, Finding, Rule, Skip, exceeds, num, ordered

RULE = Rule(
    id="S04",
    name="output lead not protected",
    signal_word="WARNING",
    fails=True,
    means="A vehicle's own output has its fuse and its lead. A wire behind it that carries less "
    "than that fuse is not protected by it.",
    why="A chafed branch melts while the output's fuse holds.",
    remedy="Put an inline fuse where the thinner wire begins, or continue in wire that carries the "
    "output's fuse. Never change the vehicle's own fuse for a larger one.",
    source="IEC 60364-4-43 433.1; 33 CFR 183.455",
    status="memory",
    example="A 40 A output with a 10 AWG lead and 16 AWG to a camera: a 5 A inline fuse at the "
    "splice.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for place in case.fuses:
        fuse = place.fuse
        if fuse.type != "output" or fuse.max_a is None or not exceeds(fuse.rating_a, fuse.max_a):
            continue
        found, limit = ordered(fuse.rating_a, fuse.max_a)
        behind = [r for r in case.runs if r.run.protected_by == fuse.id and r.run.role != "control"]
        thin = min(behind, key=lambda r: r.run.ampacity_a, default=None)
        label = proposals.size_for_ampacity(thin.run, fuse.rating_a) if thin else None
        start = proposals.start_behind(place.circuit, fuse.id)
        inline = proposals.fuse_between("C", fuse.min_a, fuse.max_a, start)
        ways = []
        if inline is not None:
            ways.append(f"put an inline fuse of {num(inline)} A where the thinner wire begins")
        if label is not None:
            ways.append(f"use {label} behind the output")
        remedy = " or ".join(ways) if ways else "use wire that carries the output's fuse"
        yield RULE.finding(
            place.subject,
            f"The {found} A fuse of {fuse.position} is larger than the wire behind it carries: "
            f"{limit} A. A chafe melts the wire while the fuse holds: fire.",
            remedy[0].upper() + remedy[1:] + ".",
            found=fuse.rating_a,
            limit=fuse.max_a,
            unit="A",
            change=proposals.size_change(thin.thing if thin else None, label),
            circuit=place.circuit_id,
        )
    for switch in case.switches:
        planned = case.planned_switch(switch.id)
        if planned is None or switch.type != "output" or not switch.works:
            continue
        if planned.fuse is not None and planned.fuse.none:
            yield RULE.finding(
                switch.id,
                f"Output {switch.id} has no fuse. A chafe on its lead is fed without limit: fire.",
                f"Put an inline fuse where the lead of {switch.id} begins: at least "
                f"{num(switch.current_a / 0.8)} A, no more than the lead carries.",
                found="none",
            )
