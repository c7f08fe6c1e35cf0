"""Cases at the limit, where a rule stays silent, and cases that it skips."""

from __future__ import annotations

import base_case as b
from rule_changes import (
    CLAD,
    Silent,
    Skips,
    battery,
    charger,
    connector,
    days,
    heavy_capacitive,
    kind,
    link,
    loaded_panel,
    more_feeds,
    nominal,
    reversed_by_relays,
    run_for,
    scenarios,
    without_relay,
)

from circuitplan.model import plan as p

SILENT = [
    Silent("D01", lambda c: b.with_drop(c, 1, percent=5.0 * (1 + 1e-12))),
    Silent("A01", lambda c: b.with_run(c, "1A", thermal_a=30.0)),
    Silent("A01", lambda c: b.with_run(c, "3A", peak_c=105.0)),
    Silent("A01", lambda c: b.with_fuse(  # a winch: its duty is judged, not its steady current
        b.with_run(c, "3A", thermal_a=300.0, peak_c=104.0), 3, short_circuit_only=True)),
    Silent("F01", lambda c: b.with_fuse(c, 1, max_a=15.0)),
    Silent("F01", lambda c: b.with_fuse(c, 1, max_a=10.0, short_circuit_only=True)),
    Silent("F02", lambda c: b.with_fuse(c, 1, min_a=15.0)),
    Silent("F03", lambda c: b.with_fault(c, 1, clears_s=2.0)),
    Silent("F03", lambda c: b.with_fault(c, 1, band_peak_c=155.0)),
    Silent("F04", lambda c: b.with_main_fuse(c, breaking_capacity_a=4000.0)),
    Silent("F05", lambda c: b.with_circuit(c, 3, fuses=())),  # the fuse in front protects it
    Silent("F06", lambda c: b.with_main_fuse(c, distance_m=0.1778)),
    Silent("F06", lambda c: b.with_main_fuse(c, distance_m=1.016, sheathed=True)),
    Silent("F09", lambda c: b.with_fuse(c, 1, rides_through=0.7)),
    Silent("S01", lambda c: b.with_switch(c, "S3", needed_a=20.0)),
    Silent("S02", lambda c: b.with_circuit(c, 2, relays=(b.relay(needed_a=30.0),))),
    Silent("S02", lambda c: reversed_by_relays(c, needed_a=30.0)),
    Silent("M04", lambda c: b.with_accessory(c, 3, motor="reversing")),  # by its switch: it floats
    Silent("S03", lambda c: b.with_circuit(c, 2, relay_reason="lamps on two switches")),
    Silent("S05", lambda c: kind(without_relay(c), "Lamp", "winch")),  # brings its contactor
    Silent("S08", lambda c: connector(c, current_a=15.0)),
    Silent("S09", connector),
    Silent("S09", lambda c: b.by(connector(c, rating_a=18.75, usable_a=18.75), "rescue vehicle")),
    Silent("S10", lambda c: connector(c, least_mm2=4.0, most_mm2=4.0)),
    Silent("S07", lambda c: kind(b.with_fuse(c, 1, rating_a=15.0), "Fridge", "socket")),
    Silent("W04", lambda c: b.with_run(c, "1A", area_mm2=6.0)),
    Silent("S06", lambda c: b.with_panel(c, current_a=60.0)),
    Silent("B01", lambda c: scenarios(c, margin_percent=20.0)),
    Silent("B01", lambda c: scenarios(c, engine="off", margin_a=None, margin_percent=None)),
    Silent("B02", lambda c: scenarios(c, engine="off", hours_to_reserve=2.0)),
    Silent("B02", lambda c: b.with_supply(c, parked_a=0.05)),
    Silent("B04", lambda c: charger(c)),
    Silent("W02", lambda c: b.with_run(c, "1A", area_mm2=0.75, size="0.75 mm²", tube_factor=0.9)),
    Silent("R01", lambda c: b.with_accessory(c, 3, back="chassis", current_a=30.0)),
    Silent("T01", lambda c: b.with_run(c, "1A", ambient_c=85.0)),
    Silent("U02", lambda c: b.with_fuse(b.with_accessory(
        c, 3, contact_class="motor", inrush_known=False), 3, rating_a=10.0)),
    Silent("M01", lambda c: b.planned_switch(c, "S1", type="signal", signal="reverse lamp")),
    Silent("P01", lambda c: b.by(b.with_run(b.with_run(b.with_run(b.with_run(
        c, "P1A", ampacity_a=100.0), "P1N", ampacity_a=100.0), "1A", ampacity_a=18.75), "1N",
        ampacity_a=18.75), "rescue vehicle")),
    Silent("X02", lambda c: link(c, 2)),
    Silent("X04", lambda c: b.with_run(b.shared_circuit(c, "A", "B"), "3N", ampacity_a=15.0)),
    Silent("X09", lambda c: b.with_accessory(kind(c, "Fridge", "ventilator"), 1, min_v=8.0)),
    Silent("X10", lambda c: kind(c, "Fridge", "combustion heater")),
    Silent("X11", lambda c: kind(c, "Fridge", "bilge pump")),
    Silent("X12", lambda c: b.planned_panel(c, cut_off_v=11.8, reconnect_v=12.6)),
    Silent("X13", lambda c: b.with_accessory(c, 1, low_v=10.5)),
    Silent("X14", lambda c: charger(c)),
    Silent("X16", lambda c: b.planned_panel(
        nominal(b.planned(c, "Fridge", rated_v=12.0), 24.0), output_v=13.8)),
    Silent("X17", lambda c: nominal(b.planned_switch(c, "S3", contact_v=28.0), 24.0, high_v=28.8)),
    Silent("X19", lambda c: heavy_capacitive(c, 30.0)),
    Silent("X20", lambda c: b.with_accessory(kind(c, "Pump", "water pump"), 3, inrush_a=30.0)),
    Silent("X20", lambda c: b.planned(b.with_accessory(
        kind(c, "Pump", "water pump"), 3, inrush_a=20.0), "Pump", cut_out=True)),
    Silent("X22", lambda c: b.planned_switch(
        b.planned(c, "Pump", momentary=True), "S3", momentary=True)),
    Silent("X23", lambda c: run_for(c, 360.0)),
    Silent("X24", lambda c: b.with_switch(
        b.planned_switch(c, "S3", solid_state=True), "S3", rating_a=30.0)),
    Silent("X25", lambda c: battery(c, trip_a=30.0)),
    Silent("X27", lambda c: loaded_panel(c, 6)),
    Silent("X28", lambda c: b.with_fuse(
        b.with_circuit(c, 1, current_a=25.0), 1, rating_a=40.0, max_a=40.0)),
    Silent("X29", lambda c: b.with_circuit(c, 2, relays=(b.relay(coil_low_v=9.8),))),
    Silent("X31", lambda c: b.with_run(c, "1N", ampacity_a=14.0, length_m=0.17)),
    Silent("X32", lambda c: b.with_run(c, "1A", terminal_c=105.0)),
    Silent("X33", lambda c: b.with_run(c, "1A", material=CLAD, ambient_c=79.0)),
    Silent("X35", lambda c: more_feeds(c, 2)),
    Silent("X37", lambda c: b.with_panel(b.with_circuit(c, 1, live="ignition"), live="ignition")),
    Silent("X37", lambda c: b.planned_switch(
        b.with_circuit(c, 3, live="ignition"), "S3", type="signal", signal="ignition")),
    Silent("X36", lambda c: b.with_supply(c, high_v=60.0)),
]  # fmt: skip

SKIPS = [
    Skips("F01", lambda c: b.with_fuse(c, 1, max_a=None)),
    Skips("F04", lambda c: b.with_fuse(c, 1, breaking_capacity_a=None)),
    Skips("F09", lambda c: b.with_fuse(c, 1, rides_through=None)),
    Skips("S01", lambda c: b.with_switch(c, "S3", rating_a=None, usable_a=None)),
    Skips("S08", lambda c: connector(c, rating_a=None, usable_a=None)),
    Skips("S09", lambda c: connector(c, rating_a=None, usable_a=None)),
    Skips("S09", lambda c: b.with_fuse(connector(c), 1, short_circuit_only=True)),
    Skips("S10", lambda c: connector(c, least_mm2=None, most_mm2=None)),
    Skips("S06", lambda c: b.with_panel(c, usable_a=None)),
    Skips("B01", lambda c: scenarios(c, alternator_a=None, margin_a=None, margin_percent=None)),
    Skips("B02", lambda c: days(c, lowest_charge=None)),
    Skips("B04", lambda c: b.planned_supply(charger(c, kind="voltage relay"), alternator=None)),
    Skips("P01", lambda c: b.by(battery(c, cranking_a=None), "small craft")),
    Skips("X02", charger),
    Skips("X05", lambda c: b.with_result(c, circuits=())),
    Skips("X07", lambda c: c),
    Skips("X12", lambda c: b.planned_panel(c, cut_off_v=11.8)),
    Skips("X13", lambda c: b.with_accessory(c, 1, min_v=None)),
    Skips("X14", lambda c: battery(c, type=None)),
    Skips("X15", lambda c: c),
    Skips("X17", lambda c: nominal(c, 24.0, high_v=28.8)),
    Skips("X18", lambda c: b.with_fuse(c, 1, type="output")),
    Skips("X20", lambda c: kind(c, "Pump", "water pump")),
    Skips("X23", lambda c: b.with_accessory(b.with_plan(c, scenarios=(
        p.Scenario("Evening", "off", None, (p.Running("Pump", 0.5, None),)),)), 3, on_s=60.0)),
    Skips("X24", lambda c: b.with_switch(
        b.planned_switch(c, "S3", solid_state=True), "S3", rating_a=None)),
    Skips("X25", lambda c: battery(c, type="lifepo4")),
    Skips("X27", lambda c: loaded_panel(c, None)),
    Skips("X34", lambda c: c),
]  # fmt: skip
