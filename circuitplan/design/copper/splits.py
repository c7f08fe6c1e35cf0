"""Where the shared wire of a switch may split: the last place that all it works lie behind."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.design.assume import Ledger
from circuitplan.design.ways import Ways
from circuitplan.model.plan import Accessory, Plan, Switch


def candidates(plan: Plan) -> Iterator[tuple[str, str]]:
    """(switch, place) for each switch that works two or more things by legs with a common start.

    A switch that has a split, and things whose length is given, are left as the plan says.
    """
    ways = Ways(plan, Ledger(()))
    for switch in plan.switches:
        mine = [a for a in plan.accessories
                if len(a.switches) == 1 and a.switches[0].casefold() == switch.name.casefold()]
        if switch.type not in ("direct", "output") or switch.split or len(mine) < 2:
            continue
        place = _last_common(ways, switch, mine)
        if place is not None:
            yield switch.name, place


def _last_common(ways: Ways, switch: Switch, accessories: list[Accessory]) -> str | None:
    start = switch.place
    if start is None or any(a.place is None or a.length_m is not None for a in accessories):
        return None
    routes = [ways.route(a.name, start, a.place, None).places for a in accessories]
    common: list[str] = []
    for steps in zip(*routes, strict=False):
        if len({step.casefold() for step in steps}) > 1:
            break
        common.append(steps[0])
    return common[-1] if len(common) > 1 else None
