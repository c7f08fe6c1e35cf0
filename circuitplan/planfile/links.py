"""What only the whole plan shows: feeds in a ring, places that no leg joins, circuits shared."""

from __future__ import annotations

from collections import Counter

from circuitplan.model.plan import Accessory, Panel, Plan
from circuitplan.planfile.tree import Spot, Troubles, listed

CARRY = ("direct", "output")
"""Types of switches that carry what they work."""


def check(plan: Plan, spots: dict[str, Spot], troubles: Troubles) -> None:
    """Note rings of panels and missing ways. ``spots`` maps a ``where`` text to its position."""
    _rings(plan, spots, troubles)
    _ways(plan, spots, troubles)
    _circuits(plan, spots, troubles)


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


def _circuits(plan: Plan, spots: dict[str, Spot], troubles: Troubles) -> None:
    """Circuits that split, but whose accessories do not make one circuit of their own."""
    carry = {s.name for s in plan.switches if s.type in CARRY}
    group = _joined(plan)
    for circuit in plan.circuits:
        numbered = [a for a in plan.accessories if a.number == circuit.number]
        mine = [a for a in numbered if not _carried(a, carry)]
        where = spots[circuit.where]
        names = listed(a.name for a in mine)
        if not numbered:
            troubles.add(
                where, f"circuit {circuit.name} splits, but no accessory has number {circuit.name}",
                f"number: {circuit.name} at two accessories or more",
                "give that number to those that share the wire, or take the circuit out",
            )  # fmt: skip
        for switch in sorted({a.switches[0] for a in numbered if _carried(a, carry)}):
            if mine:  # the others still make the circuit
                break
            troubles.add(
                where, f"circuit {circuit.name} splits, but switch {switch} carries it",
                "a circuit without a switch, or one that works a relay",
                f"say split: {circuit.split} at switch {switch}, and take the circuit out",
            )  # fmt: skip
        feeds = sorted({a.fed_from for a in mine if a.fed_from})
        works = {tuple(sorted(a.switches)) for a in mine}
        if len(feeds) > 1 or len(works) > 1:
            what = "fed from elsewhere" if len(feeds) > 1 else "worked by other switches"
            troubles.add(
                where, f"circuit {circuit.name} splits, but of {names} some are {what}",
                "accessories of one number with the same panel and the same switches",
                "give those that differ a number of their own",
            )  # fmt: skip
        for a in mine:
            if a.place is None or a.length_m is not None or not plan.legs:
                continue
            ends = circuit.split.casefold(), a.place.casefold()
            if ends[0] != ends[1] and (
                group.get(ends[0]) is None or group.get(ends[0]) != group.get(ends[1])
            ):
                troubles.add(
                    where, f"circuit {circuit.name}: no way of legs from {circuit.split} to "
                    f"{a.place}, where {a.name} is", "legs that join the two places, or a length",
                    f"split it elsewhere, or give {a.name} its length from there",
                )  # fmt: skip


def _carried(accessory: Accessory, carry: set[str]) -> bool:
    """Whether the one switch of an accessory carries what it draws."""
    return len(accessory.switches) == 1 and accessory.switches[0] in carry


def unused(plan: Plan) -> tuple[str, ...]:
    """Splits that have no effect, since only one thing hangs on the wire."""
    worked = Counter(s for a in plan.accessories if len(a.switches) == 1 for s in a.switches)
    carry = {s.name for s in plan.switches if s.type in CARRY}
    numbered = Counter(a.number for a in plan.accessories if not _carried(a, carry))
    return (
        *(f"split of circuit {c.name}" for c in plan.circuits if numbered[c.number] < 2),
        *(f"split of switch {s.name}" for s in plan.switches
          if s.split is not None and (worked[s.name] < 2 or s.type not in CARRY)),
    )


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
