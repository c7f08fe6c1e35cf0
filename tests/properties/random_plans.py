"""Random plans, each from its own seed: invented vehicles, no engineering in here.

``plan(seed)`` gives the same plan for the same seed on every machine. Small plans of one to five
accessories with every load model, both returns, direct switches and relays, hot and cold places,
looms, all gauges, 12 and 24 V.
"""

from __future__ import annotations

import random
from dataclasses import replace

from circuitplan.model.plan import (
    Accessory,
    Alternator,
    Battery,
    Duty,
    FuseSpec,
    Leg,
    Panel,
    Place,
    Plan,
    Supply,
    Switch,
    WireSpec,
)

LOADS = (
    "constant power", "constant current", "resistance", "filament", "solenoid", "motor",
    "torque motor", "fan motor",
)  # fmt: skip
FUSES = ((5.0, "C"), (15.0, "C"), (30.0, "C"), (60.0, "E"), (100.0, None))
INSULATIONS = ((105.0, "PVC"), (125.0, "cross-linked"), (105.0, None), (125.0, None), (None, None))
PLACES = {"bay": (60.0, 85.0), "cab": (20.0, 50.0), "rear": (-10.0, 60.0), "roof": (30.0, 70.0)}


def plan(seed: int) -> Plan:
    """The plan of a seed."""
    rng = random.Random(seed)
    volts = rng.choice((12.0, 12.0, 24.0))
    class_c, material = rng.choice(INSULATIONS)
    count = rng.randint(1, 5)
    switches = tuple(
        Switch(
            f"S{i}", type=rng.choice(("direct", "relay")), rating_a=rng.choice((20.0, 40.0, 60.0)),
            contact_v=28.0, place=rng.choice((None, "cab")),
        )
        for i in range(rng.randint(0, 3))
    )  # fmt: skip
    panels = tuple(_panel(rng, name) for name in ("main", "second")[: rng.randint(0, 2)])
    names = [f"A{i}" for i in range(count)]
    accessories = tuple(_accessory(rng, name, names, volts, switches, panels) for name in names)
    return Plan(
        nominal_v=volts, gauge=rng.choice(("metric", "metric", "awg", "sae")),
        wire=WireSpec(insulation_c=class_c, insulation_material=material),
        chassis_ohm=rng.choice((None, None, None, 0.004)),
        supply=_supply(rng), places=_places(rng), legs=_legs(rng), panels=panels,
        switches=switches, accessories=accessories,
    )  # fmt: skip


def _supply(rng: random.Random) -> Supply:
    kind = rng.choice(("flooded", "agm", "agm", "gel", "lifepo4"))
    cranking = rng.choice((None, 500.0, 850.0)) if kind in ("flooded", "agm") else None
    battery = Battery("battery", kind, rng.uniform(40.0, 120.0), cranking, "bay")
    rated = rng.choice((None, 90.0, 150.0))
    return Supply(
        batteries=(battery,),
        alternator=None if rated is None else Alternator(rated, idle_a=0.5 * rated, hot=False),
    )


def _places(rng: random.Random) -> tuple[Place, ...]:
    return tuple(Place(name, round(rng.uniform(*span), 1)) for name, span in PLACES.items())


def _legs(rng: random.Random) -> tuple[Leg, ...]:
    ways = ("open", "conduit", "sheath")
    ends = (("bay", "cab"), ("cab", "rear"), ("cab", "roof"))
    return tuple(
        Leg(a, b, round(rng.uniform(0.3, 4.0), 2), rng.choice(ways), rng.choice((0, 0, 1)))
        for a, b in ends
    )


def _panel(rng: random.Random, name: str) -> Panel:
    return Panel(
        name, place=rng.choice(("bay", "cab", "rear")), fed_from="battery",
        length_m=rng.choice((None, round(rng.uniform(0.3, 4.0), 2))),
        back=rng.choice(("wire", "wire", "chassis")),
        fuses=rng.choice((None, None, "C", "E")),
    )  # fmt: skip


def _feeds(rng: random.Random, panels: tuple[Panel, ...]) -> list[str | None]:
    return [p.name for p in panels] + ["battery"] * (rng.random() < 0.1) or [None]


def _accessory(
    rng: random.Random, name: str, names: list[str], volts: float,
    switches: tuple[Switch, ...], panels: tuple[Panel, ...],
) -> Accessory:  # fmt: skip
    quantity = rng.choice((1, 1, 1, 2, 4))
    # From a display to a pair of heaters: spread evenly over the decades.
    current = 10.0 ** rng.uniform(-0.5, 1.7) * 12.0 / volts / quantity
    power = rng.random() < 0.5
    place = rng.choice(("cab", "rear", "roof", None))
    length = round(10.0 ** rng.uniform(-0.5, 1.08), 2)  # 0.3 to 12 m
    on_s = rng.choice((10.0, 30.0, 60.0))
    short = rng.random() < 0.15
    rival = rng.choice(names)
    return Accessory(
        name, quantity=quantity,
        power_w=current * volts if power else None, current_a=None if power else current,
        load=rng.choice(LOADS), place=place,
        length_m=None if place is not None and rng.random() < 0.3 else length,
        tail_m=round(rng.uniform(0.3, 1.5), 2) if quantity > 1 and rng.random() < 0.5 else None,
        back=rng.choice(("wire", "wire", "chassis")),
        fed_from=rng.choice(_feeds(rng, panels)),
        switches=(rng.choice(switches).name,) if switches and rng.random() < 0.6 else (),
        never_with=(rival,) if rival != name and rng.random() < 0.2 else (),
        duty=Duty(on_s, on_s * rng.choice((2.0, 5.0, 10.0))) if short else None,
        peak_a=current * quantity * 1.5 if short and rng.random() < 0.5 else None,
        inrush_a=current * rng.uniform(2.0, 8.0) if rng.random() < 0.2 else None,
        drop_percent=rng.choice((None, None, 3.0, 10.0)),
    )  # fmt: skip


def fixed_plan(seed: int) -> Plan:
    """The plan of a seed with vehicle outputs, and with sizes and fuses that somebody has fixed."""
    rng = random.Random(seed + 10**9)
    base = plan(seed)
    switches = tuple(
        replace(s, type="output", fuse=FuseSpec(s.rating_a, "output"), lead_m=0.5,
                lead=WireSpec(size=rng.choice(_sizes(base.gauge))))
        if rng.random() < 0.4 else s
        for s in base.switches
    )  # fmt: skip
    accessories = tuple(_fixed(rng, base, item) for item in base.accessories)
    return replace(base, switches=switches, accessories=accessories)


def _sizes(gauge: str) -> tuple[str, ...]:
    return ("0.75", "1.5", "2.5", "4", "10") if gauge == "metric" else ("18", "16", "14", "12", "8")


def _fixed(rng: random.Random, base: Plan, item: Accessory) -> Accessory:
    changes: dict[str, object] = {}
    if rng.random() < 0.4:
        changes["wire"] = WireSpec(size=rng.choice(_sizes(base.gauge)))
    elif rng.random() < 0.1:
        changes["wire"] = WireSpec(unknown=True)
    if rng.random() < 0.3:
        changes["fuse"] = FuseSpec(*rng.choice(FUSES))  # type: ignore[arg-type]
    elif rng.random() < 0.1:
        changes["fuse"] = FuseSpec(none=True)
    return replace(item, **changes)  # type: ignore[arg-type]
