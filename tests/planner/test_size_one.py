"""One circuit without a file: sizes against handbook arithmetic."""

from __future__ import annotations

import math

import pytest

from circuitplan.errors import InputError
from circuitplan.planner import SizeRequest, size_one

METRIC_OHM_PER_M = {  # ISO 6722, largest at 20 °C (memory)
    0.5: 0.0371, 0.75: 0.0247, 1.0: 0.0185, 1.5: 0.0127, 2.5: 0.0076, 4.0: 0.00471, 6.0: 0.00314,
    10.0: 0.00182, 16.0: 0.00116,
}  # fmt: skip


def test_constant_power_is_sized_without_iterating() -> None:
    """150 W, 0.6 V of 12 V, 11.5 V at the low end: R <= 0.6 (11.5 - 0.6)/150 = 43.6 mohm.

    Iterating currents and sizes can cycle here: the current of the next thicker wire passes with
    this one, its own fails. With the answer's R the drop E/2 - sqrt(E2/4 - P R) must hold.
    """
    found = size_one(SizeRequest(power_w=150.0, length_m=3.0, drop_v=0.6, ambient_c=30.0,
                                 ambient_given=True))  # fmt: skip
    ohm = 6.0 * found.run.resistance_20c_ohm_per_m * (1 + 0.00393 * (found.run.conductor_c - 20))
    assert ohm <= 0.6 * 10.9 / 150
    assert 11.5 / 2 - math.sqrt(11.5**2 / 4 - 150 * ohm) <= 0.6
    thinner = max(s for s in METRIC_OHM_PER_M if s < found.run.area_mm2)
    assert 6.0 * METRIC_OHM_PER_M[thinner] > 0.6 * 10.9 / 150
    assert found.run.limited_by == "drop"


def test_length_and_loop_mean_the_same_wire() -> None:
    one_way = size_one(SizeRequest(current_a=20.0, length_m=4.0, drop_percent=3.0))
    loop = size_one(SizeRequest(current_a=20.0, loop_m=8.0, drop_percent=3.0))
    assert one_way.run.size == loop.run.size
    assert one_way.drop.total_v == pytest.approx(loop.drop.total_v)


def test_a_body_return_halves_the_copper_that_drops() -> None:
    wired = size_one(SizeRequest(current_a=10.0, length_m=4.0, wire=("metric", "4")))
    body = size_one(SizeRequest(current_a=10.0, length_m=4.0, wire=("metric", "4"), back="chassis"))
    # The single wire also runs a little cooler, alone in its bundle.
    assert body.drop.total_v == pytest.approx(0.5 * wired.drop.total_v, rel=0.02)
    assert body.drop.total_v <= 0.5 * wired.drop.total_v


def test_what_is_there_already_is_judged() -> None:
    """1 mm2 behind 40 A: the wire burns before the fuse opens (IEC 60364-4-43, 433.1; memory)."""
    from circuitplan.model.plan import FuseSpec

    found = size_one(
        SizeRequest(current_a=5.0, length_m=1.0, wire=("metric", "1"), fuse=FuseSpec(40.0, "C"))
    )
    assert found.answer == "not ok"
    assert [f.rule for f in found.findings] == ["F01"]


def test_a_request_that_is_not_clear_is_refused_with_all_that_is_wrong() -> None:
    with pytest.raises(InputError) as caught:
        size_one(SizeRequest(current_a=5.0, power_w=60.0, length_m=1.0, loop_m=2.0, system_v=400.0))
    assert len(caught.value.problems) == 3


def test_a_fuse_made_for_fewer_volts_stays_and_is_told() -> None:
    """Strip fuses are made for 32 V (ISO 8820-5: read); a 48 V system charges at 57.6 V."""
    from circuitplan.model.plan import FuseSpec

    found = size_one(SizeRequest(current_a=20.0, length_m=1.0, system_v=48.0,
                                 wire=("metric", "10"), fuse=FuseSpec(40.0, "SF30")))  # fmt: skip
    assert found.fuse is not None
    assert (found.fuse.rating_a, found.fuse.type) == (40.0, "SF30")
    assert "X18" in {f.rule for f in found.findings}
    assert found.answer == "not ok"
