from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuitplan.physics import resistance


def test_alpha_and_beta_are_two_forms_of_one_constant() -> None:
    """beta = 1/alpha - 20 C, within the rounding of the standards' figures."""
    assert pytest.approx(resistance.COPPER_BETA, abs=0.1) == 1.0 / resistance.COPPER_ALPHA - 20.0
    assert (
        pytest.approx(resistance.ALUMINIUM_BETA, abs=0.2) == 1.0 / resistance.ALUMINIUM_ALPHA - 20.0
    )


def test_the_circular_mil_is_that_of_ohm_cmil_per_ft() -> None:
    """1 ohm cmil/ft = 1.66243e-9 ohm m (Lessons In Electric Circuits vol. I ch. 12)."""
    one = resistance.circular_mil_to_mm2(1.0) * 1e-6 / 0.3048
    assert one == pytest.approx(1.66243e-9, rel=5e-6)


@given(st.integers(-3, 40))
def test_gauge_of_its_own_diameter(number: int) -> None:
    assert resistance.awg_number(resistance.awg_diameter_mm(number)) == pytest.approx(number)


@given(st.integers(-3, 37))
def test_three_gauges_double_the_area(number: int) -> None:
    """Three-step rule (Lessons In Electric Circuits vol. I ch. 12): 92^(6/39) is 2.005."""
    ratio = resistance.awg_area_mm2(number) / resistance.awg_area_mm2(number + 3)
    assert ratio == pytest.approx(2.005, abs=0.001)


@given(st.floats(1e-4, 1.0), st.floats(-40.0, 250.0))
def test_temperature_is_found_back_from_the_ratio(r20: float, temperature_c: float) -> None:
    hot = resistance.at_temperature(r20, temperature_c, 0.00393)
    assert resistance.temperature_at_ratio(hot / r20, 0.00393) == pytest.approx(
        temperature_c, abs=1e-6
    )


@given(st.floats(0.01, 5.0), st.floats(1e-4, 0.1), st.floats(0.1, 300.0))
def test_the_longest_run_just_uses_up_the_drop(
    allowed_v: float, ohm_per_m: float, current_a: float
) -> None:
    length_m = resistance.longest_run_m(allowed_v, ohm_per_m, current_a)
    assert resistance.drop_v(ohm_per_m, length_m, current_a) == pytest.approx(allowed_v)


def test_hot_wire_allows_a_shorter_run() -> None:
    """AC 43.13-1B 11-66 d (4) is R(T) with beta 234.5."""
    assert resistance.ac4313_run_length(10.0, 20.0) == 10.0
    expected = 10.0 / resistance.at_temperature(1.0, 105.0, 1.0 / 254.5)
    assert resistance.ac4313_run_length(10.0, 105.0) == pytest.approx(expected)


def test_the_aircraft_estimate_is_on_the_hot_side() -> None:
    """Heat goes with the square of current, the estimate with its root."""
    for share in (0.1, 0.5, 0.9):
        estimate = resistance.ac4313_conductor_c(50.0, 200.0, 26.0 * share, 26.0)
        assert estimate > 50.0 + 150.0 * share**2


@pytest.mark.parametrize(
    "call",
    [
        lambda: resistance.awg_diameter_mm(-4),
        lambda: resistance.awg_diameter_mm(41),
        lambda: resistance.awg_number(0.0),
        lambda: resistance.from_resistivity(1.7e-8, 1.0, 0.0),
    ],
)
def test_refuses_what_no_wire_can_be(call: object) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=r"outside|not positive"):
        call()
