"""Every key of the plan file reaches its field of the model."""

from __future__ import annotations

from dataclasses import fields as fields_of
from pathlib import Path

import pytest

from circuitplan.library import practices
from circuitplan.model import plan as model
from circuitplan.planfile import fields, read_text, trade
from circuitplan.planfile.key_forms import Field, Section
from circuitplan.planfile.tree import Node, Spot, Troubles
from circuitplan.planfile.values import Context, Value

WHOLE = """\
circuitplan: 1
title: Ridge rescue pickup
revision: 1.10
job: {number: 012, owner: Ridge Rescue, vehicle: VIN, by: J. K., approved_by: M, date: 2026-03-02}
practice: general
system: 24 V
wire: {gauge: sae, insulation: 105 °C, material: tinned copper}
chassis: 5 mΩ
supply:
  battery: {type: agm, capacity: 95 Ah, cranking: 850 A, place: engine bay, resistance: 4 mΩ,
            short_circuit: 4 kA, trip: 300 A}
  batteries: {house: {type: lifepo4, capacity: 100 Ah, place: bed}}
  chargers:
    C1: {type: dc-dc, from: battery, to: house, output: 40 A, place: bed, length: 2 m, size: 16 mm2,
         fuse: 60 A}
    C2: {type: solar, to: house, output: 8 A}
  alternator: {rated: 180 A, idle: 95 A, hot: no, control: engine computer,
               speeds: {idle: 1500 r/min, high idle: 2400 rpm, cruise: 5000 r/min},
               label_speeds: {idle: 1800 r/min, rated: 6000 r/min}}
  vehicle_load: {cruise: 45 A, idle: 32 A, parked: 35 mA, off: 2 A}
  starter: 250 A
  idle_stop: yes
  battery_sensor: Yes
  highest_volts: 29 V
places: {engine bay: 80 °C, cab: 45 °C, bed: {ambient: 113 F, insulation: 125 °C cross-linked}}
legs:
  - [engine bay, cab, 2.1 m, conduit, 1]
  - [Cab, bed, 3.1 m]
  - {from: bed, to: cab, length: 3.5 m, way: sheath, joints: 2}
panels:
  main: {place: CAB, fed_from: battery, size: 35 mm2, colour: red, fuse: 125 A E, ways: 12,
         rating: 150 A, fuses: C, return: wire, live: always, length: 3 m}
  reducer: {fed_from: Main, output: 13.8 V, rating: 20 A, breaker: 25 A}
  guarded: {fed_from: house, cut_off: 22 V, reconnect: 25 V}
switches:
  S1: {label: Roof 1, type: output, rating: 40 A, fuse: 40 A, lead: {size: 10 AWG, length: 0.4 m},
       live: ignition}
  S3: {type: direct, rating: 20 A, motor: 10 A, lamp: 5 A, place: cab, contact_volts: 28 V,
       fed_from: main, in_negative: no}
  S4: {type: relay, rating: 1 A, momentary: yes, solid_state: yes}
  S5: 30 A
  S6: {rating: 5 A, lead: 2.5 mm2}
  S7: {rating: 5 A, lead: 40 cm}
  reverse: {signal: reverse lamp, rating: 0.5 A}
accessories:
  - name: Work lamps
    number: 12
    kind: led lamp
    quantity: 4
    power: 45 W
    load: constant power
    rated_voltage: 13.8 V
    place: bed
    tail: 0.7 m
    return: chassis
    fed_from: main
    switch: [S4, REVERSE]
    needs: [S1]
    never_with: [Winch]
    drop: 3 %
    min_voltage: 10.5 V
    live: ignition
    parked: 5 mA
    dimmed: 40 %
    colour: BK/rd
    size: unknown
    outside: 3 mm
    insulation: 105 °C PVC
    material: cca
    parallel: 2
    critical: yes
    priority: 2
    momentary: no
    cut_out: yes
    earth: left sill
    contact_volts: 28 V
    inrush: 60 A
    note: seen, not used
  - {name: Winch, current: 250 A, peak: 480 A, duty: 60 s in 10 min, fed_from: battery, fuse: none,
     isolator: 500 A, length: 5 ft, drop: 1 V}
scenarios:
  - {name: Search, engine: high idle, duration: 3 h, running: {work lamps: 100 %, Winch: 4 min}}
  - {name: Wait, running: [Work lamps]}
days: [{name: Call, order: [search, Wait], charge: 90 %, temperature: 2 °C}]
accepted: [{rule: F05, subject: Winch, by: J. K., reason: isolator in reach, sleeved}]
prices: {2.5 mm2: 1}
stock: [1 mm2, 2.5 mm2, 10 SAE]
"""


def test_every_key_reaches_its_field() -> None:
    plan = read_text(WHOLE, "whole.yaml")
    assert (plan.title, plan.revision, plan.practice, plan.gauge) == (
        "Ridge rescue pickup", "1.10", "general", "sae",
    )  # fmt: skip
    assert plan.job == model.Job("012", "Ridge Rescue", "VIN", "J. K.", "M", "2026-03-02")
    assert (plan.nominal_v, plan.nominal_given, plan.chassis_ohm) == (24.0, True, 0.005)
    assert plan.wire == model.WireSpec(insulation_c=105.0, material="tinned copper")
    supply = plan.supply
    start, house = supply.batteries
    assert start == model.Battery(
        "battery", "agm", 95.0, 850.0, "engine bay", 0.004, 4000.0, 300.0, "whole.yaml, line 10"
    )
    assert (house.name, house.type, house.capacity_ah, house.place) == (
        "house", "lifepo4", 100.0, "bed",
    )  # fmt: skip
    c1, c2 = supply.chargers
    assert (c1.kind, c1.source, c1.target, c1.output_a, c1.place, c1.length_m) == (
        "dc-dc", "battery", "house", 40.0, "bed", 2.0,
    )  # fmt: skip
    assert c1.wire == model.WireSpec("metric", "16")
    assert c1.fuse == model.FuseSpec(60.0)
    assert (c2.kind, c2.source, c2.target) == ("solar", None, "house")
    assert supply.alternator == model.Alternator(
        180.0, 95.0, False, "engine computer", 1500.0, 2400.0, 5000.0, 1800.0, 6000.0,
        "whole.yaml, line 17",
    )  # fmt: skip
    assert supply.vehicle_load_a == (
        ("off", 2.0), ("idle", 32.0), ("cruise", 45.0), ("parked", 0.035),
    )  # fmt: skip
    assert (supply.starter_a, supply.idle_stop, supply.battery_sensor, supply.high_v) == (
        250.0, True, True, 29.0,
    )  # fmt: skip
    assert plan.supply_given
    assert [(p.name, p.ambient_c, p.insulation_c, p.insulation_material) for p in plan.places] == [
        ("engine bay", 80.0, None, None),
        ("cab", 45.0, None, None),
        ("bed", 45.0, 125.0, "cross-linked"),
    ]
    assert [(leg.a, leg.b, leg.length_m, leg.way, leg.joints) for leg in plan.legs] == [
        ("engine bay", "cab", 2.1, "conduit", 1),
        ("cab", "bed", 3.1, "open", 0),
        ("bed", "cab", 3.5, "sheath", 2),
    ]
    main, reducer, guarded = plan.panels
    assert (main.place, main.fed_from, main.ways, main.rating_a) == ("cab", "battery", 12, 150.0)
    assert main.wire == model.WireSpec("metric", "35", colour="RD")
    assert main.fuse == model.FuseSpec(125.0, "E")
    assert (main.fuses, main.back, main.live, main.length_m) == ("C", "wire", "always", 3.0)
    assert (reducer.fed_from, reducer.output_v, reducer.fuse) == (
        "main", 13.8, model.FuseSpec(25.0, "breaker"),
    )  # fmt: skip
    assert (guarded.fed_from, guarded.cut_off_v, guarded.reconnect_v) == ("house", 22.0, 25.0)


def test_every_key_of_switches_and_accessories() -> None:
    plan = read_text(WHOLE)
    s1, s3, s4, s5, s6, s7, reverse = plan.switches
    assert (s1.label, s1.type, s1.rating_a, s1.fuse, s1.live) == (
        "Roof 1", "output", 40.0, model.FuseSpec(40.0), "ignition",
    )  # fmt: skip
    assert (s1.lead, s1.lead_m) == (model.WireSpec("awg", "10"), 0.4)
    assert (s3.type, s3.motor_a, s3.lamp_a, s3.place, s3.contact_v, s3.fed_from) == (
        "direct", 10.0, 5.0, "cab", 28.0, "main",
    )  # fmt: skip
    assert (s4.type, s4.momentary, s4.solid_state, s4.in_negative) == ("relay", True, True, False)
    assert (s5.rating_a, s6.lead.size, s7.lead_m) == (30.0, "2.5", 0.4)
    assert (reverse.type, reverse.signal, reverse.rating_a) == ("signal", "reverse lamp", 0.5)
    lamps, winch = plan.accessories
    assert lamps == model.Accessory(
        name="Work lamps", number=12, kind="led lamp", quantity=4, power_w=45.0,
        load="constant power", rated_v=13.8, place="bed", tail_m=0.7, back="chassis",
        fed_from="main", switches=("S4", "reverse"), needs=("S1",), never_with=("Winch",),
        drop_percent=3.0, min_v=10.5, live="ignition", parked_a=0.005, dimmed=0.4,
        wire=model.WireSpec(
            unknown=True, colour="BK/RD", outer_mm=3.0, insulation_c=105.0,
            insulation_material="PVC", material="copper-clad aluminium", parallel=2,
        ),
        critical=True, priority=2, momentary=False, cut_out=True, earth="left sill",
        contact_v=28.0, inrush_a=60.0, where="plan.yaml, line 46",
    )  # fmt: skip
    assert (winch.current_a, winch.peak_a, winch.duty) == (250.0, 480.0, model.Duty(60.0, 600.0))
    assert (winch.fuse, winch.isolator_a, winch.length_m, winch.drop_v) == (
        model.FuseSpec(none=True), 500.0, 1.524, 1.0,
    )  # fmt: skip
    search, wait = plan.scenarios
    assert (search.engine, search.duration_s) == ("high idle", 10_800.0)
    assert search.running == (
        model.Running("Work lamps", share=1.0), model.Running("Winch", seconds=240.0),
    )  # fmt: skip
    assert wait.running == (model.Running("Work lamps", share=1.0),)
    (day,) = plan.days
    assert (day.order, day.charge, day.temperature_c) == (("Search", "Wait"), 0.9, 2.0)
    (accepted,) = plan.accepted
    assert (accepted.rule, accepted.subject, accepted.by, accepted.reason) == (
        "F05", "Winch", "J. K.", "isolator in reach, sleeved",
    )  # fmt: skip
    assert plan.unused == ("prices", "note")
    assert plan.stock == (("metric", "1"), ("metric", "2.5"), ("sae", "10"))


def _all() -> list[tuple[Section, Field]]:
    waiting = [
        fields.TOP, fields.SUPPLY, fields.CHARGER, *fields.LISTS.values(), *fields.NAMED.values(),
    ]  # fmt: skip
    found = []
    while waiting:
        section = waiting.pop()
        for field in section.fields:
            found.append((section, field))
            if isinstance(field.value, Section):
                waiting.append(field.value)
    return found


def _label(thing: Section | Field) -> str:
    return thing.key if isinstance(thing, Field) else thing.name


@pytest.mark.parametrize(("section", "field"), _all(), ids=_label)
def test_every_key_has_a_meaning_and_an_example_that_reads(
    section: Section, field: Field, tmp_path: Path
) -> None:
    assert field.doc
    if not isinstance(field.value, Value) or field.example.startswith("{"):
        return
    names = {"place": ["engine bay", "cab", "bed"], "switch": ["S3"], "scenario": ["Search"]}
    names |= {"feed": ["battery"], "battery": ["battery"], "partner": ["S3", "Winch"]}
    (tmp_path / "maker.csv").write_text("shaft_rpm,output_a\n1500,60\n6000,150\n")
    context = Context(Troubles(), folder=tmp_path)
    context.names = {sort: {n.casefold(): n for n in given} for sort, given in names.items()}
    found = field.value.read(Node(Spot("example"), text=field.example), field.key, context)
    assert not context.troubles.problems
    assert found is not None


@pytest.mark.parametrize(
    "made",
    [
        model.Job, model.Battery, model.Charger, model.Alternator, model.Supply, model.Place,
        model.Leg, model.Panel, model.Switch, model.Accessory, model.Scenario, model.Day,
        model.Accepted, model.WireSpec,
    ],
)  # fmt: skip
def test_every_field_of_the_model_can_be_said(made: type) -> None:
    said = {field.target.removeprefix("wire.") for _, field in _all()}
    said |= {"where", "name", "source", "batteries", "chargers"}  # made from keys and positions
    said |= {"insulation_c", "insulation_material", "unknown", "wire", "lead", "gauge"}
    said |= {"drop_percent", "drop_v"}
    said |= {"type_follows"}  # from what a switch works
    missing = {field.name for field in fields_of(made)} - said
    assert not missing


def test_words_agree_with_the_tables() -> None:
    assert practices.names() == trade.PRACTICES


def test_order_of_keys_does_not_matter() -> None:
    lines = WHOLE.split("\n")
    starts = [i for i, line in enumerate(lines) if line and line[0].isalpha()]
    blocks = [lines[a:b] for a, b in zip(starts, [*starts[1:], len(lines)], strict=True)]
    turned = "\n".join("\n".join(block).strip("\n") for block in reversed(blocks)) + "\n"
    a, b = read_text(WHOLE), read_text(turned)
    strip = {"sha256", "file"}
    for field in fields_of(model.Plan):
        if field.name in strip:
            continue
        left, right = repr(getattr(a, field.name)), repr(getattr(b, field.name))
        assert _without_lines(left) == _without_lines(right), field.name


def _without_lines(text: str) -> str:
    import re

    return re.sub(r"line \d+", "line", text)
