"""The one-body model against the adiabatic constants k and against its own closed form's limits.

IEC 60364-4-43 table 43A and IEC 60364-5-54 annex A (also BS 7671), from memory: k 115 (PVC, 70 to
160 °C), 143 (PVC, 30 to 160, and cross-linked, 90 to 250), 176 (cross-linked, 30 to 250), 76
(aluminium, PVC, 70 to 160). The model has its own constants: resistivity 1.7241 and 2.826e-8 ohm m
(IEC 60028 and 60889), 0.00393 and 0.00403 /K, 3.45e6 and 2.5e6 J/(m³ K) (IEC 60949).
"""

from __future__ import annotations

import math

import pytest

from circuitplan.physics import transient

AREA_MM2 = 10.0
COPPER = (1.7241e-8, 0.00393, 3.45e6)
ALUMINIUM = (2.826e-8, 0.00403, 2.5e6)
PUBLISHED = [
    ("PVC 70 °C", COPPER, 70.0, 160.0, 115.0),
    ("PVC, separate", COPPER, 30.0, 160.0, 143.0),
    ("cross-linked 90 °C", COPPER, 90.0, 250.0, 143.0),
    ("cross-linked, separate", COPPER, 30.0, 250.0, 176.0),
    ("aluminium, PVC 70 °C", ALUMINIUM, 70.0, 160.0, 76.0),
]
Metal = tuple[float, float, float]


def bare(metal: Metal, ambient_c: float, path_k_m_per_w: float) -> transient.Body:
    """A conductor without insulation; ``path`` is its way for heat to the air."""
    rho, alpha, volumetric = metal
    return transient.Body(
        rho / (AREA_MM2 * 1e-6), alpha, path_k_m_per_w, volumetric * AREA_MM2 * 1e-6, ambient_c
    )


@pytest.mark.parametrize(
    ("name", "metal", "initial_c", "final_c", "k"), PUBLISHED, ids=[p[0] for p in PUBLISHED]
)
@pytest.mark.parametrize("current_a", [500.0, 2000.0])
def test_without_loss_the_model_gives_the_published_k(
    name: str, metal: Metal, initial_c: float, final_c: float, k: float, current_a: float
) -> None:
    """k = I sqrt(t) / S within 1 %."""
    seconds = transient.time_to(bare(metal, initial_c, 1e9), initial_c, current_a, final_c)
    assert current_a * math.sqrt(seconds) / AREA_MM2 == pytest.approx(k, rel=0.01)


@pytest.mark.parametrize(
    ("name", "metal", "initial_c", "final_c", "k"), PUBLISHED, ids=[p[0] for p in PUBLISHED]
)
def test_with_loss_the_adiabatic_time_is_never_longer(
    name: str, metal: Metal, initial_c: float, final_c: float, k: float
) -> None:
    """Heat that leaves gives the wire more time; the adiabatic rule is the safe one (1 % for k)."""
    body = bare(metal, 30.0, 4.0)
    for current_a in (150.0, 300.0, 1000.0):
        seconds = transient.time_to(body, initial_c, current_a, final_c)
        assert seconds >= transient.adiabatic_time_s(k, AREA_MM2, current_a) * 0.98


def test_closed_form_without_growing_resistance() -> None:
    """With alpha 0 it is the textbook's Ta + I²R Rth (1 - exp(-t / (Rth C)))."""
    body = transient.Body(7.6e-3, 0.0, 5.0, 12.0, 30.0)
    for seconds in (1.0, 10.0, 60.0, 600.0):
        rise = 20.0**2 * 7.6e-3 * 5.0 * (1.0 - math.exp(-seconds / (5.0 * 12.0)))
        found = transient.temperature_after(body, 30.0, 20.0, seconds)
        assert found == pytest.approx(30.0 + rise, rel=1e-12)
        assert transient.time_to(body, 30.0, 20.0, 30.0 + rise) == pytest.approx(seconds, rel=1e-9)
