"""Where a shared wire may split: the last place that all on it lie behind."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitplan.design.assume import Ledger
from circuitplan.design.draft import Wiring
from circuitplan.design.ways import Ways
from circuitplan.model.plan import Accessory, Plan

Split = tuple[tuple[str, ...], str]
"""Where in the plan, and the place."""


def candidates(plan: Plan, wiring: Wiring) -> Iterator[Split]:
    """For each switch and each circuit number with two or more things whose ways have a common
    start.

    What has a split, and things whose length is given, are left as the plan says.
    """
    ways = Ways(plan, Ledger(()))
    for switch in plan.switches:
        mine = [a for a in plan.accessories
                if len(a.switches) == 1 and a.switches[0].casefold() == switch.name.casefold()]
        if switch.type not in ("direct", "output") or switch.split:
            continue
        place = _last_common(ways, switch.place, mine)
        if place is not None:
            yield ("switches", switch.name), place
    for circuit in wiring.circuits:
        members = [wiring.loads[i].accessory for i in circuit.loads]
        of_number = [a for a in plan.accessories if a.number == circuit.number]
        if (
            circuit.style not in ("plain", "relayed") or circuit.number is None
            or circuit.shared is not None or len(members) != len(of_number)
        ):
            continue
        place = _last_common(ways, wiring.nodes[circuit.node].place, members)
        if place is not None:
            yield ("circuits", str(circuit.number)), place


def _last_common(
    ways: Ways, start: str | None, accessories: Sequence[Accessory]
) -> str | None:
    if start is None or len(accessories) < 2:
        return None
    if any(a.place is None or a.length_m is not None for a in accessories):
        return None
    routes = [ways.route(a.name, start, a.place, None).places for a in accessories]
    common: list[str] = []
    for steps in zip(*routes, strict=False):
        if len({step.casefold() for step in steps}) > 1:
            break
        common.append(steps[0])
    return common[-1] if len(common) > 1 else None
