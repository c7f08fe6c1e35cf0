"""Numbers as printed: few digits, and never rounded to the optimistic side.

A load is rounded up, a limit down. Blank means that the result holds no value.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from circuitplan.units import show_hours

BLANK = "–"
_MINUS = "−"


def _digits(value: float, significant: int) -> int:
    """Decimal places that show ``significant`` digits of ``value``, none below zero."""
    if value == 0.0:
        return 0
    return max(0, significant - 1 - math.floor(math.log10(abs(value))))


def _text(value: float, places: int) -> str:
    text = f"{value:.{places}f}"
    if float(text) == 0.0:
        text = text.lstrip("-")
    return text.replace("-", _MINUS)


def up(value: float | None, places: int | None = None) -> str:
    """A load or a demand: rounded away from comfort, that is upwards."""
    return _rounded(value, places, math.ceil, -1)


def down(value: float | None, places: int | None = None) -> str:
    """A limit, a rating or a reserve: rounded downwards."""
    return _rounded(value, places, math.floor, 1)


def _rounded(
    value: float | None, places: int | None, toward: Callable[[float], int], sign: int
) -> str:
    if value is None:
        return BLANK
    if math.isinf(value) or math.isnan(value):
        return "unlimited" if value == math.inf else BLANK
    decimals = _digits(value, 3) if places is None else places
    decimals = min(decimals, 3)
    scale = 10.0**decimals
    # A hair of tolerance, so that 0.3 stored as 0.30000000000000004 prints as 0.3.
    shifted = value * scale * (1.0 + sign * math.copysign(1e-9, value))
    whole = toward(shifted)
    text = _text(whole / scale, decimals)
    if places is None and "." in text:
        text = text.rstrip("0").rstrip(".")
    return text


def near(value: float | None, places: int) -> str:
    """A value without a safe side: rounded to the nearest."""
    return BLANK if value is None else _text(value, places)


def rating(value: float | None) -> str:
    """A rating as stamped on the part: all its digits, none added."""
    return BLANK if value is None else _text(value, 6).rstrip("0").rstrip(".")


def words(value: str | None) -> str:
    """Text, or the blank sign where there is none."""
    return value if value else BLANK


def listed(values: tuple[str, ...] | list[str]) -> str:
    """Items with commas, or the blank sign where there are none."""
    return ", ".join(values) if values else BLANK


def hours(value: float | None) -> str:
    """A time the battery lasts, in plain words, rounded down."""
    if value is None:
        return BLANK
    if 10.0 <= value < 48.0:
        return f"{down(value, 0)} h"
    return show_hours(value)


def asked_hours(value: float | None) -> str:
    """A time that the plan asks for: not rounded, whatever its length."""
    if value is None:
        return BLANK
    return f"{rating(value * 60.0)} min" if value < 1.0 else f"{rating(round(value, 2))} h"


def seconds(value: float | None) -> str:
    """A stretch of time in seconds or minutes, as a person says it."""
    if value is None:
        return BLANK
    if value < 100.0:
        return f"{rating(round(value, 3))} s"
    return f"{rating(round(value / 60.0, 2))} min"
