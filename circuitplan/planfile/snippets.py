"""A short piece of a plan in which one key stands as it is used: the examples of ``explain``."""

from __future__ import annotations

from collections.abc import Mapping

from circuitplan.planfile import fields

# Where a section stands, with what it needs beside the key that is shown.
_KEYS: Mapping[str, Mapping[str, str]] = {
    "alternator": {"rated": "180 A"},
    "chargers": {"type": "dc-dc", "from": "battery", "to": "bed battery"},
    "legs": {"from": "engine bay", "to": "cab", "length": "2 m"},
    "panels": {"place": "cab", "fed_from": "battery"},
    "switches": {"rating": "20 A"},
    "accessories": {"name": "Work lamps", "kind": "work lamp"},
    "scenarios": {"name": "Search", "engine": "idle", "duration": "3 h"},
    "days": {"name": "Call", "order": "Search"},
    "connector": {"ways": "2"},
    "circuits": {"split": "bed"},
    "accepted": {"rule": "F05", "subject": "Winch", "by": "J. K.", "reason": "isolator in reach"},
}
_NAMES = {"places": "engine bay", "panels": "Cab panel", "switches": "S3"}
_WINCH = ("peak", "pull", "rated_pull", "no_load", "isolator", "duty")
SHARED = "\n".join(("accessories:", *(
    f"  - {{name: {name}, kind: work lamp, place: bed, number: 3}}" for name in ("Left", "Right")
)))
BED = "batteries: {bed battery: {type: agm, capacity: 100 Ah}}"


def of_key(section: str, key: str, example: str) -> str:
    """Lines of a plan that hold ``key: example`` in its section, and what must stand beside it."""
    said = dict(_KEYS.get(section, {}))
    if section == "accessories" and key in _WINCH:
        said = {"name": "Winch", "kind": "winch"}
    if (section, key) == ("chargers", "to"):
        example = "bed battery"
    if (section, key) == ("switches", "signal"):
        said = {}
    if (section, key) == ("legs", "from"):
        said["to"] = "bed"
    if key in ("pull", "rated_pull"):
        said |= {"peak": "480 A", "rated_pull": "42 kN"}
    if key in ("motor", "low_speed") and section == "accessories":
        said = {"name": "Hatch", "motor": "two-speed", "current": "8 A", "switch": "S3"}
    if section == "connector":
        said = _connector(key)
    said[key] = example
    inside = "{" + ", ".join(f"{k}: {v}" for k, v in said.items()) + "}"
    if section == "plan":
        return f"{key}: {example}"
    if section in fields.LISTS:
        return f"{section}:\n  - {inside}"
    if section in _NAMES:
        return f"{section}:\n  {_NAMES[section]}: {inside}"
    if section == "circuits":
        return f"circuits:\n  3: {inside}\n{SHARED}"
    if section == "connector":
        return f"accessories:\n  - {{name: Work lamps, kind: work lamp, connector: {inside}}}"
    if section == "lead":
        return f"switches:\n  S3: {{rating: 20 A, lead: {inside}}}"
    if section in ("speeds", "label_speeds", "engine_speeds"):
        return f"supply:\n  alternator: {{rated: 180 A, {section}: {inside}}}"
    if section == "chargers":
        return f"supply:\n  {BED}\n  chargers:\n    Charger: {inside}"
    if section in ("battery", "alternator"):
        return f"supply:\n  {section}: {inside}"
    if section == "supply":
        return f"supply:\n  {key}: {example}"
    return f"{section}: {inside}"


def _connector(key: str) -> dict[str, str]:
    """What must stand beside a key of a connector."""
    if key == "kind":
        return {}
    ways = {"ways": "4" if key == "rows" else "2"}
    return ways | {"rating": "15 A"} if key == "rated_at" else ways


def of_section(section: str) -> str:
    """Lines of a plan that hold the section with what it needs."""
    whole = {
        "supply": "supply: {battery: 95 Ah, alternator: 120 A}",
        "job": "job: {number: R-2231, owner: Ridge Rescue}",
        "wire": "wire: {gauge: metric, insulation: 105 °C}",
        "battery": "supply:\n  battery: {type: agm, capacity: 95 Ah}",
        "batteries": f"supply:\n  {BED}",
        "speeds": "supply:\n  alternator: {rated: 180 A, speeds: {idle: 1500 r/min}}",
        "label_speeds": "supply:\n  alternator: {rated: 180 A, label_speeds: {idle: 1500 r/min}}",
        "lead": "switches:\n  S3: {rating: 20 A, lead: {size: 2.5 mm2, length: 0.4 m}}",
        "places": "places: {engine bay: 80 °C, cab: 45 °C}",
        "legs": "legs:\n  - [engine bay, cab, 2 m]\n  - [cab, bed, 3 m]",
        "stock": "stock: [1.5 mm2, 2.5 mm2, 6 mm2]",
        "prices": "prices: prices.csv",
    }
    if section in whole:
        return whole[section]
    first = next(iter(_KEYS.get(section, {"engine": ""})))
    if section == "engine_speeds":
        return of_key(section, "idle", "700 r/min")
    return of_key(section, first, _KEYS[section][first])
