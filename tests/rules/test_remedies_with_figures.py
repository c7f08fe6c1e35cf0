"""D01 says what eats the volts and what helps most; B01 and B02 repeat the order and the cures."""

from __future__ import annotations

from dataclasses import replace

import base_case as b
import pytest

from circuitplan.model.result import Cure, DropParts, Finding
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


def branched(back_a: float, **feed: float) -> Case:
    """Circuit 3 behind 15 A: a shared wire of 30 A, then a lamp's branch and the way back of it."""
    case = b.shared_circuit(b.base(), "Lamp a", "Lamp b")
    runs = (
        b.run("3A", "feed", "main", "splice", accessories=("Lamp a", "Lamp b"), ampacity_a=30.0,
              protected_by="F3"),
        b.run("3B", "feed", "splice", "Lamp b", accessories=("Lamp b",), protected_by="F3",
              **{"ampacity_a": 30.0, "current_a": 1.0, **feed}),
        b.run("3N2", "return", "Lamp b", "main", accessories=("Lamp b",), protected_by="F3",
              ampacity_a=back_a, current_a=1.0),
    )  # fmt: skip
    case = b.with_circuit(case, 3, runs=runs, fault=None)
    return b.with_fuse(case, 3, protects="3A", rating_a=15.0, max_a=30.0)


@pytest.mark.parametrize(("feed_a", "named"), [(30.0, "wire 3N2 (in line with 3B)"),
                                               (11.0, "wire 3B")])
def test_a_thin_return_is_guarded_where_its_feed_begins(feed_a: float, named: str) -> None:
    """A fuse never stands in the negative return (common practice); 10.5 A hold no more than
    10 A of type C (ISO 8820-3 ratings)."""
    finding = only(branched(10.5, ampacity_a=feed_a), "X31", "Lamp b")
    assert f"Behind F3 (15 A) {named} is only" in finding.message
    assert finding.remedy.startswith("Put an inline fuse of 10 A where 3B begins.")
    assert finding.change == "Lamp b fuse 10 A C"


@pytest.mark.parametrize("cured", [True, False])
def test_where_a_short_is_not_cleared_either_both_findings_name_one_fuse(cured: bool) -> None:
    cure = Cure("F03", "F3", "inline fuse", "Put an inline fuse of 2 A C there.",
                "Lamp b fuse 2 A C", 4.0)  # fmt: skip
    case = b.with_circuit(branched(10.5, ampacity_a=11.0), 3, cures=(cure,) if cured else (),
                          fault=b.fault("3B", clears_s=30.0, allowed_s=2.0))  # fmt: skip
    thin, short = only(case, "X31", "Lamp b"), only(case, "F03", "Group")
    assert ("inline fuse" in thin.remedy) is cured
    assert thin.change == short.change == (cure.change if cured else None)


def test_what_f01_says_of_a_wire_is_not_said_again() -> None:
    """One wire of a circuit is thick enough and one is not: one fault, one finding."""
    case = b.with_fuse(b.with_run(b.base(), "1N", ampacity_a=14.0), 1, max_a=14.0)
    said = {f.rule for f in judge_all(case) if f.fails and f.subject == "Fridge"}
    assert "F01" in said
    assert "X31" not in said


def test_the_volts_left_are_those_at_the_low_end_of_the_supply() -> None:
    """Where the drop is worst at 14.4 V, the lamp is dim at the low end all the same."""
    high = b.with_drop(b.base(), 1, percent=7.0, total_v=0.84, accessory_v=13.6, state="high",
                       supply_v=14.4)  # fmt: skip
    high = b.with_accessory(high, 1, low_v=10.9)
    said = only(high, "D01", "Fridge").message
    assert "At the low end of the supply it is left with 10.9 V" in said
    assert "13.6" not in said
    unsolved = only(b.with_accessory(high, 1, low_v=0.0), "D01", "Fridge").message
    assert "It is left with 13.6 V of 14.4 V" in unsolved
    low = b.with_drop(high, 1, state="low", accessory_v=10.8, supply_v=11.6)
    assert "It is left with 10.8 V and" in only(low, "D01", "Fridge").message


@pytest.mark.parametrize(("drain_a", "days", "said"), [
    (56.0, 0.0256, "draws 56 A; 50 mA is usual: the reserve is reached after 36 min"),
    (5.884, 0.349, "draws 5.89 A; 50 mA is usual: the reserve is reached after 8.3 h"),
    (0.06, 33.0, "draws 60 mA; 50 mA is usual: the reserve is reached after 33 days"),
])
def test_a_drain_is_told_in_amperes_and_hours_where_those_are_the_units(
    drain_a: float, days: float, said: str
) -> None:
    """0.0256 days are 36.9 minutes, 0.349 days 8.38 hours: rounded down, the drain up."""
    case = b.with_supply(b.base(), parked_a=drain_a, parked_days=days)
    assert said in only(case, "B02", "parked").message
