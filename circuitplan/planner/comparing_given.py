"""What two revisions of a plan say differently, in the plan's own keys, whatever comes of it.

Accessories, switches and panels that are new or gone are told by their names alone; names of
files, lines and the order of entries are no difference.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from typing import Any

from circuitplan.model.plan import Plan

_NOT_SAID = ("where", "file", "sha256", "revision", "unused", "nominal_given", "supply_given",
             "points")
_NAMED = ("accessories", "switches", "circuits", "panels", "places", "scenarios", "days")
_ONE_NAME = ("accessories", "switches", "panels")  # told as added or gone by the comparison
_UNITS = {
    "_ohm": "Ω", "_ah": "Ah", "_rpm": "r/min", "_mm2": "mm²", "_a": "A", "_v": "V", "_w": "W",
    "_m": "m", "_s": "s", "_c": "°C", "_n": "N",
}  # fmt: skip
_SORTS = {"accessories": "", "switches": "switch ", "circuits": "circuit ", "panels": "panel ",
          "places": "place ", "scenarios": "scenario ", "days": "day "}
_WORDS = {"nominal": "system", "back": "return", "size": "size"}

Said = tuple[str, str, str | None, str | None]
"""Subject, key, old and new value as words; None: not said."""


def given_changes(old: Plan, new: Plan) -> Iterator[Said]:
    """Every key whose value differs, by subject."""
    was, now = dict(_subjects(old)), dict(_subjects(new))
    for subject in dict.fromkeys((*was, *now)):
        before, after = was.get(subject), now.get(subject)
        if before is None or after is None:
            if not subject.startswith("*"):  # a place, leg, scenario, battery that is new or gone
                there = _short(before or after or {})
                yield (subject, "there", None if before is None else there,
                       None if after is None else there)
            continue
        for key in dict.fromkeys((*before, *after)):
            if before.get(key) != after.get(key):
                yield subject.lstrip("*"), key, before.get(key), after.get(key)


def _short(facts: Mapping[str, str | None]) -> str:
    said = [f"{key} {value}" for key, value in facts.items() if value is not None]
    return ", ".join(said[:3]) or "yes"


def _subjects(plan: Plan) -> Iterator[tuple[str, dict[str, str | None]]]:
    supply = plan.supply
    for section in _NAMED:
        for entry in getattr(plan, section):
            star = "*" if section in _ONE_NAME else ""
            yield f"{star}{_SORTS[section]}{entry.name}", dict(_facts(entry))
    for battery in supply.batteries:
        word = "" if battery.name == "battery" else "battery "
        yield f"{word}{battery.name}", dict(_facts(battery))
    for charger in supply.chargers:
        yield f"charger {charger.name}", dict(_facts(charger))
    for name in ("alternator", "second_alternator"):
        machine = getattr(supply, name, None)
        if machine is not None:
            yield name.replace("_", " "), dict(_facts(machine))
    yield "supply", {
        key: value for key, value in _facts(supply)
        if not key.startswith(("batteries", "chargers", "alternator", "second alternator"))
    }
    for leg in plan.legs:
        ends = " to ".join(sorted((leg.a, leg.b), key=str.casefold))
        yield f"leg {ends}", {k: v for k, v in _facts(leg) if k not in ("a", "b")}
    for accepted in plan.accepted:
        yield f"accepted {accepted.rule} {accepted.subject}", dict(_facts(accepted))
    whole = {
        key: value for key, value in _facts(plan)
        if not key.startswith((*_NAMED, "supply", "legs", "accepted"))
    }
    yield "plan", whole


def _facts(entry: Any, prefix: str = "") -> Iterator[tuple[str, str | None]]:
    for field in dataclasses.fields(entry):
        if field.name in _NOT_SAID or (field.name == "name" and not prefix):
            continue
        value = getattr(entry, field.name)
        if field.name == "curve" and isinstance(value, tuple):
            continue  # its file is told among those drawn in
        if field.name == "drawn_in":
            for one in value:
                yield f"file {one.name}", f"SHA-256 {one.sha256[:12]}"
            continue
        if dataclasses.is_dataclass(value) and not isinstance(value, type):
            yield from _facts(value, f"{prefix}{field.name} ")
            continue
        name, unit = _unit(field.name)
        yield f"{prefix}{name}", _text(value, unit)


def _unit(name: str) -> tuple[str, str]:
    for ending, unit in _UNITS.items():
        if name.endswith(ending):
            plain = name.removesuffix(ending).replace("_", " ")
            return _WORDS.get(plain, plain), unit
    plain = name.replace("_", " ")
    return _WORDS.get(plain, plain), ""


def _text(value: Any, unit: str) -> str | None:
    if value is None or value == ():
        return None
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return f"{value:.6g} {unit}".strip()
    if isinstance(value, Mapping):
        return ", ".join(f"{key} {_text(v, unit)}" for key, v in sorted(value.items()))
    if isinstance(value, tuple):
        parts = [
            _entry(v) if dataclasses.is_dataclass(v) else str(_text(v, unit)) for v in value
        ]
        return ", ".join(sorted(parts))
    return str(value)


def _entry(value: Any) -> str:
    return " ".join(text for _, text in _facts(value, " ") if text is not None)
