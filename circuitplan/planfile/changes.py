"""Changes in the user's words ("Fridge size 6 mm2") to edits of the plan's text."""

from __future__ import annotations

import difflib
import re
from collections.abc import Sequence

from circuitplan.errors import InputError, Problem
from circuitplan.model.plan import Plan
from circuitplan.planfile import fields
from circuitplan.planfile.edits import Append, Change, Merge, Remove
from circuitplan.planfile.key_forms import Section
from circuitplan.planfile.scalars import Value
from circuitplan.planfile.splices import Path

CHOSEN = "chosen"
"""In place of a value: leave the key out, so that it is chosen again."""

_LISTS = ("switch", "needs", "never_with", "order")
_OF_THE_OLD_ONE = (
    "power", "current", "rated_volts", "rated_voltage", "peak", "inrush", "load", "duty",
    "min_voltage", "min_volts", "parked", "dimmed", "cut_out", "contact_volts", "contact_voltage",
    "pull", "rated_pull", "no_load", "motor", "low_speed",
)  # fmt: skip

Things = dict[str, tuple[Path, Section]]


def change(plan: Plan, words: str) -> list[Change]:
    """``NAME KEY VALUE``, or ``KEY VALUE`` of the plan itself, as edits.

    Raises InputError naming the nearest thing or key when the words fit none.
    """
    things = _things(plan)
    plain = " ".join(words.split())
    for name in sorted(things, key=len, reverse=True):
        if plain.casefold().startswith(name + " "):
            path, section = things[name]
            return _set(path, section, plain[len(name) :].strip(), words)
    if _key_in(plain, fields.TOP) is not None:
        return _set((), fields.TOP, plain, words)
    first = plain.split(" ")[0] if plain else ""
    near = difflib.get_close_matches(first.casefold(), things, n=1, cutoff=0.5)
    known = ", ".join(path[-1] for path, _ in things.values())
    raise _wrong(
        words, f"no name of the plan begins '{plain}'", known, _did_you_mean(near, "NAME KEY VALUE")
    )


def add(plan: Plan, words: str, options: dict[str, Value]) -> list[Change]:
    """A new accessory of a kind; ``NAME=KIND`` names it, else it is named after its kind."""
    name, _, kind = words.rpartition("=")
    taken = {a.name.casefold() for a in plan.accessories}
    if not name.strip():
        base = kind.strip()[:1].upper() + kind.strip()[1:]
        counted = (base if n == 1 else f"{base} {n}" for n in range(1, len(taken) + 2))
        name = next(n for n in counted if n.casefold() not in taken)
    elif name.strip().casefold() in taken:
        raise _wrong(words, f"there is a '{name.strip()}' already", "", "take another name")
    entry: dict[str, Value] = {"name": name.strip(), "kind": kind.strip(), **options}
    return [Append(("accessories",), entry)]


def swap(plan: Plan, words: str) -> list[Change]:
    """``NAME=KIND``: another kind in the place of an accessory; its old figures go."""
    name, equals, kind = words.partition("=")
    if not equals or not kind.strip():
        raise _wrong(words, "no '=' in it", 'NAME=KIND, as "Compressor=winch"', "")
    known = _accessory(plan, name.strip(), words)
    gone = [Remove(("accessories", known, key), missing_ok=True) for key in _OF_THE_OLD_ONE]
    return [Merge(("accessories", known), {"kind": kind.strip()}), *gone]


def remove(plan: Plan, words: str) -> list[Change]:
    """An accessory, or a switch, and every mention of it."""
    wanted = words.strip().casefold()
    switch = next((s.name for s in plan.switches if s.name.casefold() == wanted), None)
    if switch is not None:
        home: Path = ("switches", switch)
        name = switch
    else:
        name = _accessory(plan, words.strip(), words)
        home = ("accessories", name)
    mentions = [
        Remove(("accessories", a.name, key, name), missing_ok=True)
        for a in plan.accessories
        for key in ("switch", "needs", "never_with")
        if a.name != name
    ]
    running = [
        Remove(("scenarios", s.name, "running", name), missing_ok=True) for s in plan.scenarios
    ]
    return [*mentions, *running, Remove(home)]


def _set(path: Path, section: Section, rest: str, words: str) -> list[Change]:
    found = _key_in(rest, section)
    if found is None:
        keys = [field.key for field in section.fields]
        first = rest.split(" ")[0]
        near = difflib.get_close_matches(first.casefold(), keys, n=1, cutoff=0.5)
        raise _wrong(
            words, f"'{first}' is no key of {path[-1] if path else 'a plan'}", ", ".join(keys),
            _did_you_mean(near, "NAME KEY VALUE"),
        )  # fmt: skip
    key, value = found
    below = section.find(key)
    if below is not None and isinstance(below.value, Section) and _key_in(value, below.value):
        return _set((*path, key), below.value, value, words)
    if not value:
        example = below.example if below is not None else "a value"
        raise _wrong(words, f"no value for {key}", f"{key} {example}", f"or '{key} {CHOSEN}'")
    if value.casefold() == CHOSEN:
        return [Remove((*path, key), missing_ok=True)]
    several = re.split(r"\s*,\s*|\s*/\s*|\s+and\s+|\s+or\s+", value)
    if key in _LISTS and len(several) > 1:
        return [Merge(path, {key: several})]
    return [Merge(path, {key: value})]


def _key_in(words: str, section: Section) -> tuple[str, str] | None:
    """The longest key that ``words`` begin with, and the rest; spaces stand for underscores."""
    spellings = [(word, field.key) for field in section.fields for word in (field.key, *field.also)]
    for word, key in sorted(spellings, key=lambda pair: len(pair[0]), reverse=True):
        pattern = re.escape(word).replace("_", "[ _-]").replace(r"\ ", "[ _-]")
        match = re.match(rf"{pattern}(?:[ =:]+|$)", words, re.IGNORECASE)
        if match:
            return key, words[match.end() :].strip()
    return None


def _things(plan: Plan) -> Things:
    """Everything of the plan that has a name: folded name -> its path and its keys."""
    found: Things = {"wire": (("wire",), fields.WIRE), "job": (("job",), fields.JOB)}
    found["supply"] = (("supply",), fields.SUPPLY)
    found["battery"] = (("supply", "battery"), fields.BATTERY)
    found["alternator"] = (("supply", "alternator"), fields.ALTERNATOR)
    for battery in plan.supply.batteries:
        if battery.name != "battery":
            path = ("supply", fields.BATTERIES, battery.name)
            found[battery.name.casefold()] = (path, fields.BATTERY)
    for charger in plan.supply.chargers:
        path = ("supply", fields.CHARGERS, charger.name)
        found[charger.name.casefold()] = (path, fields.CHARGER)
    for circuit in plan.circuits:
        found[f"circuit {circuit.name}"] = (("circuits", circuit.name), fields.CIRCUIT)
    sections = (
        (plan.days, fields.DAY),
        (plan.scenarios, fields.SCENARIO),
        (plan.places, fields.PLACE),
        (plan.panels, fields.PANEL),
        (plan.switches, fields.SWITCH),
        (plan.accessories, fields.ACCESSORY),
    )
    for entries, section in sections:
        for entry in entries:
            found[entry.name.casefold()] = ((section.name, entry.name), section)
    return found


def _accessory(plan: Plan, name: str, words: str) -> str:
    names = {a.name.casefold(): a.name for a in plan.accessories}
    if name.casefold() in names:
        return names[name.casefold()]
    near = difflib.get_close_matches(name.casefold(), names, n=1, cutoff=0.5)
    raise _wrong(
        words, f"the plan has no accessory '{name}'", ", ".join(names.values()),
        _did_you_mean([names[n] for n in near], "use a name as the plan writes it"),
    )  # fmt: skip


def near(word: str, names: Sequence[str]) -> str | None:
    """The name that is nearest to a word, as the plan writes it; None if none is near."""
    folded = {name.casefold(): name for name in names}
    found = difflib.get_close_matches(word.casefold(), folded, n=1, cutoff=0.5)
    return folded[found[0]] if found else None


def is_key(words: str) -> bool:
    """Whether words begin with a key of an accessory."""
    return _key_in(words, fields.ACCESSORY) is not None


def top_key(words: str) -> bool:
    """Whether words begin with a key of the plan itself, or of its wire or title block."""
    sections = ("wire ", "job ", "supply ")
    return _key_in(words, fields.TOP) is not None or words.startswith(sections)


def _did_you_mean(near: Sequence[str], otherwise: str) -> str:
    return f"did you mean {near[0]}?" if near else otherwise


def _wrong(words: str, found: str, allowed: str, remedy: str) -> InputError:
    return InputError([Problem(f'change "{words}"', found, allowed, remedy)])
