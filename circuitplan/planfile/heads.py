"""Heads of columns: from the words people write to the keys of the plan."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from circuitplan import units
from circuitplan.model.record import record
from circuitplan.planfile.composite import LOAD_STATES
from circuitplan.planfile.fields import ACCESSORY, PANEL, SWITCH
from circuitplan.planfile.key_forms import Section
from circuitplan.planfile.tree import Spot, Troubles, listed, nearest
from circuitplan.planfile.values import Value

SWITCH_RATING = "switch rating"
"""A head of accessory lists alone: the rating of the row's switch, where no sheet holds it."""

_WIRE_WORDS = ("awg", "sae")
_SAME: Mapping[str, Mapping[str, str]] = {
    ACCESSORY.name: {
        "item": "name", "accessory": "name", "device": "name", "description": "name",
        "type": "kind", "what": "kind",
        "watts": "power W", "watt": "power W", "w": "power W", "wattage": "power W",
        "amps": "current A", "amp": "current A", "amperes": "current A", "a": "current A",
        "draw": "current",
        "volts": "rated_volts V", "volt": "rated_volts V", "v": "rated_volts V",
        "voltage": "rated_volts V",
        "qty": "quantity", "count": "quantity", "pcs": "quantity", "pieces": "quantity",
        "no.": "quantity", "how many": "quantity",
        "metres": "length m", "meters": "length m", "m": "length m", "feet": "length ft",
        "ft": "length ft", "length one way": "length", "one way": "length",
        "wire length": "length", "cable length": "length",
        "gauge": "size", "wire": "size", "wire size": "size", "cable": "size", "mm2": "size mm2",
        "mm²": "size mm2", "awg": "size AWG",
        "fuse size": "fuse", "fuse rating": "fuse",
        "location": "place", "where": "place", "position": "place",
        "switches": "switch", "switched by": "switch", "worked by": "switch",
        "notes": "note", "remark": "note", "remarks": "note", "comment": "note",
        "comments": "note",
        "switch rating": SWITCH_RATING, "switch amps": "switch rating A",
    },
    SWITCH.name: {
        "switch": "name", "amps": "rating A", "a": "rating A", "current": "rating",
        "rated": "rating", "location": "place", "where": "place",
    },
    PANEL.name: {
        "panel": "name", "amps": "rating A", "gauge": "size", "wire": "size", "metres": "length m",
        "location": "place", "where": "place", "length one way": "length", "from": "fed_from",
    },
}  # fmt: skip
"""Other words of the trade for a key, with the unit that they imply, by section."""


@record
class Cell:
    """One cell's text and where it stands."""

    text: str
    spot: Spot


@record
class Head:
    """What a column, or the key of a row, stands for: the path to a key, and its unit if named."""

    path: tuple[str, ...]
    unit: str | None = None


def other_words(section: Section) -> Mapping[str, str]:
    """Other words for the keys of a section, each with the key and the unit that it implies."""
    return _SAME.get(section.name, {})


def heads_of(section: Section, named: bool) -> str:
    """The heads that a table of this section may have, in a row."""
    names = [field.key for field in section.fields if isinstance(field.value, Value)]
    return listed(["name", *names] if named else names, 60)


def read_heads(
    row: Sequence[Cell],
    below: Sequence[Sequence[Cell]],
    section: Section,
    named: bool,
    troubles: Troubles,
) -> list[Head | None]:
    """The key of each column; None where a head is missing or means nothing (then noted, once)."""
    heads: list[Head | None] = []
    seen: dict[tuple[str, ...], str] = {}
    unknown: list[Cell] = []
    for index, cell in enumerate(row):
        column = [other[index].text for other in below if len(other) > index and other[index].text]
        if not cell.text:
            if column:
                troubles.add(cell.spot, "a column without a head", heads_of(section, named),
                             "give it a head, or delete the column")  # fmt: skip
            heads.append(None)
            continue
        head = find_head(cell.text, section, named)
        if head is None:
            unknown.append(cell)
        elif head.path in seen:
            troubles.add(
                cell.spot, f"the head '{cell.text[:40]}' for what '{seen[head.path]}' has",
                "each head once", "delete one of the two columns",
            )  # fmt: skip
            head = None
        elif cell.text.strip().lower() == "no." and _numbers_rows(column):
            troubles.add(
                cell.spot, "the head 'No.' above 1, 2, 3 ...", "quantity (how many) or number",
                "write 'number' if it is the circuit's number, 'quantity' if it is how many",
            )  # fmt: skip
        else:
            seen[head.path] = cell.text
        heads.append(head)
    if unknown:
        _tell_unknown(unknown, section, named, troubles)
    return heads


def _numbers_rows(column: Sequence[str]) -> bool:
    return len(column) > 2 and column == [str(n + 1) for n in range(len(column))]


def _tell_unknown(
    unknown: Sequence[Cell], section: Section, named: bool, troubles: Troubles
) -> None:
    """All unknown heads of a table in one problem, with the nearest right word of each."""
    words = [*(f.key for f in section.fields), *(("name",) if named else ())]
    parts, meant = [], []
    for number, cell in enumerate(unknown):
        where = f" ({cell.spot.cell})" if number and cell.spot.cell else ""
        parts.append(f"'{cell.text[:40]}'{where}")
        near = nearest(cell.text.lower(), words) if len(cell.text) > 3 else None
        if near:
            meant.append(near if len(unknown) == 1 else f"{near} for '{cell.text[:40]}'")
    what = "the unknown head" if len(parts) == 1 else "the unknown heads"
    remedy = "use one of these, or delete the column"
    if meant:
        remedy = f"did you mean {', '.join(meant)}?"
        if len(meant) < len(unknown):
            remedy += " Else delete the column"
    troubles.add(unknown[0].spot, f"{what} {', '.join(parts)}", heads_of(section, named), remedy)


def find_head(text: str, section: Section, named: bool = False) -> Head | None:
    """The key that a head means: ``Fed From``, ``power W``, ``Watts (each)``, ``lead size mm2``."""
    words = re.sub(r"[()\[\],:;]", " ", text).replace("_", " ").split()
    if len(words) > 1 and words[-1].lower() == "each":  # every figure of the list is of one piece
        words = words[:-1]
    found = _of_words(words, section, named)
    if found is None:
        same = _SAME.get(section.name, {})
        for cut in range(len(words), max(0, len(words) - 3), -1):  # then "wire length (in) m"
            meant = same.get(" ".join(words[:cut]).lower())
            unit = [w for w in words[cut:] if w.lower() != "in"]
            if len(unit) > 1:
                break
            if meant == SWITCH_RATING:
                return Head((SWITCH_RATING,), unit[0] if unit else None)
            if meant is not None and (not unit or _is_unit(unit[0])):
                plain = meant.split(" ")[0] if unit else meant
                found = find_head(f"{plain} {' '.join(unit)}", section, named)
                break
    return found


def _of_words(words: Sequence[str], section: Section, named: bool) -> Head | None:
    found = _path(words, section, named)
    if found:
        return Head(found)
    if len(words) > 1 and _is_unit(words[-1]):
        base = words[:-1]
        found = _path(base, section, named)
        if not found and base[-1].lower() == "in":
            found = _path(base[:-1], section, named)
        if found:
            return Head(found, words[-1])
    return None


def _path(words: Sequence[str], section: Section, named: bool) -> tuple[str, ...]:
    plain = [word.lower() for word in words]
    if named and plain == ["name"]:
        return ("name",)
    for joined in ("_".join(plain), " ".join(plain)):
        field = section.find(joined)
        if field is not None:
            return (field.key,)
    for cut in range(1, len(plain)):
        field = section.find("_".join(plain[:cut]))
        if field is None:
            continue
        if isinstance(field.value, Section):
            rest = _path(words[cut:], field.value, False)
            if rest:
                return (field.key, *rest)
        elif field.key == "vehicle_load" and " ".join(plain[cut:]) in LOAD_STATES:
            return (field.key, " ".join(plain[cut:]))
    return ()


def _is_unit(word: str) -> bool:
    return word.lower() in _WIRE_WORDS or any(units.knows(word, d) for d in units.DIMENSIONS)
