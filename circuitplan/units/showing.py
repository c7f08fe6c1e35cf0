"""Plain floats to text, never rounded to the optimistic side where that is asked for."""

from __future__ import annotations

import math
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from typing import Literal

Toward = Literal["nearest", "up", "down"]

_SMALL = {"A": ("mA", 0.1), "V": ("mV", 0.1), "Ω": ("mΩ", 1.0)}


def show(value: float | None, unit: str, digits: int = 3, toward: Toward = "nearest") -> str:
    """``value`` with its unit: 35 mA, 13.8 V, 1234 W; ``digits`` significant, all whole ones kept.

    Use ``toward="down"`` for a limit that must not be passed and for times, ``"up"`` for demands.
    """
    if value is None:
        return "unknown"
    if value != value or abs(value) == float("inf"):
        return "no value" if value != value else "without limit" if value > 0 else "none"
    if unit in _SMALL and 0 < abs(value) < _SMALL[unit][1]:
        value, unit = value * 1000.0, _SMALL[unit][0]
    text = f"{_rounded(value, digits, toward):f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    text = "0" if text == "-0" else text
    return f"{text} {unit}" if unit else text


def round_up(value: float, digits: int = 3) -> float:
    """``value`` rounded to ``digits`` significant digits, never below itself (dust aside)."""
    return float(_rounded(value, digits, "up"))


def round_down(value: float, digits: int = 3) -> float:
    """``value`` rounded to ``digits`` significant digits, never above itself (dust aside)."""
    return float(_rounded(value, digits, "down"))


def _rounded(value: float, digits: int, toward: Toward) -> Decimal:
    # Twelve digits first: 30.000000000000004 is 30, and rounding it up must not give 30.1.
    exact = Decimal(f"{value:.12g}")
    if not exact:
        return Decimal(0)
    place = min(0, exact.adjusted() - digits + 1)
    how = {"nearest": ROUND_HALF_EVEN, "up": ROUND_CEILING, "down": ROUND_FLOOR}[toward]
    return exact.quantize(Decimal(1).scaleb(place), rounding=how)


LONGEST_SAID_H = 14 * 24.0
"""A battery time beyond this is said no closer: self-discharge and age rule there (judgement)."""


def show_hours(hours: float, beyond: str = "more than two weeks") -> str:
    """How long a battery lasts, in words, rounded down: 45 min, 7.5 h, 3 days; at most two weeks.

    From two days on in whole days; the exact figure is for the machine-readable result. [h]
    """
    if hours < 1.0:
        return f"{int(hours * 60.0 + 1e-9)} min"
    if hours < 48.0:
        return show(int(hours * 10.0 + 1e-9) / 10.0, "h", 4, "down")
    return beyond if hours > LONGEST_SAID_H else f"{int(hours / 24.0 + 1e-9)} days"


def show_days(days: float) -> str:
    """A time in days as in ``show_hours``, without its longest: 36 min, 7.5 h, 33 days. [d]"""
    return show_hours(days * 24.0, f"{int(days + 1e-9)} days")


def show_drain(current_a: float) -> str:
    """What is drawn for good, rounded up: whole mA below one ampere, 5.89 A from there. [A]"""
    if current_a < 1.0:
        return f"{math.ceil(current_a * 1000.0 * (1.0 - 1e-9))} mA"
    return show(current_a, "A", 3, "up")


def show_time(seconds: float | None) -> str:
    """A time in words, rounded down: 45 s, 12 min, 9 h 20 min, 3 days 4 h."""
    if seconds is None or seconds != seconds or seconds == float("inf"):
        return show(seconds, "")
    if seconds < 120:
        return show(seconds, "s", 2, "down")
    minutes = int(seconds * (1 + 1e-12)) // 60
    if minutes < 120:
        return f"{minutes} min"
    hours, minutes = divmod(minutes, 60)
    if hours < 48:
        return f"{hours} h {minutes} min" if minutes else f"{hours} h"
    days, hours = divmod(hours, 24)
    return f"{days} days {hours} h" if hours else f"{days} days"
