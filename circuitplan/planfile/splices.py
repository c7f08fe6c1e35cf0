"""A splice: the one way in which an edit touches a plan's text."""

from __future__ import annotations

from typing import TypeAlias

from circuitplan.model.record import record

Path: TypeAlias = tuple[str, ...]
"""Where a thing stands in a plan: ("accessories", "Fridge", "size")."""


@record
class Splice:
    """``text`` in place of what stands from ``start`` to before ``end``."""

    start: int
    end: int
    text: str
