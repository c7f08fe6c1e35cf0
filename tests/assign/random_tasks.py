"""Invented tasks of any size, the same for the same seed."""

from __future__ import annotations

import random

from circuitplan.design.assigning.task import Contact, Feeder, Item, Task

FAMILIES = ("lamp", "pump", "air", "drive line", "warning")
PLACES = ("front", "rear", "roof", "")


def random_task(
    seed: int, items: int, switches: int, panels: int, *, tight: float = 1.0, wishes: bool = True
) -> Task:
    """``tight`` above 1 makes ratings and ways scarce; ``wishes`` adds fixed choices and pairs."""
    draw = random.Random(seed)
    contacts = tuple(_contact(draw, n + 1, panels, wishes) for n in range(switches))
    per_panel = max(1, round((items + switches / 2) / max(panels, 1) / tight))
    feeders = tuple(
        Feeder(
            f"P{n + 1}",
            ways=draw.choice([None, per_panel, per_panel + 1]),
            room_ma=draw.choice([None, round(9000 * items / max(panels, 1) / tight)]),
            live=draw.choice(["", "", "always", "ignition"]) if wishes else "",
            above=("P1",) if n == 1 and draw.random() < 0.5 else (),
        )
        for n in range(panels)
    )
    names = [c.name for c in contacts]
    things = tuple(_item(draw, n + 1, contacts, feeders, tight, wishes) for n in range(items))
    pairs: dict[str, tuple[tuple[str, str], ...]] = dict.fromkeys(
        ("apart", "unlike", "together", "follows"), ()
    )
    if wishes and items > 1:
        for kind in pairs:
            for _ in range(1 + items // 12):
                if draw.random() < 0.4:
                    a, b = draw.sample([t.name for t in things], 2)
                    pairs[kind] = tuple(dict.fromkeys((*pairs[kind], (a, b))))
    assert len(set(names)) == switches
    return Task(
        things, contacts, feeders, **pairs,
        spare_ma=draw.choice([0, 0, 1500]) if wishes else 0,
        spare_ways=draw.choice([0, 0, 1]) if wishes else 0,
    )


def shop_task(seed: int, items: int, switches: int) -> Task:
    """As a shop meets it: two panels, switches in one row in the cab, mixed loads, in places.

    All of it is invented. About two in three switches carry their load, the others work relays.
    """
    draw = random.Random(seed)
    contacts = tuple(
        Contact(
            f"S{n}", kind, 1000 if kind == "relay" else 20000,
            live="ignition" if n % 2 else "", reach=n,
        )
        for n in range(1, switches + 1)
        for kind in [draw.choice(["direct", "direct", "relay"])]
    )
    feeders = (Feeder("cab", ways=2 * items), Feeder("rear", ways=2 * items))
    way_m = {"front": (3, 5), "rear": (6, 2), "roof": (3, 4), "cab": (1, 4)}
    things = []
    for n in range(1, items + 1):
        current = draw.choice([500, 1000, 1500, 2000, 3000, 5000, 8000])
        family = draw.choice(FAMILIES)
        factor = 2 if family in ("pump", "air", "drive line") else 1
        place = draw.choice(list(way_m))
        near, far = way_m[place]
        grams = {
            (panel, s): current * (metres + extra) // 1000
            for panel, metres, extra in (("cab", near, 0), ("rear", far, 4))
            for s in ("", *(c.name for c in contacts))
        }
        things.append(
            Item(
                f"A{n}", (f"A{n}",), family, place,
                {c.name: current * factor for c in contacts}, current, current, 180,
                ("cab", "rear"), stays=True, live=draw.choice(["", "", "ignition"]),
                copper_g=grams,
            )
        )
    return Task(tuple(things), contacts, feeders)


def _contact(draw: random.Random, n: int, panels: int, wishes: bool) -> Contact:
    kind = draw.choice(["direct", "direct", "relay", "output"])
    rating = draw.choice([1000, 2000]) if kind == "relay" else draw.choice([10000, 15000, 20000])
    if wishes and draw.random() < 0.06:
        rating = None
    fuse = 12000 if kind == "output" and draw.random() < 0.5 else None
    return Contact(
        f"S{n}", kind, rating, fuse_ma=fuse,
        live=draw.choice(["", "", "ignition"]) if wishes else "",
        momentary=wishes and draw.random() < 0.15,
        panel=f"P{draw.randint(1, panels)}" if panels and draw.random() < 0.2 else "",
        already_ma=draw.choice([0, 0, 0, 150]),
        taken=draw.random() < 0.2,
        reach=n,
    )


def _item(
    draw: random.Random, n: int, contacts: tuple[Contact, ...], feeders: tuple[Feeder, ...],
    tight: float, wishes: bool,
) -> Item:
    current = draw.randint(500, round(9000 * tight))
    factor = draw.choice([1, 1, 2])
    names = [f.name for f in feeders] or [""]
    fixed_panel = wishes and draw.random() < 0.2
    panels = (draw.choice([*names, ""]),) if fixed_panel else tuple(names)
    own_control = draw.random() < 0.15
    fixed = draw.choice(contacts).name if wishes and contacts and draw.random() < 0.15 else ""
    return Item(
        f"A{n}", (f"A{n}",), draw.choice(FAMILIES), draw.choice(PLACES),
        {c.name: round(current * draw.choice([factor, factor, 1.2])) for c in contacts},
        current, round(current * draw.choice([1, 0.5])),
        None if draw.random() < 0.05 else draw.choice([150, 230]),
        panels,
        adds_relay=draw.random() < 0.9,
        held=draw.choice(["", "", "", "", "must", "usual"]) if wishes else "",
        stays=draw.random() < 0.5,
        live=draw.choice(["", "", "", "", "always", "ignition"]) if wishes else "",
        fixed_switch=fixed,
        fixed_panel=fixed_panel,
        may_be_plain=own_control,
        for_good=own_control and draw.random() < 0.2,
        only_on=(draw.choice(contacts).name,)
        if wishes and contacts and draw.random() < 0.05 else (),
        never_on=(draw.choice(contacts).name,)
        if wishes and contacts and draw.random() < 0.1 else (),
        weight=draw.choice([1, 1, 3]),
        copper_g={
            (p, s): draw.randint(5, 60)
            for p in dict.fromkeys((*names, *panels, "")) for s in ("", *(c.name for c in contacts))
        },
    )  # fmt: skip
