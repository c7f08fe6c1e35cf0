from __future__ import annotations

import itertools

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitplan.physics.exclusion import LARGEST_GROUP, Exclusion, heaviest_rows, heaviest_sum


def brute_force(weights: np.ndarray, never: np.ndarray, must: int | None = None) -> float:
    best = 0.0
    for bits in itertools.product([False, True], repeat=len(weights)):
        on = np.array(bits)
        if never[np.ix_(on, on)].any() or (must is not None and not on[must]):
            continue
        best = max(best, float(weights[on].sum()))
    return best


@settings(max_examples=60)
@given(st.integers(1, 8), st.floats(0.0, 0.9), st.integers(0, 2**32 - 1))
def test_equals_trying_every_set(count: int, density: float, seed: int) -> None:
    rng = np.random.default_rng(seed)
    upper = np.triu(rng.random((count, count)) < density, 1)
    never = upper | upper.T
    weights = rng.random((count, count))
    assert np.isclose(heaviest_sum(weights[0], never), brute_force(weights[0], never))
    rows = heaviest_rows(weights, Exclusion.of(never))
    expected = [brute_force(weights[row], never, row) for row in range(count)]
    assert np.allclose(rows, expected)


def test_without_interlocks_it_is_the_plain_sum() -> None:
    weights = np.array([1.0, 2.0, 4.0])
    assert heaviest_sum(weights) == 7.0
    assert heaviest_sum(weights, np.zeros((3, 3), dtype=bool)) == 7.0


def test_one_side_of_a_pair_is_enough() -> None:
    never = np.array([[False, True], [False, False]])
    assert heaviest_sum(np.array([3.0, 5.0]), never) == 5.0


def test_a_group_too_large_to_enumerate_is_summed() -> None:
    """The safe side: as if all could be on."""
    count = LARGEST_GROUP + 1
    never = ~np.eye(count, dtype=bool)
    assert heaviest_sum(np.ones(count), never) == float(count)
    assert heaviest_sum(np.ones(LARGEST_GROUP), ~np.eye(LARGEST_GROUP, dtype=bool)) == 1.0
