"""Charge acceptance against its closed form, states of the two wells, the balance at the posts."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from circuitplan.physics.battery import Charge, Wells
from circuitplan.physics.bus import Draw, Store, behind_diode, bus_v, drawn_a, relay_closed_share
from circuitplan.physics.charging import Acceptance, acceptance_cold_share
from circuitplan.physics.winch import pull_charge_ah, pull_energy_wh

LEAD = Acceptance(30.0, 0.8, 0.85)
AGM = Wells(0.573, 0.446, 1.084 * 95.0)


def test_taper() -> None:
    """Steady to 80 %, half at 90 %, nothing at full."""
    assert [LEAD.current_a(s) for s in (0.0, 0.8, 0.9, 1.0, 1.2)] == pytest.approx(
        [30.0, 30.0, 15.0, 0.0, 0.0]
    )


@given(st.floats(0.0, 0.9), st.floats(0.3, 0.97), st.floats(1.0, 60.0))
def test_recharge_time_is_what_stepping_takes(start: float, target: float, surplus: float) -> None:
    """100 Ah, stepped plainly in 20 s."""
    assume(target > start)
    hours = LEAD.recharge_h(100.0, start, target, surplus)
    assert hours is not None
    share, spent, step_h = start, 0.0, 20.0 / 3600.0
    while share < target:
        share += 0.85 * min(surplus, LEAD.current_a(share)) * step_h / 100.0
        spent += step_h
    assert hours == pytest.approx(spent, rel=0.01, abs=2 * step_h)


def test_recharge_that_never_ends() -> None:
    assert LEAD.recharge_h(100.0, 0.5, 1.0, 20.0) is None
    assert LEAD.recharge_h(100.0, 0.5, 0.9, 0.0) is None
    assert LEAD.recharge_h(100.0, 0.9, 0.9, 0.0) == 0.0
    assert Acceptance(0.0, 0.8, 0.99).recharge_h(100.0, 0.2, 0.9, 20.0) is None  # too cold


def test_cold_battery_takes_less() -> None:
    assert acceptance_cold_share(0.0) == pytest.approx(0.5)
    assert acceptance_cold_share(40.0) == 1.0


@given(st.floats(0.2, 1.0), st.floats(5.0, 60.0))
def test_hours_left_add_up(share: float, current_a: float) -> None:
    """After some of the hours left, the rest is left."""
    state = AGM.rested_at(share)
    hours = AGM.hours_left(state, current_a)
    later = state.after(AGM, current_a, 0.4 * hours)
    assert AGM.hours_left(later, current_a) == pytest.approx(0.6 * hours, rel=1e-6)
    assert AGM.share_of(state) == pytest.approx(share)


@given(st.floats(4.8, 64.0), st.floats(0.01, 0.99))
def test_share_left_is_the_share_of_the_capacity_at_that_current(
    current_a: float, part: float
) -> None:
    hours = AGM.empty_after_h(current_a)
    state = Charge(AGM.q_max_ah).after(AGM, current_a, part * hours)
    assert AGM.share_left(state, current_a) == pytest.approx(1.0 - part, abs=1e-6)
    assert AGM.share_left(state, current_a) <= AGM.share_of(state) + 1e-12


def test_faster_than_the_model_counts_as_its_fastest() -> None:
    state = AGM.rested_at(0.7)
    assert AGM.share_left(state, 500.0) == AGM.share_left(state, AGM.rate_a(1.0))


LOADS = [Draw(10.0, 12.0, (-1.0,)), Draw(5.0, 12.0, (1.0,)), Draw(3.0, 12.0, (-1.0, 1.65))]
BATTERY = Store(12.6, 0.01, 30.0, 14.4)


@given(st.floats(0.0, 120.0))
def test_sources_loads_and_battery_agree(source_a: float) -> None:
    def taken(volts: float) -> float:
        return drawn_a(LOADS, volts) + BATTERY.taken_a(volts)

    volts = bus_v(taken, source_a, 14.4, 6.0)
    assert volts is not None
    if volts < 14.4:
        assert taken(volts) == pytest.approx(source_a, abs=1e-6)
    else:
        assert taken(14.4) <= source_a
    more = bus_v(taken, source_a + 5.0, 14.4, 6.0)
    assert more is not None
    assert more >= volts


def test_constant_power_beyond_the_most_a_battery_gives() -> None:
    """E²/4R = 12.6²/0.4 = 397 W through 0.1 ohm: 350 W works, 450 W does not."""
    weak = Store(12.6, 0.1, 0.0, 14.4)
    works = bus_v(lambda u: 350.0 / u + weak.taken_a(u), 0.0, 12.6, 1.0)
    assert works == pytest.approx(12.6 / 2 * (1 + math.sqrt(1 - 350 / 396.9)), rel=1e-6)
    assert bus_v(lambda u: 450.0 / u + weak.taken_a(u), 0.0, 12.6, 1.0) is None


def test_isolators() -> None:
    """A relay is open at rest and closed on charge; a diode passes nothing back."""
    assert relay_closed_share(12.6, 12.9, 13.7) == 0.0
    assert relay_closed_share(14.4, 12.9, 13.7) == 1.0
    through = behind_diode(BATTERY.taken_a, 0.7)
    assert through(14.4) == pytest.approx(30.0 * 1.1 / 1.8)
    assert through(12.0) == 0.0


def test_one_pull() -> None:
    """254 A at 10.44 V for 5.6 min: 24 Ah, 250 Wh (winch of 42.3 kN at 20 kN, worked apart)."""
    assert pull_charge_ah(254.0, 5.6 * 60.0) == pytest.approx(24.0, abs=0.5)
    assert pull_energy_wh(254.0, 10.44, 5.6 * 60.0) == pytest.approx(250.0, abs=5.0)
