"""A splice: the one way in which an edit touches a plan's text."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

Path: TypeAlias = tuple[str, ...]
"""Where a thing stands in a plan: ("accessories", "Fridge", "size")."""


@dataclass(frozen=True, slots=True)
class Splice:
    """``text`` in place of what stands from ``start`` to before ``end``."""

    start: int
    end: int
    text: str
