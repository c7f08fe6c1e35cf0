"""Conductor sizes, materials and insulation against the printed standards."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from circuitplan.library import conductors, insulation, materials


@pytest.mark.parametrize(
    ("size", "milliohm_per_m"),
    # ISO 6722-1, maximum resistance at 20 °C of bare copper (from memory).
    [("0.5", 37.1), ("1", 18.5), ("1.5", 12.7), ("2.5", 7.60), ("6", 3.14), ("35", 0.527),
     ("120", 0.153), ("2", 9.42)],
)  # fmt: skip
def test_metric_resistance_is_that_of_iso_6722(size: str, milliohm_per_m: float) -> None:
    found = conductors.get("metric", size)
    assert found is not None
    assert found.r20_ohm_per_m == pytest.approx(milliohm_per_m / 1000, rel=1e-12)


@pytest.mark.parametrize(
    ("size", "plain", "tinned"),
    # IEC 60228, classes 5 and 6, ohm/km at 20 °C (second-hand).
    [("0.5", 39.0, 40.1), ("2.5", 7.98, 8.21), ("16", 1.21, 1.24), ("95", 0.206, 0.210),
     ("240", 0.0801, 0.0817)],
)  # fmt: skip
def test_class_5_resistance_is_that_of_iec_60228(size: str, plain: float, tinned: float) -> None:
    found = conductors.get("iec", size)
    assert found is not None
    assert found.r20_ohm_per_m == pytest.approx(plain / 1000, rel=1e-12)
    assert found.tinned_r20_ohm_per_m == pytest.approx(tinned / 1000, rel=1e-12)


@pytest.mark.parametrize(
    ("size", "circ_mil"),
    # ASTM B258 areas as in Lessons In Electric Circuits vol. I ch. 12, wire table (read).
    [("4/0", 211600), ("2/0", 133100), ("2", 66370), ("10", 10380), ("14", 4107), ("18", 1624)],
)
def test_awg_area_is_that_of_astm_b258(size: str, circ_mil: float) -> None:
    found = conductors.get("awg", size)
    assert found is not None
    assert found.area_mm2 == pytest.approx(circ_mil * math.pi / 4 * 0.0254**2, rel=1.5e-3)


@pytest.mark.parametrize(
    ("size", "ohm_per_1000ft_75c"),
    # NEC chapter 9 Table 8, uncoated stranded copper at 75 °C (second-hand).
    [("18", 7.95), ("14", 3.14), ("10", 1.24), ("6", 0.491), ("1/0", 0.122), ("4/0", 0.0608)],
)
def test_awg_resistance_is_never_below_the_nec_value(size: str, ohm_per_1000ft_75c: float) -> None:
    found = conductors.get("awg", size)
    assert found is not None
    at_75 = found.r20_ohm_per_m * (1 + 0.00393 * 55) * 304.8
    assert ohm_per_1000ft_75c <= at_75 <= 1.04 * ohm_per_1000ft_75c


@pytest.mark.parametrize(
    ("size", "area_mm2"),
    # SAE J1128 minimum areas as tabulated in ABYC E-11 (second-hand).
    [("18", 0.761), ("16", 1.12), ("14", 1.85), ("12", 2.91), ("10", 4.65), ("8", 7.23)],
)
def test_sae_area_is_the_minimum_area(size: str, area_mm2: float) -> None:
    found = conductors.get("sae", size)
    assert found is not None
    assert found.area_mm2 == pytest.approx(area_mm2, rel=1e-9)


@pytest.mark.parametrize("gauge", conductors.GAUGES)
def test_bigger_wire_has_less_resistance_and_no_smaller_diameter(gauge: str) -> None:
    sizes = conductors.all_of(gauge)
    for thin, thick in pairwise(sizes):
        assert thin.area_mm2 < thick.area_mm2
        assert thin.r20_ohm_per_m > thick.r20_ohm_per_m
        assert thin.conductor_mm <= thick.conductor_mm
        assert thin.outer_mm <= thick.outer_mm


@pytest.mark.parametrize("gauge", conductors.GAUGES)
def test_no_wire_is_better_than_pure_copper(gauge: str) -> None:
    """17.241 ohm·mm²/km is annealed copper (IEC 60028); a nominal metric area may be off."""
    for size in conductors.all_of(gauge):
        resistivity = size.r20_ohm_per_m * size.area_mm2 * 1000
        assert resistivity >= 17.241 * (1.0 if gauge in ("awg", "sae") else 0.95)
        assert resistivity <= 17.241 * 1.2
        metal_mm2 = math.pi / 4 * size.conductor_mm**2
        assert size.outer_mm > size.conductor_mm
        assert metal_mm2 >= 0.93 * size.area_mm2, "the strands do not fit into the diameter"


def test_every_sae_size_is_thinner_than_the_awg_size_of_its_number() -> None:
    for sae in conductors.offered("sae"):
        awg = conductors.get("awg", sae.size)
        assert awg is not None
        assert sae.area_mm2 < awg.area_mm2
        assert sae.r20_ohm_per_m > awg.r20_ohm_per_m


def test_offered_sizes() -> None:
    metric = [size.size for size in conductors.offered("metric")]
    assert " ".join(metric) == "0.5 0.75 1 1.5 2.5 4 6 10 16 25 35 50 70 95 120"
    american = ["18", "16", "14", "12", "10", "8", "6", "4", "2", "1", "1/0", "2/0", "3/0", "4/0"]
    assert [size.size for size in conductors.offered("awg")] == american
    assert [size.size for size in conductors.offered("sae")] == american
    assert conductors.offered("iec") == ()
    assert conductors.offered("furlong") == ()


@pytest.mark.parametrize(
    ("gauge", "written", "label"),
    [("metric", "2.50", "2.5 mm²"), ("metric", "10.0", "10 mm²"), ("awg", "0000", "4/0 AWG"),
     ("awg", "0", "1/0 AWG"), ("sae", "14", "14 SAE"), ("metric", "10", "10 mm²")],
)  # fmt: skip
def test_sizes_are_found_as_people_write_them(gauge: str, written: str, label: str) -> None:
    found = conductors.get(gauge, written)
    assert found is not None
    assert found.label == label


def test_unknown_sizes_are_not_invented() -> None:
    assert conductors.get("metric", "7") is None
    assert conductors.get("awg", "17") is None
    assert conductors.get("metric", "") is None


def test_nearest_smaller_rounds_down() -> None:
    for area, size in [(3.0, "2.5"), (2.5, "2.5"), (2.4999, "1.5"), (500.0, "120")]:
        found = conductors.nearest_smaller("metric", area)
        assert found is not None
        assert found.size == size
    assert conductors.nearest_smaller("metric", 0.4) is None


def test_a_wire_of_3_mm_outside_is_at_least_1_mm2() -> None:
    found = conductors.by_outer(3.0)
    assert found is not None
    assert found.size == "1"
    assert conductors.by_outer(2.0) is None


def test_no_offered_wire_holds_less_copper_than_by_outer_says() -> None:
    for gauge in ("metric", "awg", "sae"):
        for wire in conductors.offered(gauge):
            thinnest = conductors.by_outer(wire.outer_mm)
            assert thinnest is None or thinnest.area_mm2 <= wire.area_mm2


def test_copper_clad_aluminium_is_counted_on_the_safe_side() -> None:
    found = materials.get("CCA")
    assert found is not None
    # ASTM B566 classes 10A and 15A (memory): 2.743e-8 and 2.676e-8 against 1.7241e-8 ohm·m.
    assert found.r_factor >= 2.743 / 1.7241
    assert materials.get("gold") is None


@pytest.mark.parametrize(
    ("class_c", "material", "k_copper", "k_aluminium"),
    # IEC 60364-4-43 table 43A and IEC 60364-5-54 (from memory), printed as whole numbers.
    [(70.0, "PVC", 115, 76), (90.0, "XLPE", 143, 94), (90.0, "PVC", 100, 66)],
)
def test_k_is_that_of_iec_60364(
    class_c: float, material: str, k_copper: float, k_aluminium: float
) -> None:
    found = insulation.get(class_c, material)
    assert found is not None
    assert found.k_copper == pytest.approx(k_copper, abs=0.5)
    assert found.k_aluminium == pytest.approx(k_aluminium, abs=0.6)


def test_k_follows_the_adiabatic_equation_and_is_rounded_down() -> None:
    """IEC 60949: k = K sqrt(ln((beta + end)/(beta + start)))."""
    for row in insulation.all_of():
        copper = 226 * math.sqrt(math.log((234.5 + row.final_c) / (234.5 + row.class_c)))
        aluminium = 148 * math.sqrt(math.log((228 + row.final_c) / (228 + row.class_c)))
        assert copper - 0.1 <= row.k_copper <= copper
        assert aluminium - 0.1 <= row.k_aluminium <= aluminium


def test_a_bare_temperature_is_an_unknown_material() -> None:
    for text in ("105 °C", "105", "105C", " 105 deg C "):
        found = insulation.find(text)
        assert found is not None
        assert (found.material, found.final_c) == (None, 155.0)
    declared = insulation.find("125 °C cross-linked")
    assert declared is not None
    assert (declared.material, declared.final_c) == ("cross-linked", 250.0)
    assert insulation.find("125 C XLPE") == declared
    assert insulation.find("105 °C paper") is None
    assert insulation.find("warm") is None
    assert insulation.get(106.0) is None
    assert insulation.get(105.0, "paper") is None
