"""What a section of keys and one key of it are; fields.py holds those of a plan."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from circuitplan.planfile.values import Value


@dataclass(frozen=True, slots=True, eq=False)
class Section:
    """A group of keys. ``short`` names the keys that a value standing alone may be meant for."""

    name: str
    doc: str
    fields: tuple[Field, ...]
    short: tuple[str, ...] = ()

    def find(self, key: str) -> Field | None:
        """The field of a key or of one of its other spellings."""
        return _index(self).get(key)


@dataclass(frozen=True, slots=True, eq=False)
class Field:
    """One key of a section; its value is one ``Value`` or a whole ``Section``."""

    key: str
    target: str
    value: Value | Section
    doc: str
    example: str
    also: tuple[str, ...] = ()
    required: bool = False


@cache
def _index(section: Section) -> dict[str, Field]:
    return {word: field for field in section.fields for word in (field.key, *field.also)}
