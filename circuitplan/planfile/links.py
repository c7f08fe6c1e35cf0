"""What only the whole plan shows: feeds in a ring, places that no leg joins."""

from __future__ import annotations

from circuitplan.model.plan import Accessory, Panel, Plan
from circuitplan.planfile.tree import Spot, Troubles


def check(plan: Plan, spots: dict[str, Spot], troubles: Troubles) -> None:
    """Note rings of panels and missing ways. ``spots`` maps a ``where`` text to its position."""
    _rings(plan, spots, troubles)
    _ways(plan, spots, troubles)


def _rings(plan: Plan, spots: dict[str, Spot], troubles: Troubles) -> None:
    panels = {panel.name: panel for panel in plan.panels}
    seen: set[str] = set()
    for panel in plan.panels:
        path: dict[str, None] = {}  # a set that keeps its order
        here: str | None = panel.name
        while here in panels and here not in seen and here not in path:
            path[here] = None
            here = panels[here].fed_from
        seen.update(path)
        if here is None or here not in path:
            continue
        names = list(path)
        ring = names[names.index(here) :]
        first = next(p for p in plan.panels if p.name in ring)  # in reading order
        turn = ring.index(first.name)
        ring = [*ring[turn:], *ring[:turn], first.name]
        what = "feeds itself" if len(ring) == 2 else f"stands in a ring: {' from '.join(ring[:8])}"
        troubles.add(
            spots[first.where], f"panel {first.name} {what}",
            "feeds that begin at a battery", "give one of them fed_from: battery",
        )  # fmt: skip


def _ways(plan: Plan, spots: dict[str, Spot], troubles: Troubles) -> None:
    """Ends that are both named, without a length, in a plan whose legs do not join them."""
    if not plan.legs:
        return
    group = _joined(plan)
    at = {panel.name: panel.place for panel in plan.panels}
    at |= {battery.name: battery.place for battery in plan.supply.batteries}
    things: list[Panel | Accessory] = [*plan.panels, *plan.accessories]
    wanted = [
        (thing.name, at.get(thing.fed_from or ""), thing.place, thing.where)
        for thing in things
        if thing.length_m is None
    ]
    wanted += [
        (charger.name, at.get(charger.source or ""), at.get(charger.target), charger.where)
        for charger in plan.supply.chargers
        if charger.length_m is None
    ]
    for name, start, end, where in wanted:
        if not start or not end or start.casefold() == end.casefold():
            continue
        a, b = group.get(start.casefold()), group.get(end.casefold())
        if a is None or a != b:
            troubles.add(
                spots[where], f"{name}: no way of legs from {start} to {end}",
                "legs that join the two places, or a length",
                f"add the leg [{start}, {end}, its length], or give {name} a length",
            )  # fmt: skip


def _joined(plan: Plan) -> dict[str, str]:
    """Each place of a leg with a mark that all places joined to it share."""
    mark: dict[str, str] = {}

    def root(place: str) -> str:
        while mark[place] != place:
            place = mark[place]
        return place

    for leg in plan.legs:
        for end in (leg.a.casefold(), leg.b.casefold()):
            mark.setdefault(end, end)
        mark[root(leg.a.casefold())] = root(leg.b.casefold())
    return {place: root(place) for place in mark}
