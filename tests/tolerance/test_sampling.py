"""Quantiles, sums of lognormals, intervals and shares of variance."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from circuitplan.physics import sampling

U = np.linspace(0.001, 0.999, 97)


@pytest.mark.parametrize(("low", "middle", "high"), [(0.95, 1.05, 1.2), (-30, 0, 10), (1, 1, 2),
                                                      (1, 2, 2)])
def test_triangular_is_that_of_scipy(low: float, middle: float, high: float) -> None:
    """Independent library: scipy.stats.triang."""
    other = stats.triang((middle - low) / (high - low), low, high - low).ppf(U)
    assert sampling.triangular(U, low, middle, high) == pytest.approx(other, abs=1e-12)


def test_triangular_of_no_width_is_its_value_and_a_wrong_order_is_refused() -> None:
    assert sampling.triangular(U, 3.0, 3.0, 3.0) == pytest.approx(3.0)
    with pytest.raises(ValueError, match="ascend"):
        sampling.triangular(U, 1.0, 3.0, 2.0)


@given(st.floats(1e-4, 10.0), st.floats(1.0001, 30.0))
def test_lognormal_has_its_median_and_its_95_percent_point(median: float, ratio: float) -> None:
    """Independent library: scipy.stats.norm and lognorm."""
    found = sampling.lognormal_of(median, median * ratio)
    z = np.array([0.0, stats.norm.ppf(0.95)])
    assert found.at(z) == pytest.approx([median, median * ratio], rel=1e-9)
    assert found.mean == pytest.approx(stats.lognorm(found.sigma, scale=median).mean(), rel=1e-9)


def test_a_worst_value_below_the_median_is_a_constant_and_no_median_is_refused() -> None:
    assert sampling.lognormal_of(2.0, 1.0).sigma == 0.0
    with pytest.raises(ValueError, match="positive"):
        sampling.lognormal_of(0.0, 1.0)


def test_a_sum_of_lognormals_has_the_mean_the_variance_and_the_upper_tail_of_the_sum() -> None:
    """Against 400,000 sums drawn one by one: six crimps, a ring, two blades, a fuse, a relay."""
    parts = [
        (6, sampling.lognormal_of(0.125, 0.8)), (1, sampling.lognormal_of(0.05, 0.5)),
        (2, sampling.lognormal_of(0.25, 2.0)), (1, sampling.lognormal_of(1.6, 9.0)),
    ]
    found = sampling.sum_of(parts, 0.3)
    source = np.random.default_rng(7)
    drawn = np.full(400_000, 0.3)
    for count, part in parts:
        drawn += part.at(source.standard_normal((count, 400_000))).sum(axis=0)
    assert found.mean == pytest.approx(drawn.mean(), rel=0.01)
    assert found.third == pytest.approx(sum(n * p.third for n, p in parts), rel=1e-9)
    assert math.sqrt(found.variance) == pytest.approx(drawn.std(), rel=0.03)
    for share, room in ((0.75, 0.05), (0.9, 0.05), (0.95, 0.05), (0.99, 0.05), (0.999, 0.1)):
        z = np.array([stats.norm.ppf(share)])
        assert found.at(z)[0] == pytest.approx(np.quantile(drawn, share), rel=room)


def test_one_part_stays_itself_and_none_is_nothing() -> None:
    one = sampling.lognormal_of(1.0, 4.0)
    same = sampling.sum_of([(1, one)])
    assert (same.median, same.sigma) == pytest.approx((one.median, one.sigma))
    assert same.shift == pytest.approx(0.0, abs=1e-12)
    assert sampling.sum_of([], 0.2).at(np.array([-1.0, 2.0])).tolist() == [0.2, 0.2]


def test_correlated_scores_keep_their_spread_and_have_the_correlation() -> None:
    source = np.random.default_rng(3)
    day, places = source.standard_normal((1, 200_000)), source.standard_normal((2, 200_000))
    found = sampling.correlated(day, places, 0.5)
    assert found.std(axis=1) == pytest.approx([1.0, 1.0], abs=0.01)
    assert np.corrcoef(found)[0, 1] == pytest.approx(0.5, abs=0.01)


def test_interval_of_repeated_scramblings() -> None:
    """Mean and spread by hand: 16 chances, half 0.4 and half 0.5, Student's t of 15 is 2.131."""
    hits = np.array([400, 500] * 8)
    chance, low, high = sampling.chance_between(hits, 1000)
    half = 2.131 * math.sqrt(16 / 15) * 0.05 / 4.0
    assert (chance, low, high) == pytest.approx((0.45, 0.45 - half, 0.45 + half), rel=1e-6)


def test_no_failure_is_no_certainty() -> None:
    """3 in n, Hanley & Lippman-Hand, JAMA 249 (1983) 1743."""
    assert sampling.chance_between(np.full(16, 100), 100) == pytest.approx((1.0, 1 - 3 / 1600, 1.0))
    assert sampling.chance_between(np.zeros(16, int), 100) == pytest.approx((0.0, 0.0, 3 / 1600))


def test_first_order_shares_of_a_known_event() -> None:
    """x + y > 1, x and y uniform: E[event | x] = x, so each has (1/12)/(1/4) = 1/3; z has none."""
    x, y, z = np.random.default_rng(5).random((3, 2**17))
    event = np.flatnonzero(x + y > 1.0)
    counts = np.array([np.bincount((v[event] * 32).astype(int), minlength=32) for v in (x, y, z)])
    found = sampling.first_order_shares(counts.astype(float), 2**17 / 32, 0.5)
    assert found == pytest.approx([1 / 3, 1 / 3, 0.0], abs=0.01)
    assert sampling.first_order_shares(counts.astype(float), 2**17 / 32, 1.0) == pytest.approx(0.0)
