"""Values written as YAML in one line."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from typing import TypeAlias

Value: TypeAlias = "str | Sequence[Value] | Mapping[str, Value]"

_NEVER_FIRST = "!&*?|>%@`'\"#,[]{}:"


def scalar(text: str) -> str:
    """One value as YAML: plain where that is safe in every style, else in double quotes."""
    plain = (
        bool(text)
        and text == text.strip()
        and text.isprintable()
        and text[0] not in _NEVER_FIRST
        and not (text[0] == "-" and text[1:2] in ("", " ", "-"))
        and not any(c in text for c in ",[]{}")
        and ": " not in text
        and " #" not in text
        and not text.endswith(":")
        and text.lower() not in ("null", "~", "...")
    )
    if plain:
        return text
    return json.dumps(text, ensure_ascii=False)


def render(value: Value) -> str:
    """A value in one line: scalar, ``[list]`` or ``{mapping}``."""
    if isinstance(value, str):
        return scalar(value)
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{scalar(k)}: {render(v)}" for k, v in value.items()) + "}"
    return "[" + ", ".join(render(v) for v in value) + "]"
