"""Batteries, alternators, places and practices."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuitplan.errors import TableError
from circuitplan.library import alternators, batteries, places, practices, store


@pytest.mark.parametrize("name", ["flooded", "gel", "agm", "lifepo4"])
@pytest.mark.parametrize("hours", [5.0, 1.0])
def test_two_well_values_reproduce_the_law_of_peukert(name: str, hours: float) -> None:
    """Capacity at the h-hour rate over C20 by Peukert: (h/20)^(1 - 1/n).

    Two wells at constant current: Qmax k' c T/(1 - e^-k'T + c (k'T - 1 + e^-k'T))
    (Manwell and McGowan, kinetic battery model).
    """
    battery = batteries.type_(name)
    kt = battery.k_prime_per_h * hours
    drained = 1 - math.exp(-kt)
    share = battery.qmax_over_c20 * battery.c * kt / (drained + battery.c * (kt - drained))
    assert share == pytest.approx((hours / 20) ** (1 - 1 / battery.peukert), abs=0.002)


def test_resistances_of_the_worked_battery() -> None:
    """95 Ah AGM of 850 A cold cranking: 13.0 V over R_low gives 7.7 kA; 1.5 (12.6 - 7.2)/850."""
    agm = batteries.type_("AGM")
    assert agm.r_low.ohm(95, 850, 12) == pytest.approx(0.16 / 95)
    assert agm.fault_emf_v / agm.r_low.ohm(95, 850, 12) == pytest.approx(7700, rel=0.01)
    assert agm.r_high.ohm(95, 850, 12) == pytest.approx(1.5 * (12.6 - 7.2) / 850)
    assert agm.r_warm.ohm(95, 850, 12) == pytest.approx(2.8 / 850)
    assert agm.r_warm.ohm(95, None, 12) == pytest.approx(0.30 / 95)
    assert agm.r_warm.ohm(95, 850, 24) == pytest.approx(2 * 2.8 / 850)
    lithium = batteries.type_("lifepo4")
    assert lithium.fault_emf_v / lithium.r_low.ohm(100, None, 12) == pytest.approx(13600, rel=0.01)
    assert lithium.r_high.ohm(100, 850, 12) == pytest.approx(0.009)


def test_measured_module_lies_between_low_and_high() -> None:
    """91 Ah valve-regulated module: 1.77 mohm full (read, NREL ADVISOR data set)."""
    agm = batteries.type_("agm")
    assert agm.r_low.ohm(91, None, 12) <= 1.77e-3 <= agm.r_warm.ohm(91, None, 12)


@given(st.floats(20, 300), st.one_of(st.none(), st.floats(100, 1500)))
def test_low_resistance_is_never_above_high(capacity_ah: float, cca_a: float | None) -> None:
    for name in batteries.names():
        battery = batteries.type_(name)
        low = battery.r_low.ohm(capacity_ah, cca_a, 12)
        assert low < battery.r_high.ohm(capacity_ah, cca_a, 12)


def test_unknown_type_is_the_safe_mixture() -> None:
    unknown, flooded, agm = (batteries.type_(n) for n in ("unknown", "flooded", "agm"))
    assert unknown.r_low.ohm(70, None, 12) == agm.r_low.ohm(70, None, 12)
    assert unknown.r_high == flooded.r_high
    assert (unknown.c, unknown.peukert) == (flooded.c, flooded.peukert)
    with pytest.raises(TableError, match="known: flooded"):
        batteries.type_("nickel")


@pytest.mark.parametrize(
    ("type", "charge", "volts"),
    # agm: NREL ADVISOR data set, 91 Ah module; flooded: service manuals (read).
    [("agm", 1.0, 12.99), ("agm", 0.5, 12.384), ("agm", 0.0, 11.406), ("flooded", 0.5, 12.2),
     ("flooded", 1.0, 12.7), ("flooded", 0.625, 12.3), ("gel", 0.2, 11.904)],
)  # fmt: skip
def test_open_circuit_volts(type: str, charge: float, volts: float) -> None:
    assert batteries.open_circuit_v(type, charge) == pytest.approx(volts)


@pytest.mark.parametrize("type", ["agm", "flooded", "gel", "lifepo4", "unknown"])
def test_open_circuit_volts_rise_with_charge(type: str) -> None:
    found = [batteries.open_circuit_v(type, charge / 50) for charge in range(51)]
    assert found == sorted(found)
    battery = batteries.type_(type)
    assert (found[0], found[-1]) == (battery.ocv_empty_v, battery.ocv_full_v)
    with pytest.raises(ValueError, match="between 0 and 1"):
        batteries.open_circuit_v(type, 1.1)


def test_cold_takes_capacity_and_discharge_raises_resistance() -> None:
    assert batteries.capacity_share(25) == 1
    assert batteries.capacity_share(40) == 1
    assert batteries.capacity_share(-18) == pytest.approx(0.6)
    assert batteries.capacity_share(5) == pytest.approx(0.85)
    assert batteries.capacity_share(-25) is None
    rises = [batteries.resistance_rise(charge / 20) for charge in range(21)]
    assert rises == sorted(rises, reverse=True)
    assert rises[-1] == 1
    with pytest.raises(ValueError, match="between 0 and 1"):
        batteries.resistance_rise(-0.1)


def test_cranking_volts() -> None:
    """SAE J537: 7.2 V at -18 °C; 9.6 V at 21 °C (service literature, read)."""
    assert batteries.fact("crank_min_v_cold").value == 7.2
    assert batteries.fact("crank_min_v_warm").value == 9.6
    with pytest.raises(TableError, match="holds no"):
        batteries.fact("colour")


def test_alternator_and_vehicle_values() -> None:
    assert alternators.value("idle_share").value == 0.30
    assert alternators.value("cut_in_rpm").value == 1100
    assert [alternators.value(k).value for k in ("idle_rpm", "high_idle_rpm", "cruise_rpm")] == [
        1500, 2400, 5000,
    ]  # fmt: skip
    # FAA AC 43.13-1B 11-35: 80 percent of the generator's rating (read).
    assert alternators.value("load_share").value == 0.80
    assert set(alternators.defaults()) >= {"hot_factor_slow", "hot_factor_fast", "rated_rpm"}
    on = [alternators.vehicle_load(v, engine_on=True).value for v in (12, 24, 48)]
    assert on == [45, 25, 15]
    assert alternators.vehicle_load(12, engine_on=False).value == 0.05
    with pytest.raises(TableError):
        alternators.vehicle_load(36, engine_on=True)


def test_supply_levels_scale_with_the_nominal_voltage() -> None:
    for row in store.rows("supply_levels"):
        one = alternators.supply_level(12, row["battery_type"])
        many = alternators.supply_level(float(row["nominal_v"]), row["battery_type"])
        factor = many.nominal_v / 12
        assert many.low_emf_v == pytest.approx(factor * one.low_emf_v)
        assert many.high_v == pytest.approx(factor * one.high_v)
        assert many.low_emf_v < many.fault_emf_v < many.high_v < many.ask_high_v
        battery = batteries.type_(row["battery_type"])
        assert (one.low_emf_v, one.high_v) == (battery.low_emf_v, battery.high_v)
        assert (one.low_sag_v, one.fault_emf_v) == (battery.low_sag_v, battery.fault_emf_v)
    with pytest.raises(TableError):
        alternators.supply_level(36, "agm")


@pytest.mark.parametrize(
    ("written", "place", "ambient_c"),
    [("engine bay", "engine bay", 85),
     ("Engine Bay", "engine bay", 85), ("hood", "engine bay", 85),
     ("cab", "cab", 50), ("bed", "load bed", 50), ("rear load bed, left", "load bed", 50),
     ("roof", "roof", 80), ("behind the dash", "behind dash", 60),
     ("front bumper", "under body", 50),
     ("trailer", "trailer", 50), ("battery box", "battery box", 50)],
)  # fmt: skip
def test_places_are_found_by_other_words(written: str, place: str, ambient_c: float) -> None:
    found = places.default(written)
    assert found is not None
    assert (found.name, found.ambient_c) == (place, ambient_c)


def test_places_offer_insulation_40_k_above_ambient() -> None:
    for place in places.all_of():
        if place.allowed:
            assert place.ambient_c is not None
            assert place.insulation_class_c >= place.ambient_c + 40
        else:
            assert place.ambient_c is None
    exhaust = places.default("near exhaust")
    assert exhaust is not None
    assert not exhaust.allowed
    assert places.default("moon") is None


def test_a_practice_only_tightens_general() -> None:
    general = practices.get("general")
    assert general is not None
    assert practices.names() == ("general", "rescue vehicle", "small craft")
    for name in practices.names():
        practice = practices.get(name)
        assert practice is not None
        for row in general.own:
            own = practice.row(row.key)
            assert own is not None
            if row.value is None or own.value is None:
                continue
            if row.tighter == "lower":
                assert own.value <= row.value
            else:
                assert own.value >= row.value


def test_thresholds_of_the_practices() -> None:
    general, rescue, craft = (practices.get(n) for n in practices.names())
    assert general is not None
    assert rescue is not None
    assert craft is not None
    assert general.value("drop_all_in_percent") == 5
    assert rescue.value("drop_all_in_percent") == 5  # the 10 % of its own papers are looser
    published = rescue.published("drop_all_in_percent")
    assert published is not None
    assert (published.value, published.used) == (10, False)
    assert general.value("drop_motor_percent") == 10
    assert craft.value("drop_critical_conductors_percent") == 3
    assert craft.value("drop_conductors_percent") is None
    assert (general.value("iz_over_in"), rescue.value("iz_over_in")) == (1.0, 1.25)
    # 33 CFR 183.425 and 183.455 (read): 16 AWG, 7 in, 40 in.
    assert general.value("min_size_awg") == 16
    assert general.value("fuse_distance_in_m") == pytest.approx(7 * 0.0254)
    assert craft.value("fuse_distance_sheathed_in_m") == pytest.approx(40 * 0.0254)
    assert general.value("chassis_return_max_a") == 30
    assert craft.value("chassis_return_allowed") == 0
    assert rescue.value("underhood_c") == 93  # KKK-A-1822 3.7.6 (read)
    assert general.value("no such key") is None
    assert craft.value("fuse_over_table_5") is None
    known = rescue.keys()
    assert "drop_all_in_percent" in known
    assert practices.get("Small-Craft") == craft
    assert practices.get("spacecraft") is None


def test_every_practice_number_from_p01_to_p21_is_there() -> None:
    found = {row["id"] for row in store.rows("practices")}
    assert found == {f"P{number:02d}" for number in range(1, 22)}
