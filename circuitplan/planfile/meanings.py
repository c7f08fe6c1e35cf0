"""What a key of a plan file means, from the tables that the reader works from."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from circuitplan.model.record import record
from circuitplan.planfile import fields
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


def of_key(word: str) -> tuple[Meaning, ...]:
    """All meanings of a key, or of a section; none where no plan has that word."""
    plain = "_".join(word.lower().replace("-", " ").replace("_", " ").rstrip(":").split())
    found = [_meaning(s, f) for s in _INSIDE for f in s.fields if _is(f, plain)]
    found += [_of_section(s) for s in _INSIDE if s.name == plain and s is not fields.TOP]
    alike: dict[Meaning, list[str]] = {}  # the same words in several sections are said once
    for meaning in found:
        alike.setdefault(replace(meaning, sections=()), []).extend(meaning.sections)
    return tuple(replace(meaning, sections=tuple(homes)) for meaning, homes in alike.items())


def words() -> Iterator[str]:
    """Every word that ``of_key`` knows."""
    for section in _INSIDE:
        yield section.name
        yield from (f.key for f in section.fields)


def _is(field: Field, plain: str) -> bool:
    return plain in {w.replace(" ", "_") for w in (field.key, *field.also)}


def _meaning(section: Section, field: Field) -> Meaning:
    choices = field.value.schema.get("enum", ()) if isinstance(field.value, Value) else ()
    home = "the plan itself" if section is fields.TOP else section.name
    allowed = tuple(str(c) for c in choices if isinstance(c, str))
    return Meaning((home,), field.key, field.doc, f"{field.key}: {field.example}", allowed)


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
    return Meaning((), section.name, f"{section.doc}; its keys: {keys}", example, ())
