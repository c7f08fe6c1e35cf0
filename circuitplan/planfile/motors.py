"""What motors of two directions or two speeds ask of the rest of a plan.

One switch with a middle position, ON-OFF-ON, works one such motor: by itself, or by two relays.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.library import kinds
from circuitplan.model.plan import Accessory, Plan, Switch
from circuitplan.planfile.tree import Spot, Troubles

Trouble = tuple[str, str, str]
"""What was found, what is allowed, what to do."""


def check(plan: Plan, spots: dict[str, Spot], troubles: Troubles) -> None:
    """Note everything that a reversing or two-speed motor cannot be joined with."""
    for accessory in plan.accessories:
        for found, allowed, remedy in _of(plan, accessory):
            troubles.add(spots[accessory.where], f"{accessory.name}: {found}", allowed, remedy)


def _of(plan: Plan, a: Accessory) -> Iterator[Trouble]:
    if a.low_speed_a is not None and a.motor != "two-speed":
        yield ("low_speed, but no motor of two speeds", "low_speed with motor: two-speed",
               "add motor: two-speed, or delete low_speed")
    if a.motor is None:
        return
    yield from _itself(plan, a)
    yield from _its_switch(plan, a)
    if a.number is not None:
        others = [o.name for o in plan.accessories if o.number == a.number and o is not a]
        if others:
            yield (f"number {a.number} is shared with {', '.join(others)}",
                   f"a {a.motor} motor has a circuit of its own", "give it another number")


def _itself(plan: Plan, a: Accessory) -> Iterator[Trouble]:
    kind = kinds.find(a.kind) if a.kind else None
    if kind is not None and (kind.own_contactor or kind.protection == "short-circuit"):
        yield (f"motor: {a.motor} with a {kind.kind}, which has contactors of its own",
               "motors that plug-in relays or a switch can carry",
               "leave motor out: its own contactors work it")
    if a.motor == "reversing" and a.back == "chassis":
        yield ("motor: reversing with return: chassis", "return: wire",
               "write return: wire: both its wires are live in turn, none may go to the body")
    if a.tail_m:
        yield (f"motor: {a.motor} with tail", "one run of wires to the motor",
               "leave tail out, or write each motor as an accessory with a switch of its own")
    if a.wire.parallel > 1:
        yield (f"motor: {a.motor} with wires in parallel", "one wire to each terminal",
               "leave parallel out and let the size be chosen")
    if a.connector is not None:
        yield (f"motor: {a.motor} with connector", "one of the two, so far",
               "leave connector out; the wires end at the motor's terminals")
    if a.dimmed is not None:
        yield (f"motor: {a.motor} with dimmed", "one of the two", "leave one of them out")
    each_a = a.current_a
    if each_a is None and a.power_w is not None:
        each_a = a.power_w / (a.rated_v or plan.nominal_v)
    if each_a is None and kind is not None:
        each_a = kind.current_at(kind.high_a, plan.nominal_v)
    if a.low_speed_a is not None and each_a is not None and a.low_speed_a > each_a:
        yield (f"low_speed {a.low_speed_a:g} A above its current of {each_a:.3g} A",
               "at most the current at full speed", "write the larger of the two as current")


def _its_switch(plan: Plan, a: Accessory) -> Iterator[Trouble]:
    by_name = {s.name.casefold(): s for s in plan.switches}
    named = [by_name[n.casefold()] for n in a.switches if n.casefold() in by_name]
    if len(a.switches) != 1:
        count = f"{len(a.switches)} switches" if a.switches else "no switch"
        yield (f"motor: {a.motor} with {count}", "one switch, ON-OFF-ON",
               "name the one switch that works it both ways")
        return
    for switch in named:
        yield from _one_switch(plan, a, switch)


def _one_switch(plan: Plan, a: Accessory, switch: Switch) -> Iterator[Trouble]:
    if switch.type in ("output", "signal"):
        yield (f"motor: {a.motor} on {switch.name}, the vehicle's {switch.type}",
               "a switch of type direct or relay: an output has one position only",
               "give it a switch ON-OFF-ON of its own")
    if switch.in_negative:
        yield (f"motor: {a.motor} on {switch.name}, which breaks the negative",
               "a switch in the feed", "delete in_negative, or take another switch")
    if switch.solid_state and switch.type == "direct":
        yield (f"motor: {a.motor} on {switch.name}, an electronic switch",
               "contacts that change over", "let it work relays (type: relay), or take another")
    if switch.split is not None:
        yield (f"motor: {a.motor} on {switch.name} with split", "a switch without split",
               "delete split: two wires go on from this switch")
    if switch.lead.given:
        yield (f"motor: {a.motor} on {switch.name} with a lead of a size of its own",
               "one size for all wires of the motor",
               "delete the lead's size, and give the size of the motor's wires")
    name = switch.name.casefold()
    others = [
        o.name for o in plan.accessories
        if o is not a and name in {s.casefold() for s in o.switches}
    ]
    if others:
        yield (f"{switch.name} works {', '.join(others)} too",
               f"a switch of its own: both positions are taken by the {a.motor} motor",
               "give one of them another switch")
