from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuitplan.physics.roots import bracketed


def test_agrees_with_an_independent_root_finder() -> None:
    """scipy.optimize.brentq on curves of the kinds that occur here."""
    optimize = pytest.importorskip("scipy.optimize")
    curves = [
        (lambda x: x**3 - 2.0, 0.0, 5.0),
        (lambda x: math.exp(x) - 1e3, 0.0, 50.0),
        (lambda x: x**1.25 + 1e-9 * x**4 - 700.0, 0.0, 600.0),
        (lambda x: math.atan(x - 3.0), -100.0, 200.0),
        (lambda x: x - 1e-9, -1.0, 1e6),
    ]
    for curve, low, high in curves:
        expected = optimize.brentq(curve, low, high, xtol=1e-12)
        assert bracketed(curve, low, high, 1e-10) == pytest.approx(expected, abs=2e-10)


@given(st.floats(-50.0, 50.0), st.floats(0.01, 100.0), st.integers(1, 7).filter(lambda n: n % 2))
def test_finds_the_root_of_any_odd_power(root: float, scale: float, power: int) -> None:
    found = bracketed(lambda x: scale * (x - root) ** power, -60.0, 61.0, 1e-7, 500)
    assert abs(found - root) <= 1e-6


def test_an_end_that_is_the_root_is_returned() -> None:
    assert bracketed(lambda x: x, 0.0, 1.0) == 0.0
    assert bracketed(lambda x: x - 1.0, 0.0, 1.0) == 1.0


def test_refuses_ends_of_one_sign() -> None:
    with pytest.raises(ValueError, match="no change of sign"):
        bracketed(lambda x: x * x + 1.0, -1.0, 1.0)
