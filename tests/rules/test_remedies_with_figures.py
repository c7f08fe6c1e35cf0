"""D01 says what eats the volts and what helps most; B01 and B02 repeat the order and the cures."""

from __future__ import annotations

from dataclasses import replace

import base_case as b
import pytest

from circuitplan.model.result import DropParts, Finding
from circuitplan.rules import judge_all
from circuitplan.rules.case import Case


def only(case: Case, rule: str, subject: str) -> Finding:
    (finding,) = [f for f in judge_all(case) if f.rule == rule and f.subject == subject]
    return finding


def dropped(**parts: float) -> Case:
    total = sum(parts.values())
    case = b.with_drop(b.base(), 1, percent=total / 0.12, total_v=total, accessory_v=12.0 - total)
    return b.with_drop(case, 1, parts=DropParts(**parts))


def test_the_shares_of_a_drop_are_told_most_first() -> None:
    case = dropped(feeder_v=0.1, contacts_v=0.5, run_v=0.3, return_v=0.1)
    remedy = only(case, "D01", "Fridge").remedy
    assert (
        "What eats the volts: contacts 0.5 V (50 %), wire 0.3 V (30 %), feeder 0.1 V (10 %), "
        "return 0.1 V (10 %)." in remedy
    )


def test_what_helps_most_is_named_where_no_size_alone_mends_it() -> None:
    case = dropped(feeder_v=0.05, contacts_v=0.9, run_v=0.05, return_v=0.05)
    finding = only(case, "D01", "Fridge")
    assert "Of single changes " in finding.remedy
    wire = dropped(feeder_v=0.1, contacts_v=0.1, run_v=0.26, return_v=0.26)
    assert "Of single changes " not in only(wire, "D01", "Fridge").remedy


def scenario(**changes: object) -> Case:
    case = b.base()
    first = case.result.supply.scenarios[0]
    return b.with_supply(case, scenarios=(replace(first, **changes),))  # type: ignore[arg-type]


@pytest.mark.parametrize("enough", [True, False])
def test_the_order_of_leaving_out_and_the_cures_are_told(enough: bool) -> None:
    case = scenario(
        margin_percent=-20.0, margin_a=-15.0, shed=(("Roof bar", 12.5), ("Fridge", 4.0)),
        shed_cures=enough, cure_shaft_rpm=2350.0, cure_rated_a=180.0,
    )  # fmt: skip
    name = case.result.supply.scenarios[0].name
    remedy = only(case, "B01", name).remedy
    assert "Leave out, in this order: Roof bar (12.5 A), Fridge (4 A)" in remedy
    assert ("even so it is not enough" in remedy) is not enough
    assert "2350 r/min" in remedy
    assert "an alternator rated 180 A" in remedy


def test_a_battery_that_would_carry_it_is_named() -> None:
    case = scenario(
        engine="off", margin_a=-5.0, margin_percent=None, margin_limit_percent=None,
        duration_h=8.0, hours_to_reserve=5.0, shed=(("Fridge", 4.0),), shed_cures=True,
        cure_capacity_ah=160.0,
    )  # fmt: skip
    one = case.result.supply.scenarios[0]
    remedy = only(case, "B02", one.name).remedy
    assert "Leave out, in this order: Fridge (4 A)." in remedy
    assert "a battery of 160 Ah" in remedy


def test_nothing_is_said_that_the_supply_did_not_find() -> None:
    case = scenario(margin_percent=-20.0, margin_a=-15.0, shed=(), shed_cures=None)
    name = case.result.supply.scenarios[0].name
    remedy = only(case, "B01", name).remedy
    assert "Leave out" not in remedy
    assert "higher hot output" in remedy


@pytest.mark.parametrize(
    ("margin_a", "percent", "said", "never"),
    [
        (-11.6, -13.8, "11.6 A come out of the battery, a margin of -13.8 %", "recharge"),
        (13.8, 18.1, "13.8 A are left, a margin of 18.1 %; 20 % is wanted. What is left recharges "
                     "the battery, more slowly than it should.", "sinks"),
        (0.034, 0.0452, "a margin of less than 0.1 %; 20 % is wanted", "0.0452"),
        (15.19, 19.996, "a margin of just under 20 %; 20 % is wanted", "19.99"),
        (0.0, 0.0, "nothing is left; 20 % is wanted. The battery is not recharged.", "sinks"),
    ],
)  # fmt: skip
def test_only_a_deficit_is_said_to_empty_the_battery(
    margin_a: float, percent: float, said: str, never: str
) -> None:
    case = scenario(margin_percent=percent, margin_a=margin_a, margin_limit_percent=20.0)
    message = only(case, "B01", case.result.supply.scenarios[0].name).message
    assert said in message
    assert never not in message
    assert ("battery empties" in message) is (margin_a < 0)


def test_enough_is_no_finding() -> None:
    case = scenario(margin_percent=20.0, margin_a=15.0, margin_limit_percent=20.0)
    assert not [f for f in judge_all(case) if f.rule == "B01"]


def test_where_next_to_nothing_is_left_no_shorter_way_is_proposed() -> None:
    limit_v = 0.12 * b.with_drop(b.base(), 1).result.circuits[0].drops[0].limit_percent
    for room_v, proposed in ((0.0004, False), (0.1, True)):
        case = dropped(feeder_v=limit_v - room_v, contacts_v=0.0, run_v=0.7, return_v=0.0)
        remedy = only(case, "D01", "Fridge").remedy
        assert ("next to nothing of the limit is left" in remedy) is not proposed
        assert "0.0" not in remedy.split("What eats")[0]
