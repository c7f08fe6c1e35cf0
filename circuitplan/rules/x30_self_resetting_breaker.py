"""X30: a breaker closes again by itself onto a fault."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.model.plan import FuseSpec
from circuitplan.rules.base import Case, Finding, Rule, Skip

RULE = Rule(
    id="X30",
    name="self-resetting breaker",
    signal_word="WARNING",
    fails=True,
    means="The breaker closes again by itself when it has cooled. It must be reset by hand and "
    "trip even if its lever is held.",
    why="It heats a fault again and again until something burns; a winch or pump starts by itself "
    "under somebody's hands.",
    remedy="Use a breaker with manual reset, trip-free, or a fuse.",
    source="33 CFR 183.455(a)",
    status="read",
    example="A self-resetting 50 A breaker before an unattended compressor.",
    by_hand="A breaker without button or lever resets itself.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    things: list[tuple[str, FuseSpec | None]] = [(a.name, a.fuse) for a in case.plan.accessories]
    things += [(p.name, p.fuse) for p in case.plan.panels]
    things += [(s.name, s.fuse) for s in case.plan.switches]
    things += [(c.name, c.fuse) for c in case.plan.supply.chargers]
    for name, fuse in sorted(things, key=lambda thing: thing[0]):
        if fuse is not None and fuse.self_resetting:
            item = case.item(name)
            yield RULE.finding(
                name,
                f"The breaker of {name} closes again by itself. It cycles into a fault until "
                "something burns, or starts a machine under somebody's hands.",
                f"Use a trip-free breaker with manual reset, or a fuse, for {name}.",
                found="self-resetting",
                limit="manual reset",
                circuit=item.circuit.id if item else None,
            )
