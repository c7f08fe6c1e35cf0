from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuitplan.physics import heat, transient
from circuitplan.physics.resistance import COPPER_ALPHA, at_temperature


def wire(
    area_mm2: float, r20: float, conductor: float, outer: float, ambient: float, hot: float
) -> transient.Body:
    return transient.Body(
        r20,
        COPPER_ALPHA,
        heat.thermal_resistance_k_m_per_w(conductor, outer, 5.5, hot, ambient),
        transient.heat_capacity_j_per_m_k(area_mm2, conductor, outer),
        ambient,
    )


WINCH_LEAD = wire(35.0, 0.527e-3, 8.5, 10.4, 60.0, 105.0)
"""35 mm2 thin wall, 105 C, in 60 C (ISO 6722-1; memory)."""
THIN = wire(2.5, 7.6e-3, 2.2, 3.0, 30.0, 105.0)


def by_steps(body: transient.Body, start_c: float, current_a: float, seconds: float) -> float:
    """Fourth-order Runge-Kutta on the differential equation as written."""

    def slope(temperature_c: float) -> float:
        made = current_a**2 * at_temperature(body.r20_ohm_per_m, temperature_c, body.alpha_per_k)
        lost = (temperature_c - body.ambient_c) / body.thermal_k_m_per_w
        return (made - lost) / body.heat_capacity_j_per_m_k

    steps = 400
    h, temperature_c = seconds / steps, start_c
    for _ in range(steps):
        k1 = slope(temperature_c)
        k2 = slope(temperature_c + h / 2.0 * k1)
        k3 = slope(temperature_c + h / 2.0 * k2)
        k4 = slope(temperature_c + h * k3)
        temperature_c += h / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4)
    return temperature_c


@given(st.floats(0.0, 120.0), st.floats(-40.0, 200.0), st.floats(0.1, 200.0))
def test_closed_form_agrees_with_integration(
    current_a: float, start_c: float, seconds: float
) -> None:
    closed = transient.temperature_after(THIN, start_c, current_a, seconds)
    if closed < 1e4:  # beyond it the steps of the integration are too coarse
        assert closed == pytest.approx(by_steps(THIN, start_c, current_a, seconds), rel=1e-5)


@given(st.floats(1.0, 200.0), st.floats(0.1, 1000.0))
def test_time_and_temperature_are_inverse(current_a: float, seconds: float) -> None:
    reached = transient.temperature_after(THIN, 30.0, current_a, seconds)
    if 30.001 < reached < 1e5:
        found = transient.time_to(THIN, 30.0, current_a, reached)
        # Close to the steady state a whole stretch of time has one temperature.
        assert transient.temperature_after(THIN, 30.0, current_a, found) == pytest.approx(
            reached, rel=1e-9
        )


def test_a_winch_on_35_mm2() -> None:
    """60 to 105 C in 67 s at 400 A and 28 s at 600 A; 60 s on, 600 s off peaks at 106 C
    (computed elsewhere with the same heat capacity)."""
    assert transient.time_to(WINCH_LEAD, 60.0, 400.0, 105.0) == pytest.approx(67.0, abs=0.5)
    assert transient.time_to(WINCH_LEAD, 60.0, 600.0, 105.0) == pytest.approx(28.0, abs=0.5)
    assert transient.periodic_peak(WINCH_LEAD, 400.0, 60.0, 600.0) == pytest.approx(106.0, abs=2.0)


def test_periodic_peak_is_where_many_cycles_end() -> None:
    temperature_c = 60.0
    for _ in range(60):
        temperature_c = transient.temperature_after(WINCH_LEAD, temperature_c, 400.0, 60.0)
        peak = temperature_c
        temperature_c = transient.temperature_after(WINCH_LEAD, temperature_c, 20.0, 300.0)
    found = transient.periodic_peak(WINCH_LEAD, 400.0, 60.0, 300.0, 20.0)
    assert found == pytest.approx(peak, rel=1e-9)


def test_a_cycle_that_never_cools_has_no_peak() -> None:
    assert transient.periodic_peak(THIN, 300.0, 60.0, 1.0) == math.inf


def test_steady_state_is_that_of_the_heat_model() -> None:
    """After long, at the ampacity, the body is at the temperature of its thermal resistance."""
    rated_a = heat.ampacity_a(7.6e-3, COPPER_ALPHA, 2.2, 3.0, 5.5, 105.0, 30.0)
    assert transient.temperature_after(THIN, 30.0, rated_a, 1e5) == pytest.approx(105.0, abs=1e-3)
    assert transient.time_to(THIN, 30.0, rated_a, 106.0) == math.inf
    assert transient.time_to(THIN, 106.0, rated_a, 106.0) == 0.0


@pytest.mark.parametrize(("initial_c", "final_c"), [(70.0, 160.0), (105.0, 160.0), (125.0, 250.0)])
def test_short_faults_agree_with_the_adiabatic_k(initial_c: float, final_c: float) -> None:
    """IEC 60949: k^2 S^2 / I^2 is heating without loss; its K of 226 holds resistance, heat
    capacity and beta of copper alone. A bare body of the same copper is within 1 %."""
    area_mm2 = 10.0
    body = transient.Body(
        1.7241e-8 / (area_mm2 * 1e-6), 0.00393, 1e9, 3.45e6 * area_mm2 * 1e-6, initial_c
    )
    k = transient.adiabatic_k(initial_c, final_c)
    closed = transient.adiabatic_time_s(k, area_mm2, 2000.0)
    assert transient.time_to(body, initial_c, 2000.0, final_c) == pytest.approx(closed, rel=0.01)


def test_adiabatic_k_by_class() -> None:
    """105 C PVC 88, 125 C cross-linked 123, unknown at class + 50 K 84, 82, 79 (computed)."""
    pairs = [(105.0, 160.0), (125.0, 250.0), (105.0, 155.0), (125.0, 175.0), (150.0, 200.0)]
    found = [transient.adiabatic_k(initial, final) for initial, final in pairs]
    assert found == pytest.approx([88.0, 123.0, 84.0, 82.0, 79.0], abs=0.5)


def test_icea_is_the_adiabatic_k_in_other_units() -> None:
    """ICEA P-32-382 against IEC 60949 for copper, 75 to 250 C: within 2 %."""
    area_mm2, seconds = 53.5, 0.5
    icea_a = transient.icea_a(area_mm2 / 5.067075e-4, seconds, 75.0, 250.0)
    iec_a = transient.adiabatic_k(75.0, 250.0) * area_mm2 / math.sqrt(seconds)
    assert icea_a == pytest.approx(iec_a, rel=0.02)


def test_heat_capacity_counts_half_the_insulation() -> None:
    """Copper alone and copper with all of it bracket the value: 58 and 75 s instead of 67."""
    found = transient.heat_capacity_j_per_m_k(35.0, 8.5, 10.4)
    copper = 3.45e6 * 35e-6
    assert found - copper == pytest.approx(1.25e6 * np.pi / 4.0 * (10.4**2 - 8.5**2) * 1e-6 / 2.0)


def test_refuses_what_the_formulas_do_not_hold_for() -> None:
    with pytest.raises(ValueError, match="not above initial"):
        transient.adiabatic_k(160.0, 160.0)
    with pytest.raises(ValueError, match="outside 0 to 10 s"):
        transient.onderdonk_a(2581.0, 12.0)
