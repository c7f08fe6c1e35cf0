from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuitplan.physics import fuses

# Gates of ISO 8820-3 (types C and E) and ISO 8820-5 (SF), all from memory.
C = ((1.1, 360000.0, None), (1.35, 0.75, 600.0), (1.6, 0.25, 50.0), (2.0, 0.15, 5.0),
     (3.5, 0.04, 0.5), (6.0, 0.02, 0.1))  # fmt: skip
E = ((1.1, 360000.0, None), (1.35, 60.0, 1800.0), (2.0, 2.0, 60.0), (3.5, 0.2, 7.0),
     (6.0, 0.04, 1.0))  # fmt: skip
SF = ((1.1, 14400.0, None), (1.35, 120.0, 1800.0), (2.0, 1.0, 15.0), (3.5, 0.3, 5.0),
      (6.0, 0.1, 1.0))  # fmt: skip
FAMILIES = {"C": C, "E": E, "SF": SF}
families = st.sampled_from(sorted(FAMILIES))


@pytest.mark.parametrize(
    ("family", "multiple", "melts_s", "clears_s"),
    [
        ("C", 1.35, 0.75, 600.0),
        ("C", 1.5, 0.284, 486.0),
        ("C", 2.0, 0.150, 5.0),
        ("C", 3.0, 0.054, 2.22),
        ("C", 3.5, 0.040, 0.50),
        ("C", 6.0, 0.020, 0.10),
        ("C", 12.0, 0.0025, 0.025),
        ("E", 1.5, 3.56, 1458.0),
        ("E", 1.8, 2.47, 1012.0),
        ("E", 2.0, 2.0, 60.0),
        ("E", 3.0, 0.27, 26.7),
        ("E", 6.0, 0.040, 1.0),
        ("SF", 1.5, 1.78, 1458.0),
        ("SF", 3.0, 0.41, 6.67),
        ("SF", 3.5, 0.30, 5.0),
    ],
)
def test_bounds_worked_apart_from_the_project(
    family: str, multiple: float, melts_s: float, clears_s: float
) -> None:
    gates = FAMILIES[family]
    assert fuses.melts_not_before_s(gates, multiple) == pytest.approx(melts_s, rel=0.02)
    assert fuses.clears_by_s(gates, multiple) == pytest.approx(clears_s, rel=0.002)


def test_outside_the_gates() -> None:
    assert fuses.clears_by_s(C, 1.34) == math.inf
    assert fuses.clears_by_s(C, 1000.0) == 0.010
    assert fuses.melts_not_before_s(C, 0.0) == math.inf
    assert fuses.melts_not_before_s(C, 1.0) == pytest.approx(360000.0 * 1.21)
    assert fuses.melts_not_before_s(C, 6.0001) == pytest.approx(0.01, rel=1e-3)


@given(families, st.floats(1.36, 40.0), st.lists(st.floats(0.0, 1.0), min_size=6, max_size=6))
def test_no_curve_through_the_gates_beats_the_bounds(
    family: str, multiple: float, shares: list[float]
) -> None:
    """Any fuse within its gates whose melting I^2 t does not fall as current falls stays within
    the bounds. Curve: at each gate a time between t_min and t_max, I^2 t monotone, steps between.
    """
    gates = [gate for gate in FAMILIES[family] if gate[2] is not None]
    floor = 0.0
    i2t: dict[float, float] = {}
    for (gate, t_min, t_max), share in zip(reversed(gates), shares, strict=False):
        assert t_max is not None
        low = max(t_min * gate**2, floor)
        i2t[gate] = floor = low + share * max(0.0, t_max * gate**2 - low)
    between = [gate for gate in sorted(i2t) if gate >= multiple]
    below = [gate for gate in sorted(i2t) if gate <= multiple]
    if between:
        least_s = i2t[between[0]] / multiple**2
        assert least_s >= fuses.melts_not_before_s(FAMILIES[family], multiple) * (1 - 1e-12)
    if below:
        most_s = i2t[below[-1]] / multiple**2
        assert most_s <= fuses.clears_by_s(FAMILIES[family], multiple) * (1 + 1e-12)


@given(families, st.floats(0.1, 50.0))
def test_melting_never_comes_after_clearing(family: str, multiple: float) -> None:
    gates = FAMILIES[family]
    assert fuses.melts_not_before_s(gates, multiple) <= fuses.clears_by_s(gates, multiple)


@given(families, st.floats(0.5, 50.0), st.floats(1.0, 3.0))
def test_more_current_never_clears_later(family: str, multiple: float, more: float) -> None:
    gates = FAMILIES[family]
    assert fuses.clears_by_s(gates, multiple * more) <= fuses.clears_by_s(gates, multiple)


def test_five_seconds_need_2_and_4_15_and_3_5_times_the_rating() -> None:
    found = [fuses.least_multiple_to_clear(gates, 5.0) for gates in (C, E, SF)]
    assert found == pytest.approx([2.0, 4.15, 3.5], abs=0.05)


@given(families, st.floats(0.011, 1000.0))
def test_least_multiple_is_where_clearing_is_in_time(family: str, seconds: float) -> None:
    gates = FAMILIES[family]
    least = fuses.least_multiple_to_clear(gates, seconds)
    assert fuses.clears_by_s(gates, least * (1 + 1e-9)) <= seconds * (1 + 1e-6)
    assert fuses.clears_by_s(gates, least * (1 - 1e-6)) > seconds * (1 - 1e-4)


def test_nothing_is_faster_than_10_ms() -> None:
    assert fuses.least_multiple_to_clear(C, 0.005) == math.inf


def test_a_motor_start_needs_a_slower_type_not_a_larger_rating() -> None:
    """25 A, 7 times, time constant 0.1 s: type C 40 A reads 1.99, type E 40 A 0.53 (computed
    elsewhere)."""
    assert fuses.decaying_inrush(C, 40.0, 25.0, 7.0, 0.1) == pytest.approx(1.99, abs=0.01)
    assert fuses.decaying_inrush(E, 40.0, 25.0, 7.0, 0.1) == pytest.approx(0.53, abs=0.01)


@given(families, st.floats(0.2, 1.05), st.floats(1.0, 15.0), st.floats(0.001, 2.0))
def test_inrush_integral_agrees_with_adding_up_small_steps(
    family: str, running: float, multiple: float, tau_s: float
) -> None:
    gates = FAMILIES[family]
    exact = fuses.decaying_inrush(gates, 10.0, running * 10.0, multiple, tau_s)
    if running * multiple <= 1.1:
        assert exact == 0.0
        return
    end_s = tau_s * math.log(running * (multiple - 1.0) / (1.1 - running))
    times = np.linspace(0.0, end_s, 4001)
    middle = 0.5 * (times[1:] + times[:-1])
    current = 10.0 * running * (1.0 + (multiple - 1.0) * np.exp(-middle / tau_s))
    steps = [(float(i), end_s / 4000.0) for i in current]
    assert exact == pytest.approx(fuses.ride_through(gates, 10.0, steps), rel=0.02, abs=1e-9)


def test_a_running_current_above_the_first_gate_melts_it_in_the_end() -> None:
    assert fuses.decaying_inrush(C, 10.0, 11.0, 2.0, 0.1) == math.inf
    assert fuses.decaying_inrush(C, 10.0, 5.0, 1.0, 0.1) == 0.0


@pytest.mark.parametrize(
    ("up", "down", "ratio"),
    [("C", "C", 3.2), ("E", "C", 2.25), ("SF", "C", 2.25), ("E", "E", 7.1), ("SF", "SF", 4.5)],
)
def test_selectivity_ratios(up: str, down: str, ratio: float) -> None:
    """Ratios worked apart from the project, rounded up there to the next 0.05 or 0.1."""
    found = fuses.selectivity_ratio(FAMILIES[up], FAMILIES[down])
    assert ratio - 0.1 < found <= ratio


@pytest.mark.parametrize(("family", "limit"), [("C", 6.0), ("E", 8.0), ("SF", 13.0)])
def test_limits_of_the_ratios(family: str, limit: float) -> None:
    assert limit <= fuses.selectivity_limit(FAMILIES[family]) < limit + 0.5


def test_without_gates_nothing_is_credited() -> None:
    """A breaker whose curve is not known."""
    assert fuses.melts_not_before_s((), 2.0) == 0.0
    assert fuses.clears_by_s((), 50.0) == math.inf
    assert fuses.ride_through((), 10.0, [(1.0, 1.0)]) == math.inf
    assert fuses.decaying_inrush((), 10.0, 5.0, 6.0, 0.1) == math.inf
    assert fuses.least_multiple_to_clear((), 5.0) == math.inf
    assert fuses.clearing_corners((), 10.0, 2.0, 500.0) == [(500.0, math.inf)]
    assert fuses.selectivity_ratio((), C) == fuses.selectivity_ratio(C, ()) == math.inf
    assert fuses.selectivity_limit(()) == 0.0
    assert not fuses.selective((), 100.0, C, 10.0, 200.0)
    assert not fuses.selective(C, 100.0, (), 10.0, 200.0)


@given(families, families, st.floats(1.0, 1.5), st.floats(2.0, 60.0))
def test_at_the_ratio_the_direct_check_agrees(
    up: str, down: str, more: float, fault: float
) -> None:
    up_gates, down_gates = FAMILIES[up], FAMILIES[down]
    ratio = fuses.selectivity_ratio(up_gates, down_gates) * more * (1 + 1e-9)
    fault_a = 10.0 * min(fault, ratio * fuses.selectivity_limit(up_gates) * (1 - 1e-9))
    assert fuses.selective(up_gates, 10.0 * ratio, down_gates, 10.0, fault_a)


def test_other_loads_and_near_faults_spoil_selectivity() -> None:
    assert fuses.selective(E, 60.0, C, 20.0, 400.0)
    assert not fuses.selective(E, 60.0, C, 20.0, 520.0)  # above 8.5 times 60 A: the 10 ms floor
    assert not fuses.selective(E, 60.0, C, 20.0, 400.0, other_a=200.0)
    assert not fuses.selective(C, 20.0, C, 20.0, 100.0)


@given(families, st.floats(1.0, 3.0), st.floats(2.0, 40.0), st.floats(0.0, 1.0))
def test_corners_hold_the_hottest_point(
    family: str, low: float, fault: float, share: float
) -> None:
    """I^2 t with a leak (a wire loses heat over time) is largest at a corner."""
    gates = FAMILIES[family]
    corners = fuses.clearing_corners(gates, 10.0, low, fault * 10.0)
    if fault < low:
        assert corners == []
        return
    multiple = low + share * (fault - low)
    seconds = fuses.clears_by_s(gates, multiple)

    def heating(current_a: float, seconds: float) -> float:
        return current_a**2 * 20.0 * -math.expm1(-seconds / 20.0)

    highest = max(heating(current_a, time_s) for current_a, time_s in corners)
    assert heating(10.0 * multiple, seconds) <= highest * (1 + 1e-9)
