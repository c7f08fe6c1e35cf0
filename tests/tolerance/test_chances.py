"""Chances known in closed form, correlations, sameness, and limits that always or never hold."""

from __future__ import annotations

import dataclasses
import json
import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from scipy import stats

from circuitplan.cli.answers import plain_data
from circuitplan.design.tolerance.limits import DROP, FAULT, LEAST_VOLTS, Margins
from circuitplan.design.tolerance.points import normal_scores, scrambling, seed_of
from circuitplan.design.tolerance.solve import solve
from circuitplan.design.tolerance.variables import NORMAL, rows
from circuitplan.model.plan import Accessory, Battery, FuseSpec, Plan, Supply, WireSpec
from circuitplan.planner import tolerance
from circuitplan.planner.tolerance import Chance, study_margins

SEED = "ab" * 32
Sizes = Callable[[Plan], Any]


def one_lamp(**changes: Any) -> Plan:
    """One load at the battery, wired both ways in 2.5 mm²."""
    lamp = Accessory(
        "Lamp", current_a=10.0, rated_v=12.0, length_m=3.0, back="wire", fed_from="battery",
        load="constant power", wire=WireSpec(size="2.5"),
    )
    return Plan(
        supply=Supply((Battery("battery", "agm", 90.0, 700.0),)),
        accessories=(replace(lamp, **changes),),
    )


def chance_of(margins: Margins, limit: str, *families: str, log2: int = 10) -> Chance:
    vary = [v for v in margins.drawing.variables if v.family in families]
    assert vary
    found = study_margins(margins, SEED, vary=vary, log2=log2)
    return next(c for c in found.chances if c.limit == limit)


def middle(margins: Margins) -> Any:
    """Drawn inputs with every variable in the middle."""
    count = len(margins.drawing.variables)
    split = sum(1 for v in margins.drawing.variables if v.family not in NORMAL)
    half = np.full((count, 1), 0.5)
    return margins.drawing.inputs(half[:split], normal_scores(half[split:]))


def test_minimum_volts_with_the_supply_alone_uniform(size: Sizes) -> None:
    """U = E - R P / U. U rises with E, so U >= Um where E >= Um + R P / Um, and E is uniform."""
    margins = size(one_lamp(min_v=12.4)).margins
    point = middle(margins)
    here = solve(margins.frozen, point)
    volts, current = float(here.volts[0, 0]), float(here.current_a[0, 0])
    ohm = float(here.supply_v[0, 0] - volts) / current
    power = volts * current
    assert power == pytest.approx(120.0)
    ends = [
        float(solve(margins.frozen, replace(point, supply=np.array([[u]]))).supply_v[0, 0])
        for u in (0.0, 1.0)
    ]
    needed = 12.4 + ohm * power / 12.4
    exact = (ends[1] - needed) / (ends[1] - ends[0])
    found = chance_of(margins, LEAST_VOLTS, "supply")
    assert 0.1 < exact < 0.9
    assert found.low <= exact <= found.high
    assert found.high - found.low < 0.01
    assert found.driver is not None
    assert found.driver.name == "volts at the battery posts"
    assert found.driver.share > 0.95
    assert found.measure is None  # the supply's volts are not a thing to measure once


def test_drop_with_the_length_alone_triangular(size: Sizes) -> None:
    """Constant current: drop = I (Rj + r L f). Holds where f <= f*: the triangular distribution."""
    margins = size(one_lamp(load="constant current", drop_v=0.56)).margins
    point = middle(margins)
    drops = []
    for factor in (1.0, 2.0):
        varied = replace(point, length=np.full_like(point.length, factor))
        here = solve(margins.frozen, varied)
        drops.append(float(here.supply_v[0, 0] - here.volts[0, 0]))
    longest = 1.0 + (0.56 - drops[0]) / (drops[1] - drops[0])
    row = rows()["length"]
    low, high = row.ends()
    exact = float(stats.triang((row.peak() - low) / (high - low), low, high - low).cdf(longest))
    found = chance_of(margins, DROP, "length")
    assert 0.05 < exact < 0.95
    assert found.low <= exact <= found.high
    assert found.measure is not None
    assert "Measure" in found.measure


def test_intervals_hold_the_truth_about_as_often_as_they_say(size: Sizes) -> None:
    """40 seeds with 2^6 points: at 95 % two are expected outside, more than 7 in 0.2 % of cases."""
    margins = size(one_lamp(min_v=12.4)).margins
    vary = [v for v in margins.drawing.variables if v.family in ("supply", "draw", "contact")]

    def chances(seed: int, log2: int) -> Chance:
        found = study_margins(margins, f"{seed:064x}", vary=vary, log2=log2)
        return next(c for c in found.chances if c.limit == LEAST_VOLTS)

    truth = chances(999, 13).chance
    outside = sum(not x.low <= truth <= x.high for x in (chances(s, 6) for s in range(40)))
    assert outside <= 7


def test_one_spool_serves_all_wires_of_a_size_and_legs_are_drawn_apart(size: Sizes) -> None:
    lamp = one_lamp().accessories[0]
    plan = replace(one_lamp(), accessories=(lamp, replace(lamp, name="Other")))
    drawing = size(plan).margins.drawing
    spools = [v for v in drawing.variables if v.family == "spool"]
    frozen = drawing.frozen
    ours = [r for r, s in enumerate(frozen.wires.segments) if s.key.startswith(("Lamp", "Other"))]
    assert len({int(frozen.wires.spool[r]) for r in ours}) == 1
    assert len(spools) == len(frozen.wires.spool_names)
    legs = frozen.wires.legs.matrix.toarray()
    feed, back, other = (
        legs[frozen.wires.row[key]] for key in ("Lamp feed", "Lamp return", "Other feed")
    )
    assert feed.tolist() == back.tolist()  # out and back lie in one loom
    assert feed @ other == 0.0


def test_places_share_the_day(size: Sizes) -> None:
    """Half of the scatter is the day's; each by itself is the triangular of the table."""
    lamp = one_lamp(place="roof").accessories[0]
    plan = replace(one_lamp(), accessories=(lamp, replace(lamp, name="Other", place="cab")))
    drawing = size(plan).margins.drawing
    shares = np.concatenate([scrambling(SEED, len(drawing.variables), r, 11) for r in (0, 1)]).T
    split = sum(1 for v in drawing.variables if v.family not in NORMAL)
    found = drawing.inputs(shares[:split], normal_scores(shares[split:]))
    places = drawing.frozen.place_names.rows
    two = found.place_k[[places["roof"], places["cab"]]]
    assert stats.spearmanr(*two).statistic == pytest.approx(0.483, abs=0.05)  # 6/pi asin(1/4)
    row = rows()["ambient"]
    low, high = row.ends()
    law = stats.triang((row.peak() - low) / (high - low), low, high - low)
    assert stats.kstest(two[0], law.cdf).statistic < 0.02
    assert np.array_equal(found.contact_ohm, found.fault_contact_ohm)


@pytest.mark.parametrize(("limit_v", "chance"), [(3.0, 1.0), (0.02, 0.0)])
def test_what_always_or_never_holds(size: Sizes, limit_v: float, chance: float) -> None:
    margins = size(one_lamp(drop_v=limit_v)).margins
    found = study_margins(margins, SEED, log2=8)
    drop = next(c for c in found.chances if c.limit == DROP)
    assert drop.chance == chance
    assert drop.high - drop.low == pytest.approx(3.0 / found.samples)
    assert drop.driver is None
    assert drop.measure is None
    assert drop.at_design is bool(chance)


def test_a_collapsing_supply_never_holds_and_leaves_other_batteries_alone(size: Sizes) -> None:
    """120 m of 0.5 mm² cannot feed 10 A at constant power: no solution in any sample."""
    heavy = one_lamp(length_m=120.0, wire=WireSpec(size="0.5")).accessories[0]
    other = replace(one_lamp(length_m=1.0).accessories[0], name="Other", fed_from="house")
    plan = replace(
        one_lamp(), accessories=(heavy, other),
        supply=Supply((Battery("battery", "agm", 90.0), Battery("house", "agm", 90.0))),
    )
    found = study_margins(size(plan).margins, SEED, log2=6)
    drops = {c.label: c.chance for c in found.chances if c.limit == DROP}
    assert drops == {"Lamp": 0.0, "Other": 1.0}


def test_a_breaker_without_a_curve_is_named_not_judged(size: Sizes) -> None:
    margins = size(one_lamp(fuse=FuseSpec(20.0, "breaker"))).margins
    found = study_margins(margins, SEED, log2=4)
    assert len(found.not_known) == 1
    assert FAULT not in {c.limit for c in found.chances if c.label == "Lamp"}


def test_more_never_makes_a_limit_likelier(size: Sizes) -> None:
    """Longer legs and worse joints never help the drop or the clearing, on the same points."""
    margins = size(one_lamp()).margins
    count = len(margins.drawing.variables)
    shares = np.ascontiguousarray(scrambling(SEED, count, 0, 7).T)
    order = sorted(margins.drawing.variables, key=lambda v: v.family in NORMAL)
    before = tolerance.margins_at(margins, shares)
    for row, variable in enumerate(order):
        if variable.family not in ("length", "contact", "battery"):
            continue
        worse = shares.copy()
        worse[row] += 0.5 * (1.0 - worse[row])
        after = tolerance.margins_at(margins, worse)
        assert (after <= before + 1e-9).all(), variable.name


def test_same_plan_same_study_whatever_the_order_of_its_entries(size: Sizes) -> None:
    lamp = one_lamp().accessories[0]
    plan = replace(one_lamp(), accessories=(lamp, replace(lamp, name="Other", length_m=5.0)))
    turned = replace(plan, accessories=plan.accessories[::-1], file="elsewhere.yaml", sha256="x")
    assert seed_of(plan) == seed_of(turned)
    assert seed_of(plan) != seed_of(one_lamp())
    first, second = (
        study_margins(size(p).margins, seed_of(p), log2=7) for p in (plan, turned)
    )
    assert first == second


def test_points_are_balanced_and_inside(size: Sizes) -> None:
    """A digital net: each 32nd of each variable holds exactly a 32nd of the points."""
    one, two = scrambling(SEED, 5, 0, 8), scrambling(SEED, 5, 1, 8)
    assert 0.0 < one.min() < one.max() < 1.0
    assert np.isfinite(normal_scores(one)).all()
    for column in one.T:
        assert np.bincount((column * 32).astype(int), minlength=32).tolist() == [8] * 32
    assert not np.array_equal(one, two)


def test_the_answer_is_frozen_data_that_json_holds(size: Sizes) -> None:
    found = study_margins(size(one_lamp()).margins, SEED, log2=4)
    with pytest.raises(dataclasses.FrozenInstanceError):
        found.samples = 1  # type: ignore[misc]
    data = json.loads(json.dumps(plain_data(found), allow_nan=False))
    assert data["format"] == "circuitplan tolerance 1"
    assert data["samples"] == 256
    assert {"circuit", "limit", "chance", "low", "high", "driver", "measure"} <= set(
        data["chances"][0]
    )
    assert all(d["status"] == "judgement" for d in data["distributions"])
    assert math.isfinite(data["chances"][0]["chance"])
