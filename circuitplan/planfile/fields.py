"""The words of a plan file: each section's keys, what they mean, and an example of each.

The reader, the JSON Schema and the tests all work from these tables. A key's ``target`` is the
field of the model that its value goes to; ``wire.`` targets are gathered into one ``WireSpec``.
"""

from __future__ import annotations

from typing import get_args

from circuitplan.model import plan as model
from circuitplan.planfile import composite, references, trade, values
from circuitplan.planfile.connector_fields import CONNECTOR
from circuitplan.planfile.key_forms import Field, Section
from circuitplan.planfile.wire_keys import FUSE_KEYS, WIRE_KEYS

_name, _text, _yes_no = values.name(), values.text(), values.yes_no()
_current, _drain = values.quantity("current"), values.quantity("current", zero=True)
_length, _way_long = values.quantity("length"), values.quantity("length", zero=True)
_ambient = values.quantity("temperature", most=300.0, least=-60.0)
_resistance = values.quantity("resistance", zero=True, most=1.0)
_place, _feed, _battery = (references.reference(s) for s in ("place", "feed", "battery"))
_live = values.choice(get_args(model.Live))
_back = values.choice(get_args(model.Return))
_speed, _force = values.quantity("speed"), values.quantity("force")

JOB = Section("job", "who and what the plan is for: the title block", (
    Field("number", "number", _text, "the shop's own number", "R-2231"),
    Field("owner", "owner", _text, "whose vehicle", "Ridge Rescue"),
    Field("vehicle", "vehicle", _text, "identification of the vehicle", "unit 7"),
    Field("by", "by", _text, "who made the plan", "J. K."),
    Field("approved_by", "approved_by", _text, "who approved it", "M. L."),
    Field("date", "date", trade.iso_date(), "ISO 8601", "2026-03-02"),
))  # fmt: skip

WIRE = Section("wire", "what all wires of the plan are, unless one says otherwise", (
    Field("gauge", "gauge", values.choice(get_args(model.Gauge)),
          "metric (ISO 6722), iec (IEC 60228), awg, or sae (thinner than awg)", "metric"),
    Field("insulation", "wire.insulation", trade.insulation(),
          "temperature class, with material if known", "105 °C"),
    Field("material", "wire.material", trade.material(), "what the conductors are", "copper"),
))  # fmt: skip

BATTERY = Section("battery", "a battery", (
    Field("type", "type", values.choice(get_args(model.BatteryType)), "its chemistry", "agm"),
    Field("capacity", "capacity_ah", values.quantity("charge"), "20 h capacity", "95 Ah"),
    Field("cranking", "cranking_a", _current, "cold cranking current at -18 °C", "850 A"),
    Field("place", "place", _place, "where it sits", "engine bay"),
    Field("resistance", "resistance_ohm", values.quantity("resistance"),
          "internal resistance, if measured", "4 mΩ"),
    Field("short_circuit", "short_circuit_a", _current,
          "short-circuit current, if its maker gives it", "4000 A"),
    Field("trip", "trip_a", _current, "current at which its own protection opens", "200 A"),
    Field("health", "health", values.percent(), "measured share of its new capacity", "80 %"),
), ("capacity",))  # fmt: skip

CHARGER = Section("chargers", "what charges one battery", (
    Field("type", "kind", values.choice(get_args(model.ChargerKind)), "what it is", "dc-dc",
          required=True),
    Field("from", "source", _battery, "the battery it draws from; none for solar and shore",
          "battery"),
    Field("to", "target", _battery, "the battery it charges", "battery", required=True),
    Field("output", "output_a", _current, "its output", "40 A"),
    Field("place", "place", _place, "where it sits", "bed"),
    Field("length", "length_m", _way_long, "wire length one way", "2.2 m"),
    *WIRE_KEYS, *FUSE_KEYS,
))  # fmt: skip

SPEEDS = Section("speeds", "alternator shaft speeds", (
    Field("idle", "idle_rpm", _speed, "at engine idle", "1500 r/min"),
    Field("high idle", "high_idle_rpm", _speed, "at raised idle", "2400 r/min", ("high_idle",)),
    Field("cruise", "cruise_rpm", _speed, "on the road", "5000 r/min"),
))  # fmt: skip
ENGINE_SPEEDS = Section("engine_speeds", "engine speeds, times the drive ratio", (
    Field("idle", "engine_idle_rpm", _speed, "at idle", "700 r/min"),
    Field("high idle", "engine_high_idle_rpm", _speed, "at raised idle", "1100 r/min",
          ("high_idle",)),
    Field("cruise", "engine_cruise_rpm", _speed, "on the road", "2200 r/min"),
))  # fmt: skip
LABEL_SPEEDS = Section("label_speeds", "shaft speeds of the label's figures (ISO 8854)", (
    Field("idle", "label_idle_rpm", _speed, "at which the idle figure was taken", "1500 r/min"),
    Field("rated", "label_rated_rpm", _speed, "at which the rated one was taken", "6000 r/min"),
))  # fmt: skip

ALTERNATOR = Section("alternator", "the alternator, as its label has it", (
    Field("rated", "rated_a", _current, "rated output", "180 A", required=True),
    Field("idle", "idle_a", _current, "output at idle speed", "95 A"),
    Field("hot", "hot", _yes_no, "yes if these are figures of a hot machine", "no"),
    Field("control", "control", values.choice(("engine computer", "regulator")),
          "what sets its voltage", "engine computer"),
    Field("speeds", "speeds", SPEEDS, "shaft speeds by engine state", "{idle: 1500 r/min}"),
    Field("label_speeds", "label_speeds", LABEL_SPEEDS, "shaft speeds of the label's figures",
          "{idle: 1500 r/min, rated: 6000 r/min}"),
    Field("ratio", "ratio", composite.ratio(), "drive ratio, shaft over engine", "2.7"),
    Field("engine_speeds", "engine_speeds", ENGINE_SPEEDS, "engine speeds by engine state",
          "{idle: 700 r/min}"),
    Field("curve", "curve", composite.alternator_curve(),
          "its maker's curve: a CSV beside the plan, columns shaft_rpm, output_a", "maker.csv"),
), ("rated",))  # fmt: skip

# ``batteries`` and ``chargers`` are keyed by name; sections.py reads them.
SUPPLY = Section("supply", "batteries, chargers, alternator, and what the vehicle itself takes", (
    Field("battery", "battery", BATTERY, "the battery that starts the engine", "70 Ah"),
    Field("alternator", "alternator", ALTERNATOR, "the alternator", "120 A"),
    Field("second_alternator", "second_alternator", ALTERNATOR, "a second one beside it", "100 A"),
    Field("vehicle_load", "vehicle_load_a", composite.vehicle_load(),
          "what the vehicle itself draws, by engine state, and parked",
          "{idle: 32 A, cruise: 45 A, parked: 35 mA}"),
    Field("starter", "starter_a", _current, "starter current", "250 A"),
    Field("idle_stop", "idle_stop", _yes_no, "yes if the engine stops at every halt", "no"),
    Field("battery_sensor", "battery_sensor", _yes_no,
          "yes if a current sensor sits on the battery's negative post", "yes"),
    Field("highest_volts", "high_v", values.volts(), "highest charging voltage, if known",
          "14.8 V", ("highest_voltage",)),
))  # fmt: skip

PLACE = Section("places", "places, and how hot it gets there", (
    Field("ambient", "ambient_c", _ambient, "hottest surroundings", "80 °C"),
    Field("insulation", "insulation", trade.insulation(),
          "temperature class of all wires there", "125 °C"),
), ("ambient",))  # fmt: skip

LEG = Section("legs", "the ways that a loom takes", (
    Field("from", "a", _place, "one end", "cab", required=True),
    Field("to", "b", _place, "the other end", "bed", required=True),
    Field("length", "length_m", _length, "how long", "3.1 m", required=True),
    Field("way", "way", values.choice(trade.WAYS), "what the loom lies in", "conduit"),
    Field("joints", "joints", values.whole(0, 50),
          "joints of the body that a chassis return crosses", "1"),
))  # fmt: skip

PANEL = Section("panels", "what feeds others: fuse panel, busbar, socket, converter", (
    Field("place", "place", _place, "where it sits", "cab"),
    Field("fed_from", "fed_from", _feed, "a panel or a battery", "battery"),
    Field("length", "length_m", _way_long, "feed length one way", "2.5 m"),
    *WIRE_KEYS, *FUSE_KEYS,
    Field("ways", "ways", values.whole(1, 200), "fuse positions", "12"),
    Field("rating", "rating_a", _current, "rated current", "150 A"),
    Field("output", "output_v", values.volts(), "output volts of a converter", "13.8 V"),
    Field("return", "back", _back, "wire or chassis", "wire"),
    Field("live", "live", _live, "when it has volts", "ignition"),
    Field("fuses", "fuses", values.choice(get_args(model.FuseType)), "its fuses' type", "C"),
    Field("cut_off", "cut_off_v", values.volts(), "low-voltage cut-off", "11.8 V"),
    Field("reconnect", "reconnect_v", values.volts(), "volts at which it comes back", "12.6 V"),
    Field("connector", "connector", CONNECTOR, "connector at its end of the wires", "2-way"),
))  # fmt: skip

LEAD = Section("lead", "a switch's or output's own lead", (
    *WIRE_KEYS, Field("length", "lead_m", _way_long, "its length", "0.4 m"),
), ("size", "length"))  # fmt: skip

SWITCH = Section("switches", "switches: direct carries the load, relay works one", (
    Field("label", "label", _name, "what is written on it", "Roof 1"),
    Field("type", "type", values.choice(get_args(model.SwitchType)),
          "direct; relay: works one; output: the vehicle's own; signal", "direct"),
    Field("rating", "rating_a", _current, "rated current", "20 A"),
    Field("motor", "motor_a", _current, "rated current for motors", "10 A"),
    Field("lamp", "lamp_a", _current, "rated current for filament lamps", "8 A"),
    Field("contact_volts", "contact_v", values.volts(), "volts its rating holds for", "14 V",
          ("contact_voltage",)),
    Field("place", "place", _place, "where it sits", "cab"),
    Field("fed_from", "fed_from", _feed, "the panel that feeds it", "battery"),
    *FUSE_KEYS,
    Field("lead", "lead", LEAD, "its own lead", "{size: 10 AWG, length: 0.4 m}"),
    Field("split", "split", _place, "place up to which what it works shares one wire", "bed"),
    Field("live", "live", _live, "when it has volts", "ignition"),
    Field("signal", "signal", _text, "the vehicle's signal that works it", "reverse lamp"),
    Field("momentary", "momentary", _yes_no, "yes if it springs back", "yes"),
    Field("solid_state", "solid_state", _yes_no, "yes if electronic", "yes"),
    Field("in_negative", "in_negative", _yes_no, "yes if it breaks the negative", "no"),
), ("rating",))  # fmt: skip

CIRCUIT = Section("circuits", "by number: what accessories with that number share", (
    Field("split", "split", _place, "place up to which they share one wire from their panel", "bed",
          required=True),
    *WIRE_KEYS, *FUSE_KEYS,
), ("split",))  # fmt: skip

ACCESSORY = Section("accessories", "what is fitted", (
    Field("name", "name", _name, "its name, once in the plan", "Work lamps", required=True),
    Field("number", "number", values.whole(1, 9999), "circuit number, for good", "12"),
    Field("kind", "kind", trade.kind(), "a kind of the tables, in any wording", "fridge"),
    Field("quantity", "quantity", values.whole(1, 999), "how many pieces", "4"),
    Field("power", "power_w", values.quantity("power"), "power of each, at its input", "45 W"),
    Field("current", "current_a", _current, "current of each", "3.8 A"),
    Field("rated_volts", "rated_v", values.volts(), "volts its figures hold for", "13.8 V",
          ("rated_voltage",)),
    Field("peak", "peak_a", _current,
          "largest current of each while it works, as a winch at full pull", "480 A"),
    Field("inrush", "inrush_a", _current,
          "largest current of each in the first moments after switching on", "60 A"),
    Field("load", "load", values.choice(get_args(model.LoadModel)),
          "how its current follows the volts", "constant power"),
    Field("motor", "motor", values.choice(get_args(model.Motor)),
          "how its switch, ON-OFF-ON, works a motor", "reversing"),
    Field("low_speed", "low_speed_a", _current, "current of each at low speed", "6 A"),
    Field("place", "place", _place, "where it sits", "bed"),
    Field("length", "length_m", _way_long, "wire length one way; rules over place", "4.2 m"),
    Field("tail", "tail_m", _way_long, "length of each after the splice", "0.7 m"),
    Field("return", "back", _back, "wire or chassis", "wire"),
    Field("fed_from", "fed_from", _feed, "a panel or a battery", "battery"),
    Field("switch", "switches", references.references("switch"), "any of them works it", "S3"),
    Field("needs", "needs", references.references("partner"), "works only together with", "S3"),
    Field("never_with", "never_with", references.references("partner"), "never together with",
          "Winch"),
    Field("drop", "drop", values.drop(), "allowed drop, % of nominal or volts", "3 %"),
    Field("min_voltage", "min_v", values.volts(), "least volts it works at", "10.5 V",
          ("min_volts",)),
    Field("live", "live", _live, "when it has volts", "always"),
    Field("parked", "parked_a", _drain, "drain of each when parked", "5 mA"),
    Field("duty", "duty", trade.duty(),
          "short-time running: time on in each cycle; else as its kind has it", "60 s in 10 min"),
    Field("dimmed", "dimmed", values.percent(), "share of the time on, if pulsed", "40 %"),
    *FUSE_KEYS,
    Field("isolator", "isolator_a", _current, "rating of a battery isolator before it", "500 A"),
    *WIRE_KEYS,
    Field("critical", "critical", _yes_no, "yes if lives hang on it", "yes"),
    Field("priority", "priority", values.whole(1, 9), "1 is kept longest when power is short",
          "2"),
    Field("momentary", "momentary", _yes_no, "yes if it must stop when let go", "yes"),
    Field("cut_out", "cut_out", _yes_no, "yes if it has its own thermal cut-out", "yes"),
    Field("earth", "earth", _name, "the earth point it uses", "left sill"),
    Field("contact_volts", "contact_v", values.volts(), "volts its own contacts are rated for",
          "14 V", ("contact_voltage",)),
    Field("pull", "pull_n", _force, "a winch's planned line pull, first rope layer", "20 kN"),
    Field("rated_pull", "rated_pull_n", _force, "line pull at its peak current", "42 kN"),
    Field("no_load", "no_load_a", _current, "current of a winch that pulls nothing", "70 A"),
    Field("connector", "connector", CONNECTOR, "connector at its end of the wires", "2-way"),
    Field("note", "note", _text, "kept with the plan, not used", "bought second-hand"),
))  # fmt: skip

SCENARIO = Section("scenarios", "what runs together, and for how long", (
    Field("name", "name", _name, "its name", "Search", required=True),
    Field("engine", "engine", values.choice(trade.ENGINE_STATES), "what the engine does", "idle"),
    Field("duration", "duration_s", values.quantity("time"), "how long", "3 h"),
    Field("running", "running", composite.running(), "share of the time, or time, of each",
          "{Winch: 4 min}"),
    Field("sun", "sun", values.percent(), "share of the solar chargers' output", "40 %"),
    Field("shore", "shore", _yes_no, "yes if the shore charger is plugged in", "yes"),
))  # fmt: skip

DAY = Section("days", "scenarios in a row", (
    Field("name", "name", _name, "its name", "Call", required=True),
    Field("order", "order", references.references("scenario"), "scenarios, first to last", "Search",
          required=True),
    Field("charge", "charge", values.percent(), "charge at the start", "90 %"),
    Field("temperature", "temperature_c", _ambient, "of the battery", "2 °C"),
))  # fmt: skip

ACCEPTED = Section("accepted", "findings that someone answers for; never a DANGER", (
    Field("rule", "rule", _name, "the rule's id", "F05", required=True),
    Field("subject", "subject", _name, "whom the finding is about", "Winch", required=True),
    Field("by", "by", _name, "who accepts it", "J. K.", required=True),
    Field("reason", "reason", _text, "why", "isolator in reach", required=True),
))  # fmt: skip

TOP = Section("plan", "the plan itself", (
    Field("circuitplan", "format", values.choice(("1",)), "the format of this file", "1",
          required=True),
    Field("title", "title", _text, "what the plan is called", "Ridge rescue pickup"),
    Field("revision", "revision", _text, "its revision", "B"),
    Field("practice", "practice", values.choice(trade.PRACTICES),
          "whose published thresholds hold", "rescue vehicle"),
    Field("system", "nominal_v", values.nominal(), "nominal voltage", "12 V"),
    Field("chassis", "chassis_ohm", _resistance, "measured return of the body", "5 mΩ"),
    Field("job", "job", JOB, "the title block", "{number: R-2231}"),
    Field("wire", "wire", WIRE, "what all wires are", "{gauge: metric, insulation: 105 °C}"),
))  # fmt: skip

LISTS = {s.name: s for s in (ACCESSORY, LEG, SCENARIO, DAY, ACCEPTED)}
NAMED = {s.name: s for s in (PLACE, PANEL, SWITCH, CIRCUIT)}
"""Sections that hold many entries: in a list, or keyed by name."""

APART = ("prices", "stock")
"""Sections of other forms: see ``price_list`` and ``shelf``."""

BATTERIES, CHARGERS = "batteries", "chargers"
"""Inside supply, keyed by name: further batteries, and chargers."""
