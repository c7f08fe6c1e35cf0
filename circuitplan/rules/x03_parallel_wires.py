"""X03: two wires or fuses share one load in parallel."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.model.plan import WireSpec
from circuitplan.rules.base import Case, Finding, Rule, Skip

RULE = Rule(
    id="X03",
    name="parallel wires on one load",
    signal_word="WARNING",
    fails=True,
    means="Two or more wires run side by side between the same ends. They do not share evenly, and "
    "one fuse before both protects neither.",
    why="When one crimp opens the other wire carries everything: it overheats behind a fuse that "
    "was chosen for two, and burns.",
    remedy="Use one wire of the size needed. From 50 mm² parallel wires may stand, of equal length "
    "and size, with a fuse in each; then accept this in the plan by name.",
    source="IEC 60364-4-43 433.4",
    status="memory",
    example="Two 10 mm² to an inverter behind one 150 A fuse: use one 35 mm².",
    by_hand="Count the wires on each stud that come from the same place.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    things: list[tuple[str, WireSpec]] = [(a.name, a.wire) for a in case.plan.accessories]
    things += [(p.name, p.wire) for p in case.plan.panels]
    things += [(c.name, c.wire) for c in case.plan.supply.chargers]
    things += [(s.name, s.lead) for s in case.plan.switches]
    for name, wire in sorted(things, key=lambda thing: thing[0]):
        if wire.parallel > 1:
            item = case.item(name)
            size = f" of {wire.size}" if wire.size else ""
            yield RULE.finding(
                name,
                f"{wire.parallel} wires{size} in parallel feed {name}. If one opens, the rest "
                "carry it all behind a fuse chosen for the sum: fire.",
                f"Use one wire for {name}; from 50 mm² a fuse in each, all of equal length.",
                found=wire.parallel,
                limit=1,
                circuit=item.circuit.id if item else None,
            )
