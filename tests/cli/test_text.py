"""Wrapping, tables and safe rounding."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuitplan.cli.terminal.text import Column, cells, clip, down, pad, seconds, table, up, wrap


@given(st.text(max_size=200), st.integers(10, 60))
def test_wrapped_lines_fit_and_lose_no_letter(text: str, width: int) -> None:
    lines = wrap(text, width, first="- ", rest="  ")
    assert all(cells(line) <= width for line in lines)
    kept = "".join(line[2:] for line in lines)
    assert "".join(kept.split()) == "".join(text.split())


@given(st.text(max_size=40), st.integers(1, 30), st.booleans())
def test_padding_is_exact(text: str, width: int, right: bool) -> None:
    assert cells(pad(text, width, right=right)) == width


def test_clipping_shows_that_it_clipped() -> None:
    assert clip("Compressor", 6) == "Compr…"
    assert clip("Fridge", 6) == "Fridge"
    assert clip("冷蔵庫", 4) == "冷…"


def test_a_table_gives_way_where_it_may() -> None:
    columns = (Column("Name", gives_way=True), Column("Current", right=True))
    rows = [("A very long name indeed, for sure", "12.5 A"), ("B", "1 A")]
    lines = table(columns, rows, width=24)
    assert lines == [
        "Name             Current",
        "A very long na…   12.5 A",
        "B                    1 A",
    ]


@pytest.mark.parametrize(
    ("value", "expected_up", "expected_down"),
    [(5.02, "5.1", "5.0"), (4.98, "5.0", "4.9"), (25.0, "25.0", "25.0"), (-2.31, "-2.3", "-2.4")],
)
def test_rounding_never_flatters(value: float, expected_up: str, expected_down: str) -> None:
    assert (up(value), down(value)) == (expected_up, expected_down)


def test_dust_is_no_reason_to_round() -> None:
    assert up(0.1 + 0.2) == "0.3"
    assert down(24.999999999999996) == "25.0"


@given(st.floats(0, 1e6))
def test_demands_go_up_and_capacities_down(value: float) -> None:
    assert float(up(value)) >= value * (1 - 1e-8)
    assert float(down(value)) <= value * (1 + 1e-8)


def test_times() -> None:
    assert [seconds(t) for t in (None, float("inf"), 0.0104, 3.95)] == [
        "never", "never", "11 ms", "4.0 s",
    ]  # fmt: skip
