"""S01: a switch or output carries more than it is made for."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.model.result import SwitchResult
from circuitplan.rules import proposals
from circuitplan.rules.base import Case, Finding, Rule, Skip, exceeds, listed, num, ordered

RULE = Rule(
    id="S01",
    name="switch overloaded",
    signal_word="WARNING",
    fails=True,
    means="The loads on this switch ask for a larger contact than it has. A plain contact counts a "
    "filament lamp five times, a motor or a coil twice, because of what they draw when switched "
    "(at 24 V: 8, 3 and 4 times). An output of the vehicle is limited by its rating and its fuse; "
    "a control contact by the coil current it may carry.",
    why="The contact burns or welds: the switch melts, or the load cannot be switched off.",
    remedy="Let the switch work a relay and the relay carry the load; or move part of the load to "
    "a switch with room; or fit a switch whose stated motor or lamp rating suffices.",
    source="AC 43.13-1B table 11-4",
    status="read",
    example="A twin-motor compressor of 70 A on a 20 A switch: it needs a relay; the switch then "
    "carries only the coil's 0.3 A.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for switch in case.switches:
        if not switch.works:
            continue
        if switch.rating_a is None and switch.usable_a == 0.0:
            yield _unrated(case, switch)
        elif switch.rating_a is None:
            yield Skip("the plan does not say what the switch is rated for", switch.id)
        elif switch.type == "direct":
            if exceeds(switch.needed_a, switch.rating_a):
                yield _direct(case, switch, switch.rating_a)
        else:
            usable_a = switch.rating_a if switch.usable_a is None else switch.usable_a
            if exceeds(switch.current_a, usable_a):
                yield _other(case, switch, usable_a)


def _unrated(case: Case, switch: SwitchResult) -> Finding:
    return RULE.finding(
        switch.id,
        f"{switch.id} carries {num(switch.current_a)} A and nobody says what it is rated for. A "
        "contact that is too small burns or welds: the load cannot be switched off.",
        f"Read the rating on {switch.id} and write it into the plan; for its loads it must be "
        f"{num(switch.needed_a)} A or more. Or let it work a relay.",
        found=switch.needed_a,
        unit="A",
        change=f"{switch.id} type relay",
        circuit=_circuit(case, switch),
    )


def _direct(case: Case, switch: SwitchResult, rating_a: float) -> Finding:
    found, limit = ordered(switch.needed_a, rating_a)
    counted = listed(
        [f"{name} {num(a)} A × {num(factor)}" for name, a, factor in switch.factors if factor]
    )
    high_v = case.result.supply.high_v
    motor = case.motor_on(switch.id)
    relay = proposals.relay_for(
        case.plan.nominal_v, switch.needed_a, high_v, change_over=motor == "reversing"
    )
    if relay is not None and motor is not None:
        many = "change-over relays" if motor == "reversing" else "relays"
        remedy = (
            f"Let {switch.id} work two {many} rated {num(relay.contact_a)} A or more, one a "
            f"position; a coil takes at most {num(proposals.cold_coil_a(relay, high_v), 2)} A."
        )
    elif relay is not None:
        coil_a = proposals.cold_coil_a(relay, high_v)
        remedy = (
            f"Let {switch.id} work a relay rated {num(relay.contact_a)} A or more; its coil takes "
            f"at most {num(coil_a, 2)} A on {switch.id}, which carries {limit} A."
        )
    else:
        remedy = (
            f"No single relay offered suits {num(switch.needed_a)} A: split the load over two "
            f"relays that {switch.id} works together."
        )
    other = case.spare_switch(switch.needed_a, switch.id)
    if other is not None and motor is None:
        remedy += f" Or move {listed(list(switch.works))} to {other.id}, which has room."
    return RULE.finding(
        switch.id,
        f"{switch.id} needs a contact of {found} A ({counted}) and is rated {limit} A. Its contact "
        "burns or welds: it melts, or the load cannot be switched off.",
        remedy,
        found=switch.needed_a,
        limit=rating_a,
        unit="A",
        change=f"{switch.id} type relay",
        circuit=_circuit(case, switch),
    )


def _other(case: Case, switch: SwitchResult, usable_a: float) -> Finding:
    found, limit = ordered(switch.current_a, usable_a)
    circuit = _circuit(case, switch)
    if switch.type == "output":
        other = case.spare_switch(switch.current_a, switch.id)
        change = None
        if other is not None:
            remedy = (
                f"Move the load to {other.id}, which has {num(other.spare_a or 0.0)} A to spare."
            )
            if len(switch.works) == 1:
                change = f"{switch.works[0]} switch {other.id}"
        else:
            remedy = (
                f"Take {num(switch.current_a - usable_a)} A off {switch.id}, or let it work a "
                "relay that feeds the load from a panel."
            )
        return RULE.finding(
            switch.id,
            f"Output {switch.id} carries {found} A and may be used to {limit} A. It or its fuse "
            "overheats, or it switches off while in use.",
            remedy,
            found=switch.current_a,
            limit=usable_a,
            unit="A",
            change=change,
            circuit=circuit,
        )
    return RULE.finding(
        switch.id,
        f"{switch.id} is made for coils of up to {limit} A; those it works take {found} A when "
        "cold. Its contact welds or its electronics burn.",
        "Work fewer coils from it, or put one small relay between that works the others.",
        found=switch.current_a,
        limit=usable_a,
        unit="A",
        circuit=circuit,
    )


def _circuit(case: Case, switch: SwitchResult) -> str | None:
    circuits = case.circuits_of(switch.id)
    return circuits[0].id if len(circuits) == 1 else None
