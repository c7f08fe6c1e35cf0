"""The JSON Schema of a plan file, made from the tables that the reader works from."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from circuitplan.planfile import composite, fields
from circuitplan.planfile.key_forms import Field, Section
from circuitplan.planfile.values import Value

SHIPPED = Path(__file__).with_name("plan.schema.json")
"""The schema as shipped; a test keeps it in step, ``write`` makes it anew."""

_NAME = {"minLength": 1, "maxLength": 80}


def plan_schema() -> dict[str, Any]:
    """The schema of a plan file, JSON Schema draft 2020-12, as plain data.

    It tells an editor keys, forms and meanings. Names that must exist, sizes of the tables and
    the like are judged by the reader alone.
    """
    top = _section(fields.TOP)
    properties = top["properties"]
    supply = _section(fields.SUPPLY)
    supply["properties"][fields.BATTERIES] = _named(fields.BATTERY, "further batteries, by name")
    supply["properties"][fields.CHARGERS] = _named(fields.CHARGER, fields.CHARGER.doc + ", by name")
    properties["supply"] = supply
    for section in fields.NAMED.values():
        properties[section.name] = _named(section, section.doc)
    for section in fields.LISTS.values():
        item = _either(section)
        if section is fields.LEG:
            item = {"anyOf": [dict(composite.leg_parts().schema), item]}
        properties[section.name] = {"type": "array", "items": item, "description": section.doc}
    properties["stock"] = {
        "description": "wire sizes on the shelf: only these are chosen",
        "anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}}],
    }
    properties["prices"] = {
        "description": "a price list (.csv or .xlsx) beside the plan, for the parts list; "
        "anything else is kept and not used"
    }
    properties["circuitplan"]["enum"] = [1, "1"]
    top["required"] = [*top["required"], "accessories"]
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "circuitplan plan file, format 1",
        **top,
    }


def as_text() -> str:
    """The schema as it is shipped."""
    return json.dumps(plan_schema(), indent=1, ensure_ascii=False) + "\n"


def write() -> None:
    """Write the shipped file anew."""
    SHIPPED.write_text(as_text(), encoding="utf-8")


def _section(section: Section) -> dict[str, Any]:
    properties: dict[str, Any] = {}
    for field in section.fields:
        for word in (field.key, *field.also):
            properties[word] = _field(field)
    schema: dict[str, Any] = {
        "type": "object",
        "description": section.doc,
        "properties": properties,
        "additionalProperties": False,
    }
    required = [field.key for field in section.fields if field.required]
    if required:
        schema["required"] = required
    return schema


def _either(section: Section) -> dict[str, Any]:
    """A section, or the one value alone that may stand for it."""
    whole = _section(section)
    singles = [section.find(word) for word in section.short]
    forms = [dict(f.value.schema) for f in singles if f and isinstance(f.value, Value)]
    return {"anyOf": [whole, *forms]} if forms else whole


def _field(field: Field) -> dict[str, Any]:
    inner = _either(field.value) if isinstance(field.value, Section) else dict(field.value.schema)
    return inner | {"description": f"{field.doc} (as {field.key}: {field.example})"}


def _named(section: Section, doc: str) -> dict[str, Any]:
    return {
        "type": "object",
        "description": doc,
        "propertyNames": _NAME,
        "additionalProperties": _either(section),
    }


if __name__ == "__main__":
    write()
