"""Printed numbers: few digits, never rounded to the optimistic side."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuitplan.report import show

values = st.floats(min_value=-1e6, max_value=1e6, allow_nan=False)


def number(text: str) -> float:
    return float(text.replace("−", "-"))


@given(values)
def test_loads_never_shrink_and_limits_never_grow(value: float) -> None:
    slack = 2e-9 * abs(value)
    assert number(show.up(value)) >= value - slack
    assert number(show.down(value)) <= value + slack
    room = max(1e-3, 0.011 * abs(value), 0.0) + 1e-3
    assert abs(number(show.up(value)) - value) <= room
    assert abs(number(show.down(value)) - value) <= room


@pytest.mark.parametrize(
    ("value", "up", "down"),
    [(0.3, "0.3", "0.3"), (0.1 + 0.2, "0.3", "0.3"), (12.345, "12.4", "12.3"),
     (123.4, "124", "123"), (-0.14, "−0.14", "−0.14"), (0.0, "0", "0"), (None, "–", "–"),
     (math.inf, "unlimited", "unlimited")],
)  # fmt: skip
def test_examples(value: float | None, up: str, down: str) -> None:
    assert show.up(value) == up
    assert show.down(value) == down


def test_times() -> None:
    assert show.hours(2.46) == "2.4 h"
    assert show.hours(0.5) == "30 min"
    assert show.hours(80.0) == "3 days"
    assert show.seconds(60.0) == "60 s"
    assert show.seconds(600.0) == "10 min"
    assert show.rating(7.5) == "7.5"
    assert show.rating(19.999999999999996) == "20"


def test_a_time_that_is_asked_for_is_not_rounded() -> None:
    assert show.asked_hours(100.0) == "100 h"
    assert show.asked_hours(0.25) == "15 min"
    assert show.asked_hours(None) == show.BLANK
