"""What follows from a change: figures that belonged to the old place or the old machine go."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from circuitplan import units
from circuitplan.errors import InputError, Problem
from circuitplan.model.plan import Accessory, Plan
from circuitplan.planfile.changes import CHOSEN
from circuitplan.planfile.wishes.things import Thing
from circuitplan.planfile.wishes.wish import Wish

Pair = tuple[str, str]

_OF_THE_OLD_ALTERNATOR = (
    ("idle", "idle_a"), ("hot", "hot"), ("curve", "curve"), ("label_speeds", "label_idle_rpm"),
)  # fmt: skip
_OF_THE_OLD_BATTERY = (
    ("cranking", "cranking_a"), ("resistance", "resistance_ohm"),
    ("short_circuit", "short_circuit_a"), ("trip", "trip_a"), ("health", "health"),
)


def changed(
    plan: Plan, thing: Thing, pairs: Sequence[Pair], swapped: bool = False
) -> list[Wish]:
    """The wishes that give a thing these keys, and take out what no longer holds.

    ``swapped``: another machine takes its place. An alternator whose figure is only changed keeps
    what the plan says of the rest, as far as that can be true of it.
    """
    given = next((a for a in plan.accessories if a.name == thing.name), None)
    found: list[Wish] = []
    for key, value in pairs:
        if key == "its switch":
            found += _relay_at(plan, given, thing, dict(pairs).get("switch"))
        else:
            found.append(_set(thing, key, value))
    keys = dict(pairs)
    if thing.sort == "accessory" and given is not None:
        found += _way(plan, given, keys)
        for one, other, old in (
            ("power", "current", given.current_a), ("current", "power", given.power_w),
        ):  # fmt: skip
            if one in keys and other not in keys and old is not None and not swapped:
                found.append(_set(thing, other, CHOSEN))
    fused: tuple[Any, ...] = (*plan.accessories, *plan.panels, *plan.switches)
    devices = [e.fuse for e in fused if e.name == thing.name and e.fuse is not None]
    device = devices[0] if devices else None
    if device is not None and ("fuse" in keys) != ("breaker" in keys):  # one device, not two
        was = "breaker" if device.type == "breaker" else "fuse"
        if was not in keys:
            found.insert(0, _set(thing, was, CHOSEN))
    machine = plan.supply.alternator
    if thing.sort == "alternator" and "rated" in keys and machine is not None:
        rated_a = units.parse(keys["rated"], "current")
        if swapped or (machine.idle_a is not None and machine.idle_a > rated_a):
            found += _of_old(machine, thing, keys, _OF_THE_OLD_ALTERNATOR)
        else:
            found += _of_old(machine, thing, keys, (("curve", "curve"),))  # it rules over a rating
            if machine.idle_a is not None and "idle" not in keys:
                kept = f"the idle output stays {machine.idle_a:g} A, as the plan gives it"
                found = [replace(w, note=kept) if " rated " in w.words else w for w in found]
    if thing.sort == "battery" and ("capacity" in keys or "type" in keys):
        battery = next((b for b in plan.supply.batteries if b.name == thing.name), None)
        found += _of_old(battery, thing, keys, _OF_THE_OLD_BATTERY)
    return found


def _set(thing: Thing, key: str, value: str, note: str = "") -> Wish:
    return Wish("change", f"{thing.name} {key.replace('_', ' ')} {value}", note=note)


def _of_old(
    old: object, thing: Thing, keys: dict[str, str], figures: Sequence[Pair]
) -> list[Wish]:
    """Figures of the old machine say nothing of the new one: they are taken out."""
    note = f"figures of the old {thing.sort} say nothing of the new one"
    return [
        _set(thing, key, CHOSEN, note) for key, field in figures
        if key not in keys and getattr(old, field, None)
    ]


def _way(plan: Plan, given: Accessory, keys: dict[str, str]) -> list[Wish]:
    """A length rules over places: it goes with the old place where the plan knows the ways."""
    moved = "place" in keys and (keys["place"].casefold() != (given.place or "").casefold())
    fed = keys.get("fed_from", "").casefold()
    if fed and fed != (given.fed_from or "").casefold():
        homes = {p.name.casefold(): p.place for p in plan.panels}
        homes |= {b.name.casefold(): b.place for b in plan.supply.batteries}
        was, now = homes.get((given.fed_from or "").casefold()), homes.get(fed)
        moved = moved or was is None or was != now
    if not moved or "length" in keys or given.length_m is None:
        return []
    thing = Thing("accessory", given.name)
    if plan.legs and (keys.get("place") or given.place):
        return [_set(thing, "length", CHOSEN, "the length held for the old way: now by the legs")]
    raise InputError([
        Problem(f"move {given.name}", f"its length ({given.length_m:g} m) held for the old way",
                "the new length too, as 6 m", "say it in the same sentence")
    ])


def _relay_at(
    plan: Plan, given: Accessory | None, thing: Thing, switch: str | None
) -> list[Wish]:
    """A relay for an accessory is its switch's: a switch that works one."""
    names = [switch] if switch else list(given.switches if given else ())
    if not names:
        raise InputError([
            Problem(f"a relay for {thing.name}", "it has no switch that could work one",
                    ", ".join(s.name for s in plan.switches),
                    f"as: {thing.name} on S1, S1 to relay")
        ])
    return [Wish("change", f"{name} type relay") for name in names]
