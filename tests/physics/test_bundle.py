from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuitplan.physics import bundle, heat
from circuitplan.physics.resistance import COPPER_ALPHA

WIRE = (7.6e-3, COPPER_ALPHA, 2.2, 3.0, 5.5)
"""2.5 mm2 thin wall: ohm/m, 1/K, mm, mm, K m/W (ISO 6722-1; memory)."""
LOADINGS = (0.2, 0.4, 0.6, 0.8, 1.0)
SIX_WIRES = (0.85, 0.725, 0.655, 0.605, 0.5725)
"""MIL-W-5088L bundle figure, digitised (second-hand)."""


@pytest.mark.parametrize(
    ("wires", "published"),
    [(2, 0.825), (3, 0.725), (4, 0.66), (6, 0.5725), (9, 0.485), (12, 0.43), (19, 0.3425)],
)
def test_heated_cylinder_agrees_with_the_published_full_load_factor(
    wires: int, published: float
) -> None:
    """MIL-W-5088L, 100 % column (second-hand), within 6 % for full 2.5 mm2 wires at 105 C."""
    single_a = heat.ampacity_a(*WIRE, 105.0, 30.0)
    each_a = bundle.heated_cylinder_ampacity_a(wires, *WIRE, 105.0, 30.0)
    assert each_a / single_a == pytest.approx(published, rel=0.06)


def test_one_wire_is_a_single_wire() -> None:
    """The body's own drop is larger than that of thin insulation, so one wire reads a bit low."""
    single_a = heat.ampacity_a(*WIRE, 105.0, 30.0)
    assert 0.9 * single_a < bundle.heated_cylinder_ampacity_a(1, *WIRE, 105.0, 30.0) <= single_a


def test_enclosed_factors_on_a_free_air_base_are_unsafe() -> None:
    """Six full wires at 0.8 of free air, as an enclosed table would have it, overheat badly:
    the current for which 105 C wire would reach some 200 C."""
    single_a = heat.ampacity_a(*WIRE, 105.0, 30.0)
    at_200 = bundle.heated_cylinder_ampacity_a(6, *WIRE, 202.0, 30.0)
    assert 0.8 * single_a == pytest.approx(at_200, rel=0.02)


def test_loading_has_a_floor_and_a_meaning() -> None:
    assert bundle.loading(55.2, 276.0) == pytest.approx(0.2)
    assert bundle.loading(1.0, 276.0) == 0.2
    assert bundle.loading(300.0, 276.0) > 1.0
    with pytest.raises(ValueError, match="not positive"):
        bundle.loading(1.0, 0.0)


def test_factor_is_linear_between_columns() -> None:
    assert bundle.factor_at(LOADINGS, SIX_WIRES, 0.5) == pytest.approx(0.69)
    assert bundle.factor_at(LOADINGS, SIX_WIRES, 0.1) == 0.85
    assert bundle.factor_at(LOADINGS, SIX_WIRES, 1.3) == 0.5725


def test_factor_and_loading_settle_on_each_other() -> None:
    """Six wires of 2.5 mm2 and 80 A in sum: 0.61, where loading by ambient alone says 0.70."""
    factor, load = bundle.settled_factor(80.0, 6 * 27.7, LOADINGS, SIX_WIRES)
    assert factor == pytest.approx(0.61, abs=0.005)
    assert bundle.factor_at(LOADINGS, SIX_WIRES, load) == pytest.approx(factor)
    assert load == pytest.approx(80.0 / (factor * 6 * 27.7))


@given(st.floats(0.0, 300.0), st.floats(0.0, 30.0), st.floats(10.0, 400.0))
def test_more_current_never_raises_the_factor(
    current_a: float, more_a: float, ampacity_a: float
) -> None:
    low, _ = bundle.settled_factor(current_a, ampacity_a, LOADINGS, SIX_WIRES)
    high, _ = bundle.settled_factor(current_a + more_a, ampacity_a, LOADINGS, SIX_WIRES)
    assert high <= low + 1e-9


@given(st.integers(1, 18))
def test_a_bundle_grows_with_its_wires(wires: int) -> None:
    smaller = bundle.bundle_diameter_mm(wires, 3.0)
    larger = bundle.bundle_diameter_mm(wires + 1, 3.0)
    assert smaller <= larger
    assert larger >= 3.0 * math.sqrt(wires + 1)


def test_refuses_more_wires_than_the_table_has() -> None:
    with pytest.raises(ValueError, match="outside 1 to 19"):
        bundle.bundle_diameter_mm(20, 3.0)
