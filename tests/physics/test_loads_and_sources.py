from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuitplan.physics import converter, loads, relays, sources, winch

parts = st.lists(
    st.tuples(st.floats(0.1, 50.0), st.sampled_from([12.0, 13.8]), st.floats(-1.0, 1.65)),
    min_size=1,
    max_size=4,
)


def test_exponents_of_the_trade() -> None:
    """A 12 V fan draws 1.35 times at 14.4 V, a 55 W filament 5.07 A, constant power less."""
    assert loads.current_at(1.0, 12.0, 14.4, 1.65) == pytest.approx(1.35, abs=0.005)
    assert loads.current_at(55.0 / 12.0, 12.0, 14.4, 0.55) == pytest.approx(5.07, abs=0.005)
    assert loads.current_at(5.0, 12.0, 10.0, -1.0) == pytest.approx(6.0)


@given(parts, st.floats(0.0, 1.0))
def test_the_largest_current_lies_at_an_end(
    mix: list[tuple[float, float, float]], share: float
) -> None:
    volts = 11.5 + share * (14.4 - 11.5)
    inside = sum(loads.current_at(i, u, volts, m) for i, u, m in mix)
    assert inside <= loads.largest_current(mix, 11.5, 14.4) * (1 + 1e-12)


def test_rms_of_a_chopped_current() -> None:
    assert loads.rms_share(10.0, 0.25) == pytest.approx(5.0)
    assert loads.rms_over_cycle_a([(10.0, 1.0), (0.0, 3.0)]) == pytest.approx(5.0)
    with pytest.raises(ValueError, match="outside 0 to 1"):
        loads.rms_share(10.0, 1.2)
    with pytest.raises(ValueError, match="some time"):
        loads.rms_over_cycle_a([])


def test_capacitor_energy_is_what_the_loop_burns() -> None:
    """Integral of I^2 R dt equals C U^2 / 2, the energy left in the capacitor."""
    volts, ohm, farad = 12.0, 0.05, 0.01
    assert loads.capacitor_i2t(volts, farad, ohm) * ohm == pytest.approx(farad * volts**2 / 2)
    times = np.linspace(0.0, 20.0 * ohm * farad, 20001)
    current = loads.capacitor_peak_a(volts, ohm) * np.exp(-times / (ohm * farad))
    integral = float(np.trapezoid(current**2, times))
    assert integral == pytest.approx(loads.capacitor_i2t(volts, farad, ohm), rel=1e-5)


def test_inrush_starts_at_its_multiple_and_ends_at_running() -> None:
    assert loads.decaying_inrush_a(25.0, 7.0, 0.1, 0.0) == 175.0
    assert loads.decaying_inrush_a(25.0, 7.0, 0.1, 10.0) == pytest.approx(25.0)
    assert loads.decaying_inrush_a(25.0, 7.0, 0.1, 0.1) == pytest.approx(
        25.0 * (1 + 6 * math.exp(-1))
    )


def test_stalled_motor_has_no_back_emf() -> None:
    assert loads.stall_a(12.0, 0.04, 0.02) == pytest.approx(200.0)
    assert loads.running_motor_a(12.0, 0.0, 0.06) == pytest.approx(loads.stall_a(12.0, 0.06))


@given(st.lists(st.tuples(st.floats(0.0, 60.0), st.floats(1e-4, 10.0)), min_size=1, max_size=5))
def test_sources_side_by_side_balance(branches: list[tuple[float, float]]) -> None:
    """Kirchhoff: at the open terminals the branch currents cancel."""
    emf, ohm = [e for e, _ in branches], [r for _, r in branches]
    volts, inner = sources.parallel(emf, ohm)
    currents = [sources.delivered_a(e, volts, r) for e, r in branches]
    assert sum(currents) == pytest.approx(0.0, abs=1e-8 * (1 + max(map(abs, currents))))
    assert inner <= min(ohm) * (1 + 1e-12)


def test_largest_power_is_at_matched_load() -> None:
    powers = [12.0**2 * r / (0.1 + r) ** 2 for r in np.linspace(0.01, 1.0, 100)]
    assert max(powers) == pytest.approx(sources.largest_power_w(12.0, 0.1), rel=1e-3)


def test_sources_are_checked() -> None:
    with pytest.raises(ValueError, match="positive resistances"):
        sources.parallel([12.0], [0.0])
    with pytest.raises(ValueError, match="positive resistances"):
        sources.parallel([12.0, 12.0], [0.1])


def test_hot_relay_needs_more_volts() -> None:
    """7.2 V at 23 C is 9.8 V with the coil at 115 C (computed elsewhere)."""
    assert relays.hot_pick_up_v(7.2, 115.0) == pytest.approx(9.8, abs=0.03)
    assert relays.hot_pick_up_v(7.2, 23.0) == pytest.approx(7.2)


def test_cold_coil_draws_more() -> None:
    """60 ohm at 14.4 V and -20 C: up to 0.29 A, 1.19 times that at 20 C."""
    cold = relays.coil_current(14.4, 60.0, -20.0)
    assert cold == pytest.approx(0.285, abs=0.001)
    assert cold / relays.coil_current(14.4, 60.0, 20.0) == pytest.approx(1.19, abs=0.005)


def test_switch_contact_by_class() -> None:
    """Factors of FAA AC 43.13-1B table 11-4 at 12 V: lamp 5, motor 2, resistive 1."""
    assert relays.usable_a(20.0, 5.0) == 4.0
    mix = [(2.0, 5.0), (3.0, 2.0), (4.0, 1.0)]
    assert relays.needed_rating_a(mix) == 20.0
    assert relays.usable_of_mix_a(20.0, mix) == pytest.approx(9.0)
    assert relays.usable_of_mix_a(20.0, [(0.0, 5.0), (0.0, 2.0)]) == 4.0
    with pytest.raises(ValueError, match="below 1"):
        relays.usable_a(20.0, 0.5)


def test_converter_conserves_power() -> None:
    assert converter.input_current(40.0, 14.4, 11.5, 0.9) * 11.5 * 0.9 == pytest.approx(576.0)
    for wrong in ((40.0, 14.4, 11.5, 1.1), (40.0, 14.4, 0.0, 0.9)):
        with pytest.raises(ValueError, match=r"outside 0 to 1|not positive"):
            converter.input_current(*wrong)


def test_winch_current_is_linear_in_pull() -> None:
    assert winch.current_a(0.0, 70.0, 460.0, 42.3e3) == 70.0
    assert winch.current_a(42.3e3, 70.0, 460.0, 42.3e3) == 460.0
    with pytest.raises(ValueError, match="outside 0 to the rated"):
        winch.current_a(50e3, 70.0, 460.0, 42.3e3)


@pytest.mark.parametrize("volts", [0.0, -12.0])
def test_no_current_without_volts(volts: float) -> None:
    with pytest.raises(ValueError, match="must be positive"):
        loads.current_at(1.0, 12.0, volts, 1.0)
