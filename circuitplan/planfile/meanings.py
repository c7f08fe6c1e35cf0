"""What a key of a plan file means, from the tables that the reader works from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from difflib import get_close_matches

from circuitplan.model.record import record
from circuitplan.planfile import fields, snippets, trade_words
from circuitplan.planfile.connector_fields import CONNECTOR
from circuitplan.planfile.key_forms import Field, Section
from circuitplan.planfile.values import Value

_INSIDE = (
    fields.TOP, fields.JOB, fields.WIRE, fields.SUPPLY, fields.BATTERY, fields.ALTERNATOR,
    fields.SPEEDS, fields.LABEL_SPEEDS, fields.ENGINE_SPEEDS, fields.CHARGER, fields.PLACE,
    fields.LEG, fields.PANEL, fields.SWITCH, fields.LEAD, fields.CIRCUIT, fields.ACCESSORY,
    CONNECTOR,
    fields.SCENARIO, fields.DAY, fields.ACCEPTED,
)  # fmt: skip
"""Every section with keys, in the order of a plan."""

_KEYED = {s.name for s in (*fields.NAMED.values(), fields.CHARGER)}
_LISTED = set(fields.LISTS)


@record
class Meaning:
    """One key: the sections it stands in, what it means, an example line, what it takes."""

    sections: tuple[str, ...]
    key: str
    means: str
    example: str
    allowed: tuple[str, ...]  # the words it may have; empty where it is no choice of words
    takes: tuple[str, ...] = ()  # values as they may be written; empty where the example says all
    snippet: str = ""  # lines of a plan in which it stands


def of_key(word: str) -> tuple[Meaning, ...]:
    """All meanings of a key, or of a section, in singular or plural; none where there is none."""
    plain = _plain(word)
    for form in _forms(plain):
        found = [_meaning(s, f) for s in _INSIDE for f in s.fields if _is(f, form)]
        found += [_of_section(s) for s in _INSIDE if s.name == form and s is not fields.TOP]
        if form in _APART:
            found.append(_APART[form])
        if found:
            return _together(found)
    return ()


def alike(word: str) -> tuple[Meaning, ...]:
    """Meanings of the keys that people mean by another word: amps, reverse, lifepo4."""
    plain = _plain(word)
    found = []
    for section in _INSIDE:
        key, _ = trade_words.meant(plain, section)
        field = section.find(key) if key not in ("", "!") else None
        if field is not None:
            found.append(_meaning(section, field))
    if not found:
        spoken = plain.replace("_", " ")
        for section in _INSIDE:
            for field in section.fields:
                choices = _choices(field)
                said = {c.casefold() for c in choices} or set(field.example.casefold().split())
                if spoken in said or (len(choices) > 1 and _near_choice(spoken, choices)):
                    found.append(_meaning(section, field))
    return _together(found)


def near(word: str, also: Iterable[str] = (), most: int = 5) -> list[str]:
    """Keys, and words of ``also``, that are spelt much like a word; the nearest first."""
    known = {w.replace("_", " "): w for w in (*words(), *also)}
    return [known[w] for w in get_close_matches(_plain(word).replace("_", " "), known, most, 0.6)]


def _plain(word: str) -> str:
    return "_".join(word.lower().replace("-", " ").replace("_", " ").rstrip(":").split())


def _forms(plain: str) -> tuple[str, ...]:
    """A word, then its singular and its plural."""
    forms = [plain, f"{plain}s", f"{plain}es", plain.removesuffix("s"), plain.removesuffix("es")]
    if plain.endswith("y"):
        forms.append(f"{plain[:-1]}ies")
    if plain.endswith("ies"):
        forms.append(f"{plain[:-3]}y")
    return tuple(dict.fromkeys(form for form in forms if form))


def _near_choice(spoken: str, choices: tuple[str, ...]) -> bool:
    return any(spoken == c.casefold().replace("-", " ") for c in choices)


def _together(found: Iterable[Meaning]) -> tuple[Meaning, ...]:
    """The same words in several sections said once, with the snippet of the first."""
    alike: dict[Meaning, list[Meaning]] = {}
    for meaning in found:
        alike.setdefault(replace(meaning, sections=(), snippet=""), []).append(meaning)
    return tuple(
        replace(same[0], sections=tuple(home for one in same for home in one.sections))
        for same in alike.values()
    )


def sections() -> tuple[Section, ...]:
    """Every section with keys."""
    return _INSIDE


def words() -> Iterator[str]:
    """Every word that ``of_key`` knows."""
    for section in _INSIDE:
        yield section.name
        yield from (f.key for f in section.fields)
    yield from _APART


def _is(field: Field, plain: str) -> bool:
    return plain in {w.replace(" ", "_") for w in (field.key, *field.also)}


def _choices(field: Field) -> tuple[str, ...]:
    choices = field.value.schema.get("enum", ()) if isinstance(field.value, Value) else ()
    return tuple(str(c) for c in choices if isinstance(c, str))


def _meaning(section: Section, field: Field) -> Meaning:
    home = "the plan itself" if section is fields.TOP else section.name
    takes: tuple[str, ...] = ()
    if isinstance(field.value, Value) and not _choices(field):
        takes = tuple(str(e) for e in field.value.schema.get("examples", ()) if isinstance(e, str))
    return Meaning(
        (home,), field.key, field.doc, f"{field.key}: {field.example}", _choices(field), takes,
        snippets.of_key(section.name, field.key, field.example),
    )


def _of_section(section: Section) -> Meaning:
    keys = ", ".join(f.key for f in section.fields)
    first = "; ".join(f"{f.key}: {f.example}" for f in section.fields[:2])
    inside = "{" + first.replace("; ", ", ") + "}"
    if section.name in _LISTED:
        example = f"{section.name}: [{inside}]"
    elif section.name in _KEYED:
        example = f"{section.name}: {{NAME: {inside}}}"
    else:
        example = f"{section.name}: {inside}"
    return Meaning((), section.name, f"{section.doc}; its keys: {keys}", example, (), (),
                   snippets.of_section(section.name))


_APART = {
    m.key: m for m in (
        Meaning((), "stock", "wire sizes on the shelf: only these are chosen",
                "stock: [1.5 mm2, 2.5 mm2, 6 mm2]", (), (), snippets.of_section("stock")),
        Meaning((), "prices", "a price list (.csv or .xlsx) beside the plan, for the parts list; "
                "columns: what, size, colour, per, price, currency", "prices: prices.csv", (), (),
                snippets.of_section("prices")),
        Meaning(("supply",), "batteries", "further batteries, by name, each with the keys of "
                "battery: " + ", ".join(f.key for f in fields.BATTERY.fields), snippets.BED, (), (),
                snippets.of_section("batteries")),
    )
}  # fmt: skip
"""Sections that other readers read."""
