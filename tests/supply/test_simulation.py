"""Charge and energy balance in every simulated day; the step hardly matters."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitplan.design.supplying.balance import CONVERTER_EFFICIENCY
from circuitplan.design.supplying.charge import Storage
from circuitplan.design.supplying.day import STEP_H, Day, Stage, Trace, whole_hours
from circuitplan.design.supplying.takers import Taker
from circuitplan.model.plan import Charger
from circuitplan.physics.battery import Wells
from circuitplan.physics.bus import Draw
from circuitplan.physics.charging import Acceptance

KINDS = {"agm": (0.573, 0.446, 1.084, 0.30, 0.85), "lifepo4": (0.816, 0.391, 1.029, 0.30, 0.99)}
EXPONENTS = [(-1.0,), (0.0,), (0.55,), (1.0,), (-1.0, 1.65)]


def storage(name: str, kind: str, capacity_ah: float) -> Storage:
    c, k, q, rate, efficiency = KINDS[kind]
    wells = Wells(c, k, q * capacity_ah)
    return Storage(
        name, kind, wells, wells.c20_ah, 0.5, 0.5 / capacity_ah, 14.4,
        Acceptance(rate * capacity_ah, 0.8, efficiency), 1.0,
    )  # fmt: skip


def taker(name: str, amps: float, exponents: tuple[float, ...], **more: Any) -> Taker:
    values: dict[str, Any] = {
        "index": 0, "name": name, "share": 1.0, "seconds": None, "rated_a": amps, "rated_v": 12.0,
        "exponents": exponents, "once_s": None, "cut_off_v": None, "reconnect_v": None,
        "pull_n": None,
    }  # fmt: skip
    return Taker(**(values | more))


def simulate(
    stages: list[Stage], chargers: list[Charger], share: float, held_back: bool = False,
    step_h: float = STEP_H, capacity_ah: float = 95.0,
) -> tuple[dict[str, Storage], Trace]:
    stores = {
        "main": storage("main", "agm", capacity_ah), "house": storage("house", "lifepo4", 100.0)
    }
    day = Day(stores, chargers, "main", 1.0, held_back, 12.5, step_h)
    return stores, day.run(stages, {n: s.wells.rested_at(share) for n, s in stores.items()})


@st.composite
def days(draw: st.DrawFn) -> tuple[list[Stage], list[Charger], float, bool]:
    kind = draw(st.sampled_from(["dc-dc", "voltage relay", "diode", "none"]))
    chargers = [
        Charger("C3", "solar", None, "house", 10.0), Charger("C4", "shore", None, "main", 15.0)
    ]
    if kind != "none":
        chargers.append(Charger("C1", kind, "main", "house", draw(st.floats(1.0, 40.0))))
    stages = []
    for number in range(draw(st.integers(1, 4))):
        hours = draw(st.floats(0.05, 3.0))
        takers = {}
        for name in ("main", "house"):
            takers[name] = [
                taker(
                    f"{name} {i}", draw(st.floats(0.1, 25.0)), draw(st.sampled_from(EXPONENTS)),
                    cut_off_v=draw(st.sampled_from([None, 12.4])), reconnect_v=12.9,
                )
                for i in range(draw(st.integers(0, 2)))
            ]
        if draw(st.booleans()):
            seconds = draw(st.floats(10.0, 0.9 * 3600.0 * hours))
            once = draw(st.sampled_from([60.0, 300.0, None]))
            takers["main"].append(
                taker("pull", draw(st.floats(30.0, 300.0)), (0.0,), seconds=seconds, once_s=once,
                      share=seconds / 3600.0 / hours)
            )  # fmt: skip
        alternator = draw(st.sampled_from([None, 0.0, 20.0, 60.0, 150.0]))
        outside = {
            "C3": draw(st.sampled_from([0.0, 8.0])), "C4": draw(st.sampled_from([0.0, 15.0]))
        }
        fixed = {"main": [Draw(draw(st.floats(0.0, 40.0)), 1.0, (0.0,))]}
        stages.append(Stage(f"part {number}", hours, takers, fixed, alternator, outside, 14.4))
    return stages, chargers, draw(st.floats(0.3, 1.0)), draw(st.booleans())


@settings(max_examples=60, deadline=None)
@given(days())
def test_charge_and_energy_are_conserved(
    made: tuple[list[Stage], list[Charger], float, bool],
) -> None:
    """Kirchhoff's current law at every bus; what the wells hold is what went in and out; energy of
    the sources is that of loads, batteries and converters. All to 1e-9 of what is turned over."""
    stages, chargers, share, held_back = made
    stores, trace = simulate(stages, chargers, share, held_back)
    for name, store in stores.items():
        intervals = trace.intervals[name]
        assert math.fsum(i.hours for i in intervals) == pytest.approx(whole_hours(stages), rel=1e-6)
        moved_ah = turned_ah = 0.0
        for one, following in zip(intervals, [*intervals[1:], None], strict=True):
            m = one.middle
            inflow = math.fsum(m.supplied_a.values())
            outflow = m.drawn_a + math.fsum(m.passed_a.values())
            assert inflow + m.battery_a == pytest.approx(outflow, abs=1e-9 * (1.0 + outflow))
            stored = m.battery_a if m.battery_a > 0 else m.battery_a * store.acceptance.efficiency
            moved_ah += stored * one.hours
            turned_ah += abs(stored) * one.hours
            if following is not None:
                assert following.before == one.after
                assert following.start_h == pytest.approx(one.start_h + one.hours, abs=1e-5)
        change = intervals[0].before.total_ah - intervals[-1].after.total_ah
        assert change == pytest.approx(moved_ah, abs=1e-9 * (store.capacity_ah + turned_ah))
    # Over the whole: what sources and batteries give is what loads take and what is lost between
    # batteries, a tenth in a converter, the forward volts in a diode.
    lost_wh = 0.0
    for charger in chargers:
        if charger.source is None:
            continue
        for given_, got in zip(trace.intervals["main"], trace.intervals["house"], strict=True):
            passed = given_.middle.passed_a.get(charger.name, 0.0)
            received = got.middle.supplied_a.get(charger.name, 0.0)
            before_w, after_w = passed * given_.middle.volts, received * got.middle.volts
            if charger.kind == "dc-dc":
                assert after_w == pytest.approx(CONVERTER_EFFICIENCY * before_w, rel=1e-9, abs=1e-9)
                lost_wh += (1.0 - CONVERTER_EFFICIENCY) * before_w * given_.hours
            else:
                assert received == pytest.approx(passed, rel=1e-9, abs=1e-9)
                lost_wh += passed * (given_.middle.volts - got.middle.volts) * given_.hours
    outside_wh = battery_wh = loads_wh = 0.0
    for intervals in trace.intervals.values():
        for one in intervals:
            m = one.middle
            outside_wh += one.hours * m.volts * sum(
                a for n, a in m.supplied_a.items() if n in ("alternator", "C3", "C4")
            )
            battery_wh += one.hours * m.volts * m.battery_a
            loads_wh += one.hours * m.volts * m.drawn_a
    turned_wh = outside_wh + loads_wh + abs(battery_wh)
    assert outside_wh + battery_wh == pytest.approx(loads_wh + lost_wh, abs=1e-9 * (1 + turned_wh))


@settings(max_examples=40, deadline=None)
@given(days())
def test_half_the_step_changes_little(
    made: tuple[list[Stage], list[Charger], float, bool],
) -> None:
    """Charge at the end of every battery within 0.5 % of its capacity."""
    stages, chargers, share, held_back = made
    stores, whole = simulate(stages, chargers, share, held_back)
    _, half = simulate(stages, chargers, share, held_back, STEP_H / 2.0)
    for name, store in stores.items():
        ends = [store.wells.share_of(t.intervals[name][-1].after) for t in (whole, half)]
        assert abs(ends[0] - ends[1]) <= 0.005
