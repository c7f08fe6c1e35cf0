"""Published ampacities and bundle factors against the printed tables."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from circuitplan.library import ampacity, bundle, conductors, store
from circuitplan.library.conductors import Conductor


def wire(gauge: str, size: str) -> Conductor:
    found = conductors.get(gauge, size)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("size", "class_c", "current_a"),
    # 33 CFR 183.425 Table 5 (read).
    [("18", 105, 20), ("16", 105, 25), ("14", 105, 35), ("12", 105, 45), ("10", 105, 60),
     ("8", 105, 80), ("6", 105, 120), ("4/0", 105, 445), ("14", 60, 20), ("14", 75, 20),
     ("14", 80, 25), ("14", 90, 30), ("14", 125, 40), ("2", 125, 225), ("3", 125, 195)],
)  # fmt: skip
@pytest.mark.parametrize("gauge", ["awg", "sae"])
def test_awg_is_table_5_of_33_cfr_183(
    gauge: str, size: str, class_c: float, current_a: float
) -> None:
    named = Conductor(gauge, size, 1.0, 0.02, None, 1.2, 2.0, True, "memory", "size by name only")
    found = ampacity.published(named, class_c)
    assert found is not None
    assert (found.current_a, found.status) == (current_a, "read")


@pytest.mark.parametrize("class_c", [150.0, 180.0, 200.0])
def test_above_125_the_125_column_stands(class_c: float) -> None:
    for size in ("14", "4/0"):
        assert ampacity.published(wire("awg", size), class_c) == ampacity.published(
            wire("awg", size), 125.0
        )
    assert ampacity.published(wire("metric", "6"), class_c) == ampacity.published(
        wire("metric", "6"), 125.0
    )


def test_a_class_between_two_columns_takes_the_lower() -> None:
    assert ampacity.published(wire("awg", "10"), 85.0) == ampacity.published(
        wire("awg", "10"), 80.0
    )
    assert ampacity.published(wire("awg", "10"), 55.0) is None


@pytest.mark.parametrize(
    ("size", "current_a"),
    # DIN VDE 0298-4 table 11, single core free in air, 70 °C PVC, 30 °C (second-hand).
    [("0.5", 12), ("0.75", 15), ("1", 19), ("1.5", 24), ("2.5", 32), ("4", 42), ("6", 54),
     ("10", 73), ("16", 98), ("25", 129), ("35", 158), ("50", 198), ("70", 245), ("95", 292),
     ("120", 344)],
)  # fmt: skip
def test_metric_at_70_is_table_11_of_vde_0298_4(size: str, current_a: float) -> None:
    found = ampacity.published(wire("metric", size), 70.0)
    assert found is not None
    assert found.current_a == pytest.approx(current_a, rel=1e-12)
    assert "VDE" in found.source


def test_a_hotter_class_follows_the_heat_balance() -> None:
    """I² R(T) in step with T - 30, R(T) with copper's 234.5 °C (IEC 60028)."""
    for class_c in (60.0, 90.0, 105.0, 125.0):
        found = ampacity.published(wire("metric", "2.5"), class_c)
        assert found is not None
        heat = found.current_a**2 * (234.5 + class_c) / (class_c - 30)
        assert heat == pytest.approx(32**2 * (234.5 + 70) / (70 - 30), rel=1e-12)


def test_hotter_class_never_passes_more_than_the_small_craft_and_pvc_values_allow_safely() -> None:
    """ISO 10133 table A.1 (from memory), 105 °C, within a quarter of ours from 2.5 mm² up."""
    for size, printed_a in [("2.5", 35), ("6", 60), ("16", 130), ("35", 210), ("120", 450)]:
        own = ampacity.small_craft(wire("metric", size), 105.0)
        assert own is not None
        assert own.current_a == printed_a
        free_air = ampacity.published(wire("metric", size), 105.0)
        assert free_air is not None
        assert 0.75 * printed_a < free_air.current_a < 1.25 * printed_a


def test_intermediate_metric_size_takes_the_next_smaller_value() -> None:
    for size, smaller in [("3", "2.5"), ("5", "4"), ("8", "6"), ("60", "50")]:
        one = ampacity.published(wire("metric", size), 105.0)
        other = ampacity.published(wire("metric", smaller), 105.0)
        assert one == other


def test_outside_the_table_there_is_nothing() -> None:
    assert ampacity.published(wire("awg", "20"), 105.0) is None
    assert ampacity.published(wire("metric", "2.5"), 55.0) is None
    too_big = Conductor("metric", "630", 630, 3e-5, None, 33, 40, False, "memory", "none")
    too_thin = Conductor("metric", "0.01", 0.01, 2, None, 0.1, 0.5, False, "memory", "none")
    assert ampacity.published(too_big, 105.0) is None
    assert ampacity.published(too_thin, 105.0) is None
    assert ampacity.small_craft(wire("metric", "0.5"), 105.0) is None
    with pytest.raises(ValueError, match="carries nothing"):
        ampacity.class_factor(30.0)


@pytest.mark.parametrize("gauge", ["metric", "awg", "sae"])
def test_bigger_wire_and_hotter_class_never_carry_less(gauge: str) -> None:
    classes = (60.0, 70.0, 75.0, 80.0, 90.0, 105.0, 125.0, 150.0)
    sizes = conductors.offered(gauge)
    table = [[ampacity.published(size, c) for c in classes] for size in sizes]
    values = [[0.0 if p is None else p.current_a for p in row] for row in table]
    assert all(v > 0 for row in values for v in row)
    for row in values:
        assert row == sorted(row)
    for column in zip(*values, strict=True):
        assert list(column) == sorted(column)


@pytest.mark.parametrize(
    "name",
    ["ampacity_33cfr183_425", "ampacity_ac4313_t11_9", "ampacity_nec_310_17",
     "ampacity_iso_10133_a1"],
)  # fmt: skip
def test_tables_are_monotonic(name: str) -> None:
    by_class: dict[float, list[float]] = {}
    by_size: dict[str, list[float]] = {}
    for row in ampacity.table(name):
        by_class.setdefault(float(row["class_c"]), []).append(float(row["ampacity_a"]))
        by_size.setdefault(row["size"], []).append(float(row["ampacity_a"]))
    assert all(values == sorted(values) for values in by_size.values())
    assert all(values == sorted(set(values)) for values in by_class.values())


@pytest.mark.parametrize(
    ("size", "class_c", "current_a"),
    # FAA AC 43.13-1B change 1 (2001) Table 11-9 (read).
    [("18", 105, 6), ("14", 150, 14), ("10", 200, 32), ("8", 105, 38), ("4/0", 105, 204)],
)
def test_aircraft_bundle_values(size: str, class_c: int, current_a: float) -> None:
    rows = ampacity.table("ampacity_ac4313_t11_9")
    found = [r["ampacity_a"] for r in rows if (r["size"], r["class_c"]) == (size, str(class_c))]
    assert [float(value) for value in found] == [current_a]


@pytest.mark.parametrize(
    ("wires", "loading", "factor"),
    # MIL-W-5088L bundle derating figure, digitised (second-hand).
    [(1, 1.0, 1.0), (2, 1.0, 0.825), (6, 1.0, 0.5725), (6, 0.4, 0.725), (12, 0.2, 0.715),
     (19, 1.0, 0.3425)],
)  # fmt: skip
def test_bundle_points(wires: int, loading: float, factor: float) -> None:
    assert bundle.factor(wires, loading) == pytest.approx(factor, abs=1e-12)


def test_bundle_between_and_beyond_the_columns() -> None:
    assert bundle.factor(6, 0.5) == pytest.approx(0.69)  # halfway between 0.725 and 0.655
    assert bundle.factor(6, 0.0) == bundle.factor(6, 0.2)
    assert bundle.factor(6, 1.7) == bundle.factor(6, 1.0)
    assert bundle.factor(20, 0.5) is None
    assert bundle.most_wires() == 19
    with pytest.raises(ValueError, match="a bundle needs a wire"):
        bundle.factor(0, 0.5)
    with pytest.raises(ValueError, match="loading of 0 or more"):
        bundle.factor(3, -0.1)


@given(st.integers(1, 18), st.floats(0, 1.2), st.floats(0, 1.2))
def test_more_wires_or_more_loading_never_raise_the_factor(wires: int, a: float, b: float) -> None:
    low, high = sorted((a, b))
    few = bundle.factor(wires, low)
    assert few is not None
    assert (bundle.factor(wires, high) or 1) <= few + 1e-12
    assert (bundle.factor(wires + 1, low) or 1) <= few + 1e-12


def test_ambient_factors_are_near_the_square_root_rule() -> None:
    """NEC 310.15(B)(1): factor at the top of each band is sqrt((T - Ta)/(T - 30)), to 0.01."""
    rows = [r for r in store.rows("ambient_factors") if r["table"].startswith("NEC")]
    assert len(rows) > 30
    for row in rows:
        top, class_c = float(row["ambient_high_c"]), float(row["class_c"])
        assert ((class_c - top) / (class_c - 30)) ** 0.5 == pytest.approx(
            float(row["factor"]), abs=0.0101
        )
