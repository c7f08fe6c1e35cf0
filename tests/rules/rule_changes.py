"""Forms of a test case, and the changes to the base case that several of them share."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import base_case as b

from circuitplan.model import plan as p
from circuitplan.model import result as r
from circuitplan.rules.case import Case

Make = Callable[[Case], Case]


@dataclass(frozen=True)
class Fires:
    rule: str
    subject: str
    word: str
    fails: bool
    make: Make


@dataclass(frozen=True)
class Silent:
    rule: str
    make: Make


@dataclass(frozen=True)
class Skips:
    rule: str
    make: Make


def charger(case: Case, **changes: object) -> Case:
    made = replace(
        p.Charger("C1", "dc-dc", "battery", "house", output_a=30.0),
        **changes,  # type: ignore[arg-type]
    )
    batteries = (p.Battery("battery", type="agm"), p.Battery("house", type="lifepo4", trip_a=500.0))
    return b.planned_supply(case, chargers=(made,), batteries=batteries)


def link(case: Case, fuses: int) -> Case:
    made = b.circuit(
        9, "C1", accessories=(), panel="battery", drop=None, drops=(), fault=None,
        fuses=tuple(b.fuse(f"F2{i}", "9A") for i in range(fuses)),
        runs=(b.run("9A", "feed", "battery", "C1", protected_by="F20"),),
    )  # fmt: skip
    return b.with_result(charger(case), circuits=(*case.result.circuits, made))


def battery(case: Case, **changes: object) -> Case:
    first = replace(case.plan.supply.batteries[0], **changes)  # type: ignore[arg-type]
    return b.planned_supply(case, batteries=(first,))


def nominal(case: Case, volts: float, **supply: object) -> Case:
    return b.with_supply(b.with_plan(case, nominal_v=volts), **supply)


def scenarios(case: Case, **changes: object) -> Case:
    return b.with_supply(case, scenarios=(b.scenario(**changes),))


def days(case: Case, **changes: object) -> Case:
    return b.with_supply(case, days=(b.day(**changes),))


def run_for(case: Case, seconds: float) -> Case:
    plan = b.with_plan(
        case, scenarios=(p.Scenario("Evening", "off", 3600.0, (p.Running("Pump", None, seconds),)),)
    )
    return b.with_accessory(plan, 3, on_s=60.0, period_s=600.0)


def without_relay(case: Case) -> Case:
    return b.with_circuit(case, 2, relays=())


def output(case: Case, **changes: object) -> Case:
    made = b.with_switch(case, "S3", type="output")
    made = b.planned_switch(made, "S3", type="output", **changes)
    return b.with_fuse(made, 3, type="output", position="output S3")


def kind(case: Case, name: str, kind_: str) -> Case:
    return b.planned(case, name, kind=kind_)


def heavy_capacitive(case: Case, current_a: float) -> Case:
    return b.with_accessory(case, 2, contact_class="capacitive", current_a=current_a)


def loaded_panel(case: Case, ways: int | None) -> Case:
    made = b.with_panel(case, ways=ways)
    for number in (1, 2, 3):
        made = b.with_circuit(made, number, current_a=9.0)
    return made


def both_outputs(case: Case) -> Case:
    plan = b.with_plan(
        case, switches=(*case.plan.switches, p.Switch("S8", type="output", rating_a=20.0))
    )
    plan = b.planned_switch(plan, "S3", type="output")
    return b.with_circuit(plan, 3, switches=("S3", "S8"))


def more_feeds(case: Case, count: int) -> Case:
    made = tuple(b.circuit(20 + i, f"Extra {i}", panel="battery") for i in range(count))
    return b.with_result(case, circuits=(*case.result.circuits, *made))


CLAD = "copper-clad aluminium"
ASSUMED = r.Assumption("Fridge", "length one way", "5 m", "judgement", "judgement", ("D01",))


def reversed_by_relays(case: Case, needed_a: float = 10.0) -> Case:
    """The pump as a reversing motor on two relays of 40 A whose break contacts bear 30 A."""
    pair = tuple(
        b.relay(id=f"Q{n}", contact_a=40.0, break_a=30.0, needed_a=needed_a, at=at)
        for n, at in ((5, "up"), (6, "down"))
    )
    return b.with_circuit(b.with_accessory(case, 3, motor="reversing"), 3, relays=pair)


def connector(case: Case, **changes: object) -> Case:
    """A 2-way connector at the fridge of the base case: 15 A of contact, fuse of 15 A."""
    made = replace(
        r.Connector(
            id="X1", of="Fridge", what="2-way", standard=False, pieces=1, ways=2,
            rows=(("1", "2"),), rows_given=False,
            cavities=(
                r.Cavity("1", None, "feed", "1A", 4.0, "4 mm²", "RD"),
                r.Cavity("2", None, "return", "1N", 4.0, "4 mm²", "BN"),
            ),
            contact="6.3 mm blade", contact_ohm=0.0005, ambient_c=50.0, class_c=105.0,
            rating_a=15.0, rated_at_c=50.0, usable_a=15.0, current_a=5.0, least_mm2=0.5,
            most_mm2=6.0, takes_source="the plan", sealed=None, source="",
        ),
        **changes,  # type: ignore[arg-type]
    )
    return b.with_circuit(case, 1, connectors=(made,))


def socket_at_panel(case: Case, **changes: object) -> Case:
    """The same at the base case's panel, by its feeder of 16 mm² and fuse of 80 A."""
    wires = (
        r.Cavity("1", None, "feed", "P1A", 16.0, "16 mm²", "RD"),
        r.Cavity("2", None, "return", "P1N", 16.0, "16 mm²", "BN"),
    )
    made = connector(
        case, **({"of": "main", "cavities": wires, "most_mm2": 16.0} | changes)
    ).result.circuits[0].connectors[0]
    return b.with_panel(case, connector=made)
