from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitplan.physics import network

EXPONENTS = [-1.0, 0.0, 0.55, 1.0, 1.65]


def loads(
    *rows: tuple[float, float, float],
) -> tuple[network.Floats, network.Floats, network.Floats]:
    """(rated_a, rated_v, exponent) rows as three arrays."""
    table = np.array(rows, dtype=float)
    return table[:, 0], table[:, 1], table[:, 2]


@st.composite
def networks(draw: st.DrawFn) -> tuple[network.Floats, ...]:
    """Z, rated currents and exponents of 2 to 5 loads sharing feed and return segments.

    Feed and return sharing are drawn apart, so that loads may share a return and no feed.
    """
    count = draw(st.integers(2, 5))
    segments = 2 * count + 2
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    paths = (rng.random((count, segments)) < 0.4).astype(float)
    ohm = rng.uniform(0.0, draw(st.sampled_from([0.004, 0.02, 0.06])), segments)
    rated_a = rng.uniform(0.5, 40.0, count)
    exponent = rng.choice(EXPONENTS, count)
    return network.port_matrix(paths, ohm), rated_a, exponent


def residual(point: network.OperatingPoint, emf_v: float, z: network.Floats) -> float:
    return float(np.abs(point.volts - (emf_v - z @ point.currents)).max())


def test_port_matrix_by_hand() -> None:
    """A and B share feed segment 0; B and C share return segment 3."""
    paths = np.array([[1.0, 1, 0, 0], [1, 0, 0, 1], [0, 0, 1, 1]])
    z = network.port_matrix(paths, np.array([1.0, 2.0, 4.0, 8.0]))
    assert z.tolist() == [[3.0, 1.0, 0.0], [1.0, 9.0, 8.0], [0.0, 8.0, 12.0]]


@given(st.floats(10.0, 60.0), st.floats(0.001, 0.5), st.floats(0.01, 0.999))
def test_constant_power_alone_has_a_closed_form(emf_v: float, ohm: float, share: float) -> None:
    """U = E/2 + sqrt(E^2/4 - P R), the high-voltage branch, for P below E^2/4R."""
    power_w = share * network.largest_constant_power_w(emf_v, ohm)
    point = network.solve(emf_v, np.array([[ohm]]), *loads((power_w / 12.0, 12.0, -1.0)))
    expected = emf_v / 2.0 + math.sqrt(emf_v**2 / 4.0 - power_w * ohm)
    assert point.found
    assert point.volts[0] == pytest.approx(expected, rel=1e-9)


@given(st.floats(10.0, 60.0), st.floats(0.001, 0.5), st.floats(1.001, 5.0))
def test_more_than_the_largest_power_collapses(emf_v: float, ohm: float, share: float) -> None:
    power_w = share * network.largest_constant_power_w(emf_v, ohm)
    point = network.solve(emf_v, np.array([[ohm]]), *loads((power_w / 12.0, 12.0, -1.0)))
    assert not point.found
    assert np.isnan(point.volts).all()
    assert point.share == pytest.approx(1.0 / share, abs=0.002)
    bound = network.guaranteed(emf_v, np.array([[ohm]]), *loads((power_w / 12.0, 12.0, -1.0)))
    assert not bound.found


@settings(max_examples=60)
@given(networks())
def test_solution_satisfies_both_laws(case: tuple[network.Floats, ...]) -> None:
    z, rated_a, exponent = case
    rated_v = np.full(len(rated_a), 12.0)
    point = network.solve(12.6, z, rated_a, rated_v, exponent)
    if point.found:
        assert residual(point, 12.6, z) < 1e-9
        drawn = rated_a * (point.volts / rated_v) ** exponent
        assert point.currents == pytest.approx(drawn, rel=1e-9)


@settings(max_examples=40)
@given(networks(), st.integers(0, 2**32 - 1))
def test_order_of_loads_does_not_matter(case: tuple[network.Floats, ...], seed: int) -> None:
    z, rated_a, exponent = case
    order = np.random.default_rng(seed).permutation(len(rated_a))
    rated_v = np.full(len(rated_a), 12.0)
    first = network.solve(12.0, z, rated_a, rated_v, exponent)
    second = network.solve(12.0, z[np.ix_(order, order)], rated_a[order], rated_v, exponent[order])
    assert first.found == second.found
    if first.found:
        assert second.volts == pytest.approx(first.volts[order], rel=1e-10)


@settings(max_examples=60)
@given(networks(), st.sampled_from([10.5, 12.0, 14.4]), st.booleans(), st.integers(0, 2**32 - 1))
def test_no_subset_is_ever_worse_than_the_bound(
    case: tuple[network.Floats, ...], emf_v: float, interlocked: bool, seed: int
) -> None:
    """All subsets of small networks, exponents -1 to 1.65, shared feeds and shared returns."""
    z, rated_a, exponent = case
    count = len(rated_a)
    rated_v = np.full(count, 12.0)
    never = None
    if interlocked:
        upper = np.triu(np.random.default_rng(seed).random((count, count)) < 0.35, 1)
        never = upper | upper.T
    bound = network.guaranteed(emf_v, z, rated_a, rated_v, exponent, never)
    if not bound.found:
        return
    for bits in itertools.product([False, True], repeat=count):
        on = np.array(bits)
        if never is not None and never[np.ix_(on, on)].any():
            continue
        point = network.solve(emf_v, z, rated_a, rated_v, exponent, on)
        assert point.found
        assert (point.volts[on] >= bound.volts[on] - 1e-9).all()
        assert (point.currents[on] <= bound.currents[on] + 1e-9).all()


def test_switching_a_load_off_can_lower_the_volts_of_another() -> None:
    """A (80 A constant power) and B (30 A heater) share a feeder, B and C an earth strap, nothing
    is common to all. C's volts are lowest with A off; the bound must hold there as well."""
    paths = np.array([[1.0, 0, 0, 0], [1, 1, 0, 0], [0, 1, 1, 0]])
    z = network.port_matrix(paths, np.array([0.02, 0.01, 0.03, 0.0]))
    three = loads((80.0, 12.0, -1.0), (30.0, 12.0, 1.0), (10.0, 12.0, -1.0))
    together = network.solve(12.0, z, *three)
    without_a = network.solve(12.0, z, *three, np.array([False, True, True]))
    assert without_a.volts[2] < together.volts[2]
    bound = network.guaranteed(12.0, z, *three)
    assert bound.volts[2] <= without_a.volts[2]


def test_constant_currents_make_the_bound_exact() -> None:
    z = np.array([[0.02, 0.01], [0.01, 0.03]])
    two = loads((10.0, 12.0, 0.0), (5.0, 12.0, 0.0))
    bound = network.guaranteed(12.0, z, *two)
    assert bound.volts == pytest.approx([12.0 - 0.25, 12.0 - 0.25])
    assert network.solve(12.0, z, *two).volts == pytest.approx(bound.volts)


def test_interlocks_lift_the_bound() -> None:
    """Two winches that never run together: the drop of one, not of both."""
    z = np.full((2, 2), 0.005)
    two = loads((200.0, 12.0, 0.0), (150.0, 12.0, 0.0))
    apart = np.array([[False, True], [True, False]])
    assert network.guaranteed(12.0, z, *two).volts == pytest.approx([10.25, 10.25])
    assert network.guaranteed(12.0, z, *two, apart).volts == pytest.approx([11.0, 11.25])


def test_interlocked_constant_power_that_together_would_collapse() -> None:
    z = np.full((2, 2), 0.05)
    two = loads((40.0, 12.0, -1.0), (40.0, 12.0, -1.0))
    apart = np.array([[False, True], [True, False]])
    assert not network.guaranteed(12.0, z, *two).found
    bound = network.guaranteed(12.0, z, *two, apart)
    alone = network.solve(12.0, np.array([[0.05]]), *loads((40.0, 12.0, -1.0)))
    assert bound.volts == pytest.approx([alone.volts[0]] * 2)


def test_least_current_raises_the_bound_and_never_lowers_it() -> None:
    """A motor of unknown kind: as constant power at low volts, as a fan at high volts."""
    z = np.array([[0.03]])
    motor = loads((20.0, 12.0, -1.0))
    fan_a = 20.0 * (14.4 / 12.0) ** 1.65
    free = network.guaranteed(14.4, z, *motor)
    held = network.guaranteed(14.4, z, *motor, None, np.array([fan_a]))
    low = network.guaranteed(8.0, z, *motor, None, np.array([21.0]))
    assert free.currents[0] < held.currents[0] == pytest.approx(fan_a)
    assert low.currents[0] == pytest.approx(network.guaranteed(8.0, z, *motor).currents[0])


def test_least_current_is_given_up_where_the_law_exceeds_it() -> None:
    """16.9 A is more than the motor draws at 14.4 V, but not behind 0.1 ohm."""
    z = np.array([[0.1]])
    motor = loads((20.0, 12.0, -1.0))
    free = network.guaranteed(14.4, z, *motor)
    bound = network.guaranteed(14.4, z, *motor, None, np.array([16.9]))
    assert bound.currents == pytest.approx(free.currents)
    assert bound.currents[0] > 19.0


def test_the_heaviest_set_is_found_at_the_currents_it_causes() -> None:
    """A (10 A) and B (9.9 A at full volts) exclude each other. B is the lighter at first sight,
    but its own thin wire makes it draw more, so L is worst off with B."""
    z = np.array([[0.05, 0.05, 0.05], [0.05, 0.05, 0.05], [0.05, 0.05, 0.25]])
    three = loads((10.0, 12.0, -1.0), (10.0, 12.0, 0.0), (9.9, 12.0, -1.0))
    apart = np.array([[False, False, False], [False, False, True], [False, True, False]])
    bound = network.guaranteed(12.0, z, *three, apart)
    with_b = network.solve(12.0, z, *three, np.array([True, False, True]))
    assert with_b.currents[2] > 10.0
    assert bound.currents[0] == pytest.approx(with_b.currents[0])
    assert bound.volts[0] == pytest.approx(with_b.volts[0])


def test_a_load_that_is_off_still_has_its_volts() -> None:
    z = np.array([[0.02, 0.01], [0.01, 0.03]])
    point = network.solve(
        12.0, z, *loads((10.0, 12.0, 0.0), (5.0, 12.0, 1.0)), np.array([True, False])
    )
    assert point.currents.tolist() == [10.0, 0.0]
    assert point.volts == pytest.approx([11.8, 11.9])


def test_nothing_to_feed() -> None:
    empty = np.zeros(0)
    assert network.guaranteed(12.0, np.zeros((0, 0)), empty, empty, empty).found
    assert network.solve(12.0, np.zeros((0, 0)), empty, empty, empty).found


def test_mixed_loads_agree_with_an_independent_solver() -> None:
    """scipy.optimize.root from the same start, tightly converged."""
    optimize = pytest.importorskip("scipy.optimize")
    rng = np.random.default_rng(11)
    for _ in range(20):
        count = int(rng.integers(2, 8))
        paths = (rng.random((count, 2 * count)) < 0.5).astype(float)
        z = network.port_matrix(paths, rng.uniform(0.0, 0.01, 2 * count))
        rated_a, rated_v = rng.uniform(1.0, 12.0, count), np.full(count, 12.0)
        exponent = rng.choice(EXPONENTS, count)
        point = network.solve(12.6, z, rated_a, rated_v, exponent)
        answer = optimize.root(
            lambda u, z=z, a=rated_a, v=rated_v, m=exponent: u - 12.6 + z @ (a * (u / v) ** m),
            np.full(count, 12.6),
            tol=1e-13,
        )
        assert point.found
        assert point.volts == pytest.approx(answer.x, rel=1e-9)


def test_fault_current_needs_a_resistance() -> None:
    assert network.fault_current(12.0, 0.004, 0.020) == pytest.approx(500.0)
    with pytest.raises(ValueError, match="not positive"):
        network.fault_current(12.0, 0.0, 0.0)
