from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitplan.physics import heat
from circuitplan.physics.resistance import COPPER_ALPHA

# Thin-wall wires of ISO 6722-1: mm2, ohm/m at 20 C, conductor and outer diameter in mm (memory).
WIRES = {
    1.0: (18.5e-3, 1.35, 2.1),
    1.5: (12.7e-3, 1.7, 2.4),
    2.5: (7.60e-3, 2.2, 3.0),
    4.0: (4.71e-3, 2.75, 3.7),
    6.0: (3.14e-3, 3.3, 4.3),
    10.0: (1.82e-3, 4.5, 6.0),
    35.0: (0.527e-3, 8.5, 10.4),
}


def ampacity(area_mm2: float, class_c: float, ambient_c: float, rho: float = 5.5) -> float:
    r20, conductor, outer = WIRES[area_mm2]
    return heat.ampacity_a(r20, COPPER_ALPHA, conductor, outer, rho, class_c, ambient_c)


def temperature(area_mm2: float, current_a: float, ambient_c: float) -> float:
    r20, conductor, outer = WIRES[area_mm2]
    return heat.conductor_temperature_c(
        r20, COPPER_ALPHA, conductor, outer, 5.5, current_a, ambient_c
    )


@given(
    st.sampled_from(sorted(WIRES)),
    st.floats(60.0, 200.0),
    st.floats(-40.0, 100.0),
)
def test_temperature_and_ampacity_are_inverse(
    area_mm2: float, class_c: float, ambient_c: float
) -> None:
    if class_c - ambient_c < 1.0:
        return
    current_a = ampacity(area_mm2, class_c, ambient_c)
    assert temperature(area_mm2, current_a, ambient_c) == pytest.approx(class_c, abs=1e-3)


@given(st.sampled_from(sorted(WIRES)), st.floats(0.0, 800.0), st.floats(1.0, 1.5))
def test_more_current_is_never_cooler(area_mm2: float, current_a: float, more: float) -> None:
    assert temperature(area_mm2, current_a * more, 40.0) >= temperature(area_mm2, current_a, 40.0)


@given(st.sampled_from(sorted(WIRES)), st.floats(-30.0, 80.0), st.floats(0.5, 20.0))
def test_a_hotter_place_never_carries_more(
    area_mm2: float, ambient_c: float, more_k: float
) -> None:
    assert ampacity(area_mm2, 105.0, ambient_c + more_k) < ampacity(area_mm2, 105.0, ambient_c)


def test_heat_in_equals_heat_out() -> None:
    """First law: I^2 R at the conductor equals what leaves the surface."""
    r20, conductor, outer = WIRES[2.5]
    current_a = ampacity(2.5, 105.0, 60.0)
    generated = current_a**2 * r20 * (1.0 + COPPER_ALPHA * 85.0)
    surface_c = 105.0 - generated * heat.insulation_k_m_per_w(conductor, outer, 5.5)
    assert heat.surface_loss_w_per_m(outer, surface_c, 60.0) == pytest.approx(generated, rel=1e-6)


def test_overload_of_a_wire_fused_at_raw_and_at_nine_tenths() -> None:
    """Why the design takes 0.9: at 1.10 and 1.35 times the fuse a 105 C wire of 2.5 mm2 reaches
    121 and 169 C if the fuse equals raw ampacity, 104 and 142 C at 0.9 (computed elsewhere)."""
    raw_a = ampacity(2.5, 105.0, 30.0)
    found = [temperature(2.5, multiple * raw_a, 30.0) for multiple in (1.10, 1.35, 0.99, 1.215)]
    assert found == pytest.approx([121.0, 169.0, 104.0, 142.0], abs=0.6)


def test_125_degree_wire_in_an_engine_bay() -> None:
    """0.9 of first principles at 85 C for 125 C wire (computed elsewhere)."""
    found = [0.9 * ampacity(area, 125.0, 85.0) for area in (1.0, 1.5, 2.5, 4.0, 6.0, 10.0)]
    assert found == pytest.approx([14.8, 18.8, 26.2, 35.7, 46.2, 68.0], rel=0.005)


@given(st.sampled_from(sorted(WIRES)), st.floats(70.0, 150.0), st.floats(20.0, 90.0))
def test_the_ambient_rule_stays_within_3_percent(
    area_mm2: float, class_c: float, margin_k: float
) -> None:
    """The square-root rule against first principles, down to the 20 K where it is refused."""
    ambient_c = max(class_c - margin_k, 30.0)
    true = ampacity(area_mm2, class_c, ambient_c) / ampacity(area_mm2, class_c, 30.0)
    assert heat.ambient_factor(class_c, ambient_c) <= 1.03 * true


def test_the_ambient_rule_is_refused_close_to_the_class() -> None:
    with pytest.raises(ValueError, match="at least 20 K"):
        heat.ambient_factor(105.0, 85.5)
    assert heat.ambient_factor(105.0, 85.0) == pytest.approx(math.sqrt(20.0 / 75.0))


def test_published_at_other_classes() -> None:
    """The factors 1.30 at 105 C and 1.42 at 125 C, safe against first principles."""
    assert heat.published_at_class(1.0, 70.0) == pytest.approx(1.0)
    assert heat.published_at_class(1.0, 105.0) == pytest.approx(1.30, abs=0.005)
    assert heat.published_at_class(1.0, 125.0) == pytest.approx(1.42, abs=0.005)
    for area_mm2 in WIRES:
        for class_c in (90.0, 105.0, 125.0):
            true = ampacity(area_mm2, class_c, 30.0) / ampacity(area_mm2, 70.0, 30.0)
            assert heat.published_at_class(1.0, class_c) < true


def test_overload_without_a_steady_state_is_infinite() -> None:
    assert temperature(1.0, 500.0, 30.0) == math.inf
    assert temperature(1.0, 0.0, 30.0) == 30.0


def test_refuses_a_wire_that_cannot_lose_heat() -> None:
    with pytest.raises(ValueError, match="not above the ambient"):
        ampacity(2.5, 60.0, 60.0)
    with pytest.raises(ValueError, match="does not fit"):
        heat.insulation_k_m_per_w(3.0, 2.0, 5.5)


def test_no_insulation_is_the_limit_of_thin_insulation() -> None:
    bare = heat.ampacity_a(7.6e-3, COPPER_ALPHA, 2.2, 2.2, 5.5, 105.0, 30.0)
    thin = heat.ampacity_a(7.6e-3, COPPER_ALPHA, 2.2, 2.2001, 5.5, 105.0, 30.0)
    assert bare == pytest.approx(thin, rel=1e-4)


@settings(max_examples=50)
@given(st.floats(80.0, 200.0))
def test_thermal_resistance_falls_as_the_wire_gets_hotter(conductor_c: float) -> None:
    low = heat.thermal_resistance_k_m_per_w(2.2, 3.0, 5.5, conductor_c, 60.0)
    high = heat.thermal_resistance_k_m_per_w(2.2, 3.0, 5.5, conductor_c + 10.0, 60.0)
    assert high < low
