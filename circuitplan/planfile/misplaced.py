"""Sections that are misspelt, or stand in the wrong place: told once, then read as they are meant.

Without that, every name of a section that is not found would be told again where it is used.
"""

from __future__ import annotations

from dataclasses import replace

from circuitplan.planfile import fields
from circuitplan.planfile.tree import Node, Troubles, nearest

_SECTIONS = ("supply", "job", "wire", *fields.NAMED, *fields.LISTS)
_IN_SUPPLY = ("battery", "alternator", fields.BATTERIES, fields.CHARGERS)
_OTHER = {"charger": fields.CHARGERS}

Entries = tuple[tuple[Node, Node], ...]


def set_right(root: Node, troubles: Troubles) -> Node:
    """The tree with its sections under their own names; each that was not so is noted."""
    if root.entries is None:
        return root
    known = {field.key for field in fields.TOP.fields} | set(_SECTIONS) | set(fields.APART)
    there = {key.text for key, _ in root.entries}
    entries: list[tuple[Node, Node]] = []
    astray: list[tuple[Node, Node]] = []
    for key, value in root.entries:
        word = (key.text or "").strip()
        if word in known or value.text is not None:
            home = "" if word in known else _of_supply(word)
        else:
            home = _of_supply(word)
            right = "" if home else _section(word)
            if right and right not in there:
                _note(key, word, f"the section {right}", f"did you mean {right}?", troubles)
                key = replace(key, text=right)
                there.add(right)
        if home and not _holds(root, home):
            _note(key, word, "a key of supply", f"write it under supply: as {home}", troubles)
            astray.append((replace(key, text=home), value))
        else:
            entries.append((key, value))
    return replace(root, entries=_supplied(tuple(entries), tuple(astray), troubles))


def _section(word: str) -> str:
    from circuitplan.planfile.trade_words import meant  # for mistakes only

    key, _ = meant(word, fields.TOP)
    return key if key in _SECTIONS else nearest(word, _SECTIONS) or ""


def _of_supply(word: str) -> str:
    plain = word.casefold().replace(" ", "_")
    if plain in _IN_SUPPLY or plain in _OTHER:
        return _OTHER.get(plain, plain)
    return ""


def _holds(root: Node, key: str) -> bool:
    supply = root.get("supply")
    return supply is not None and supply.get(key) is not None


def _supplied(entries: Entries, astray: Entries, troubles: Troubles) -> Entries:
    """The entries, those astray put into supply, and the names within supply set right."""
    found: list[tuple[Node, Node]] = []
    for key, value in entries:
        if key.text == "supply" and value.entries is not None:
            own = {k.text for k, _ in value.entries}
            inner: list[tuple[Node, Node]] = []
            for one, held in value.entries:
                word = (one.text or "").strip()
                right = _OTHER.get(word.casefold()) or nearest(word, _IN_SUPPLY)
                lost = fields.SUPPLY.find(word) is None and word not in _IN_SUPPLY
                keyed = right in (fields.BATTERIES, fields.CHARGERS) and held.entries is not None
                if lost and right and keyed and right not in own:
                    _note(one, word, f"the key {right}", f"did you mean {right}?", troubles)
                    one = replace(one, text=right)
                inner.append((one, held))
            value = replace(value, entries=(*inner, *astray))
            astray = ()
        found.append((key, value))
    if astray:
        spot = astray[0][0].spot
        found.append((Node(spot, text="supply"), Node(spot, entries=astray)))
    return tuple(found)


def _note(key: Node, word: str, allowed: str, remedy: str, troubles: Troubles) -> None:
    troubles.add(key.spot, f"the unknown key '{word[:60]}'", allowed, remedy)
