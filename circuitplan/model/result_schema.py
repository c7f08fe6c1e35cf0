"""The JSON Schema of a result, made from the result's own dataclasses."""

from __future__ import annotations

import json
import types
from dataclasses import fields, is_dataclass
from pathlib import Path
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints

from circuitplan.model.result import FORMAT, Result

SCHEMA = "https://json-schema.org/draft/2020-12/schema"
_PLAIN = {str: "string", float: "number", int: "integer", bool: "boolean", type(None): "null"}


def result_schema() -> dict[str, Any]:
    """JSON Schema (draft 2020-12) of ``--json``; every dataclass is one entry of ``$defs``."""
    defs: dict[str, Any] = {}
    _class(Result, defs)
    defs["Result"]["properties"]["format"] = {"const": FORMAT}
    return {
        "$schema": SCHEMA,
        "title": FORMAT,
        "description": "SI units, unit in the name; unknown is null.",
        "$ref": "#/$defs/Result",
        "$defs": dict(sorted(defs.items())),
    }


def _class(made: type, defs: dict[str, Any]) -> dict[str, Any]:
    if made.__name__ not in defs:
        defs[made.__name__] = {}  # taken, so that a ring of classes ends
        hints = get_type_hints(made)
        properties = {_key(f.name): _type(hints[f.name], defs) for f in fields(made)}
        defs[made.__name__] = {
            "type": "object",
            "properties": properties,
            "required": list(properties),
            "additionalProperties": False,
        }
    return {"$ref": f"#/$defs/{made.__name__}"}


def _key(name: str) -> str:
    """JSON says "from" where Python must say ``from_``."""
    return name.rstrip("_")


def _type(hint: Any, defs: dict[str, Any]) -> dict[str, Any]:
    origin, parts = get_origin(hint), get_args(hint)
    if hint in _PLAIN:
        return {"type": _PLAIN[hint]}
    if is_dataclass(hint) and isinstance(hint, type):
        return _class(hint, defs)
    if origin is Literal:
        return {"enum": list(parts)}
    if origin in (Union, types.UnionType):
        return {"anyOf": [_type(part, defs) for part in parts]}
    if origin is tuple:
        if len(parts) == 2 and parts[1] is Ellipsis:
            return {"type": "array", "items": _type(parts[0], defs)}
        return {
            "type": "array",
            "prefixItems": [_type(part, defs) for part in parts],
            "minItems": len(parts),
            "maxItems": len(parts),
        }
    if origin is dict:
        return {"type": "object", "additionalProperties": _type(parts[1], defs)}
    raise TypeError(f"no JSON Schema for {hint}")


def write() -> None:
    """Write the shipped file anew."""
    path = Path(__file__).with_name("result.schema.json")
    path.write_text(json.dumps(result_schema(), indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    write()
