"""Words of the trade that people write for a key of the plan file, by section.

The heads of spreadsheets have a table of the same sort in ``heads``; both are looked in here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from circuitplan.planfile import heads
from circuitplan.planfile.key_forms import Section

# A key, with the unit that the word implies; or, after "!", what to write in its place.
_FED = dict.fromkeys(("feed", "feeds", "fed", "source", "from", "supply", "supplied_from"),
                     "fed_from")
_FUSED = dict.fromkeys(("fused", "fusing", "fuse_rating", "fuse_size", "fuse_amps"), "fuse A")
_WIRED = dict.fromkeys(
    ("gauge", "wire", "wire_size", "wire_gauge", "cable", "cable_size", "cross_section",
     "thickness"), "size",
) | dict.fromkeys(("wire_colour", "wire_color"), "colour")
_FAR = dict.fromkeys(("distance", "run", "run_length", "wire_length", "cable_length", "len"),
                     "length m")
_THERE = dict.fromkeys(("location", "where", "position", "mounted"), "place")
_LIVE = {"ignition": "!live: ignition", "always_on": "!live: always", "permanent": "!live: always"}
_RATED = dict.fromkeys(("amps", "amp", "amperes", "current", "rated", "max_current"), "rating A")
_WORDS: Mapping[str, Mapping[str, str]] = {
    "accessories": _FED | _FUSED | _WIRED | _FAR | _THERE | _LIVE | {
        "panel": "fed_from", "fuse_panel": "fed_from",
        "relay": "!a relay belongs to its switch: switches: {S1: {rating: 20 A, type: relay}}",
        "wattage": "power W", "amperage": "current A", "model": "kind", "product": "kind",
        "number_of": "quantity", "amount": "quantity",
        "surge": "inrush A", "inrush_current": "inrush A", "starting_current": "inrush A",
        "start_current": "inrush A", "startup": "inrush A",
        "peak_current": "peak A", "max_current": "peak A", "stall_current": "peak A",
        "standby": "parked A", "standby_current": "parked A", "quiescent": "parked A",
        "drain": "parked A", "duty_cycle": "duty", "voltage_drop": "drop", "max_drop": "drop",
        "ground": "return", "earth_return": "return", "ground_point": "earth",
        "earth_point": "earth", "circuit": "number", "isolator_rating": "isolator A",
    },
    "switches": _FED | _FUSED | _THERE | _LIVE | _RATED | {
        "relay": "!type: relay", "gauge": "!lead: {size: 2.5 mm2}",
        "size": "!lead: {size: 2.5 mm2}",
        "works": "!say it at the accessory: switch: S1",
        "loads": "!say it at the accessory: switch: S1",
        "accessories": "!say it at the accessory: switch: S1",
        "motor_amps": "motor A", "lamp_amps": "lamp A", "name": "label",
    },
    "panels": _FED | _FUSED | _WIRED | _FAR | _THERE | _LIVE | _RATED | {
        "slots": "ways", "positions": "ways", "circuits": "ways", "outlets": "ways",
        "number_of_ways": "ways", "voltage": "output V", "volts": "output V",
    },
    "battery": _THERE | {
        "ah": "capacity Ah", "amp_hours": "capacity Ah", "size": "capacity Ah",
        "cca": "cranking A", "cold_cranking": "cranking A", "cranking_amps": "cranking A",
        "chemistry": "type", "kind": "type",
        "volts": "!system: 12 V, for the whole plan",
        "voltage": "!system: 12 V, for the whole plan",
    },
    "chargers": _FUSED | _WIRED | _FAR | _THERE | {
        "amps": "output A", "current": "output A", "rating": "output A",
        "output_current": "output A",
        "source": "from", "fed_from": "from", "input": "from", "target": "to", "charges": "to",
        "battery": "to", "kind": "type",
    },
    "alternator": {
        "amps": "rated A", "output": "rated A", "rating": "rated A", "max": "rated A",
        "current": "rated A", "size": "rated A", "idle_amps": "idle A", "at_idle": "idle A",
        "idle_output": "idle A",
    },
    "supply": {
        "vehicle": "vehicle_load", "base_load": "vehicle_load", "vehicle_current": "vehicle_load",
        "second_battery": "!batteries: {bed battery: {type: agm, capacity: 100 Ah}}",
        "solar": "!chargers: {Solar: {type: solar, to: battery, output: 10 A}}",
    },
    "plan": {
        "voltage": "system V", "volts": "system V", "nominal": "system V", "name": "title",
        "rev": "revision", "version": "revision", "standard": "practice",
        "customer": "!job: {owner: ...}", "owner": "!job: {owner: ...}",
        "vehicle": "!job: {vehicle: ...}", "loads": "accessories", "circuits": "accessories",
        "equipment": "accessories", "devices": "accessories", "items": "accessories",
        "distances": "legs", "routes": "legs", "locations": "places", "zones": "places",
        "fuse_box": "panels", "fuse_panels": "panels", "busbars": "panels",
    },
    "scenarios": {
        "time": "duration", "hours": "duration h", "length": "duration", "state": "engine",
        "on": "running", "loads": "running", "run": "running", "accessories": "running",
    },
    "days": {"scenarios": "order", "sequence": "order", "steps": "order", "soc": "charge",
             "state_of_charge": "charge", "temp": "temperature"},
    "legs": {"distance": "length m", "start": "from", "end": "to", "a": "from", "b": "to"},
    "places": {"temp": "ambient °C", "temperature": "ambient °C", "heat": "ambient °C"},
    "accepted": {"finding": "rule", "who": "by", "why": "reason", "what": "subject",
                 "name": "subject"},
    "job": {"customer": "owner", "client": "owner", "registration": "vehicle", "plate": "vehicle",
            "vin": "vehicle", "job_number": "number", "author": "by", "drawn_by": "by"},
    "wire": {"size": "!size at each accessory", "type": "insulation"},
    "lead": _WIRED | _FAR,
}  # fmt: skip
_UNITS = {"a": "A", "w": "W", "v": "V", "m": "m", "mm": "mm", "ft": "ft", "ah": "Ah", "h": "h",
          "mm2": "mm2", "awg": "AWG", "c": "°C", "ma": "mA", "percent": "%"}  # fmt: skip


def meant(word: str, section: Section) -> tuple[str, str]:
    """(key, unit) that a word stands for, or ("!", what to write); ("", "") where it is none."""
    plain = "_".join(re.sub(r"[-_.]", " ", word.casefold()).split())
    said = _WORDS.get(section.name, {}).get(plain) or heads.other_words(section).get(
        plain.replace("_", " "), ""
    )
    if said.startswith("!"):
        return "!", said[1:]
    key, _, unit = said.partition(" ")
    if section.find(key) or (key and section.name == "plan"):
        return key, unit
    base, _, suffix = plain.rpartition("_")  # length_m
    if suffix in _UNITS and section.find(base):
        return base, _UNITS[suffix]
    return "", ""


def every() -> Iterator[tuple[str, str]]:
    """(section, word) of all words known here."""
    for section, words in _WORDS.items():
        yield from ((section, word) for word in words)


def remedy(word: str, given: str | None, section: Section) -> tuple[str, str] | None:
    """(what is allowed, what to write) for an unknown key, its own value kept; None if unknown."""
    key, unit = meant(word, section)
    if key == "!":
        allowed = f"the keys that 'circuitplan explain {section.name}' lists"
        return allowed, f"write {unit}" if ":" in unit.split(" ")[0] else unit
    field = section.find(key) if key else None
    if field is None:
        return (f"the section {key}", f"write {key}:") if key else None
    value = (given or "").strip()
    if not value or len(value) > 30:
        return f"{field.key}: {field.doc}", f"write {field.key}: {field.example}"
    if unit and re.fullmatch(r"\d+(?:\.\d+)?", value):
        value = f"{value} {unit}"
    return f"{field.key}: {field.doc}", f"write {field.key}: {value}"
