"""Days: two batteries by every kind of charger, sun, shore, cut-offs, cold, restarts, pulls."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from circuitplan.model.plan import Plan
from circuitplan.model.result import DayResult, Result

HOT = "alternator: {rated: 120 A, idle: 60 A, hot: yes, control: regulator}"
AGM = "battery: {type: agm, capacity: 100 Ah, cranking: 800 A}"
HOUSE = "batteries: {house: {type: lifepo4, capacity: 100 Ah}}"
LOAD = (
    "vehicle_load: {idle: 20 A, high idle: 20 A, cruise: 20 A, off: 0 A, parked: 0 A}\n"
    "starter: 200 A"
)
LAMP = (
    "{name: Lamp, current: 10 A, length: 1 m, fed_from: main, load: constant current, switch: S1}"
)
FRIDGE = "{name: Fridge, current: 5 A, length: 1 m, fed_from: house, load: constant current}"
OUT = "{name: Out, engine: cruise, duration: 2 h, running: {}}"
WAIT = "{name: Wait, engine: off, duration: 4 h, running: {Lamp: 100 %}}"
DAY = "{name: Trip, order: [Wait, Out], charge: 80 %, temperature: 25 °C}"

Worked = Callable[..., Result]


def day(result: Result, battery: str = "battery") -> DayResult:
    return next(d for d in result.supply.days if d.battery == battery)


def test_four_hours_of_ten_amperes_then_two_of_driving(worked: Worked) -> None:
    """At 25 °C C20 is 100.044 Ah: 40 Ah out is 39.98 %, from 80 to 40.02 %. Then the regulator
    holds 14.35 V, and the battery takes 30 A * (14.35 - E)/(14.4 - E): 0.973 of it to 80 % (E from
    12.22 to 12.75 V), 0.968 above. 40 Ah at 0.85 * 29.2 A take 1.612 h; the other 0.388 h run along
    exp(-t/tau), tau = 0.2*100.044/(0.85*29.04) = 0.8106 h: 1 - 0.2*0.6192."""
    found = day(worked("\n".join((HOT, AGM, LOAD)), LAMP, f"{WAIT}\n{OUT}", DAY))
    (_, waited), (_, driven) = found.steps
    assert waited == pytest.approx(0.8 - 40.0 / 100.044, abs=2e-5)
    assert driven == pytest.approx(1.0 - 0.2 * 0.6192, abs=5e-4)
    assert found.engine_off_h == pytest.approx(4.0)
    # Wait: 40 Ah from the battery, Out: 40 Ah by the alternator at 14.35 V (25 °C)
    assert found.supplied_share == pytest.approx(40 * 14.35 / (40 * 14.35 + 40 * 12.49), abs=0.01)
    # 10 A empties 100 Ah in 9.19 h: the share at that current is the lower one
    assert found.lowest_charge is not None
    assert found.lowest_charge < waited
    assert found.lowest_after == "Wait"
    assert found.starts is False
    assert found.hours_to_reserve == pytest.approx(2.8, abs=0.2)
    assert found.cure_capacity_ah is not None
    assert found.cure_capacity_ah % 5.0 == 0.0


def test_the_cure_cures_and_the_next_smaller_does_not(worked: Worked) -> None:
    sections = ("\n".join((HOT, AGM, LOAD)), LAMP, f"{WAIT}\n{OUT}", DAY)
    cure = day(worked(*sections)).cure_capacity_ah
    assert cure is not None
    for capacity, holds in ((cure, True), (cure - 5.0, False)):
        supply = sections[0].replace("100 Ah, cranking", f"{capacity:g} Ah, cranking")
        tried = day(worked(supply, *sections[1:]))
        assert tried.lowest_charge is not None
        assert (tried.lowest_charge >= tried.reserve_charge) is holds


def test_restart_after_every_stop_counts(worked: Worked) -> None:
    """The start after Wait is the hardest, though the day ends charged."""
    found = day(worked("\n".join((HOT, AGM, LOAD)), LAMP, f"{WAIT}\n{OUT}", DAY))
    first = day(worked("\n".join((HOT, AGM, LOAD)), LAMP, WAIT,
                       DAY.replace(", Out", "")))  # fmt: skip
    assert found.cranking_v == pytest.approx(first.cranking_v)


def test_flat(worked: Worked) -> None:
    """40 A from 80 % of 100 Ah: dark before two hours, and said so."""
    heavy = LAMP.replace("10 A", "40 A")
    result = worked("\n".join((HOT, AGM, LOAD)), heavy, f"{WAIT}\n{OUT}", DAY)
    found = day(result)
    assert found.flat_after_h is not None
    assert 1.0 < found.flat_after_h < 2.0
    assert found.lowest_charge == 0.0
    assert found.starts is False
    assert any("is flat after" in line for line in result.supply.answers)


def test_cold_takes_capacity_and_volts(worked: Worked) -> None:
    warm = day(worked("\n".join((HOT, AGM, LOAD)), LAMP, f"{WAIT}\n{OUT}", DAY))
    cold = day(worked("\n".join((HOT, AGM, LOAD)), LAMP, f"{WAIT}\n{OUT}",
                      DAY.replace("25 °C", "-10 °C")))  # fmt: skip
    assert cold.capacity_ah == pytest.approx(0.7 * (warm.capacity_ah or 0.0))
    assert cold.reserve_charge == 0.75
    assert (cold.cranking_v or 0.0) < (warm.cranking_v or 0.0)
    assert (cold.end_charge or 0.0) < (warm.end_charge or 0.0)


@pytest.mark.parametrize(
    ("charger", "charged"),
    [
        ("dc-dc, from: battery, to: house, output: 20 A", True),
        ("voltage relay, from: battery, to: house", True),
        ("diode, from: battery, to: house", True),
        ("solar, to: house, output: 10 A", False),  # no sun said
    ],
)
def test_second_battery(worked: Worked, charger: str, charged: bool) -> None:
    """From 80 % with 5 A of fridge on it for six hours; driven two of them."""
    supply = "\n".join((HOT, AGM, LOAD, HOUSE, f"chargers: {{C1: {{type: {charger}}}}}"))
    out = OUT.replace("{}}", "{Fridge: 100 %}}")
    wait = WAIT.replace("Lamp", "Fridge")
    found = day(worked(supply, f"{FRIDGE}\n{LAMP}", f"{wait}\n{out}", DAY), "house")
    (_, waited), (_, driven) = found.steps
    assert waited == pytest.approx(0.8 - 20.0 / (found.capacity_ah or 1.0), abs=1e-4)
    assert (driven > waited) is charged
    assert found.starts is None


def test_dc_dc_gives_its_output_and_takes_its_input(worked: Worked) -> None:
    """20 A for 2 h, 5 A to the fridge: 15 A * 0.99 * 2 h = 29.7 Ah into 100.016 Ah. At 14.6 V out
    and 0.9 that is 324.4 W from the starting battery's posts, beside 20 A of vehicle."""
    supply = "\n".join((
        HOT, AGM, LOAD, HOUSE,
        "chargers: {C1: {type: dc-dc, from: battery, to: house, output: 20 A}}",
    ))  # fmt: skip
    out = OUT.replace("{}}", "{Fridge: 100 %}}")
    only = DAY.replace("Wait, ", "").replace("80 %", "40 %")
    result = worked(supply, f"{FRIDGE}\n{LAMP}", out, only)
    house = day(result, "house")
    assert (house.end_charge or 0.0) - 0.4 == pytest.approx(29.7 / 100.016, abs=1e-4)
    point = day(result).curve[3]
    taken_a = 20.0 * point_v(house) / 0.9 / point.volts
    assert point.drawn_a == pytest.approx(20.0 + taken_a, rel=1e-6)


def point_v(found: DayResult) -> float:
    return found.curve[3].volts


def test_lithium_is_not_charged_below_freezing(worked: Worked) -> None:
    supply = "\n".join((
        HOT, AGM, LOAD, HOUSE,
        "chargers: {C1: {type: dc-dc, from: battery, to: house, output: 20 A}}",
    ))  # fmt: skip
    out = OUT.replace("{}}", "{Fridge: 100 %}}")
    only = DAY.replace("Wait, ", "").replace("25 °C", "-5 °C")
    house = day(worked(supply, f"{FRIDGE}\n{LAMP}", out, only), "house")
    assert house.end_charge == pytest.approx(0.8)  # the charger carries the fridge, no more


def test_sun_and_shore_as_the_scenario_says(worked: Worked) -> None:
    """4 h of 10 A; half of 8 A of sun saves 16 Ah; a shore charger of 20 A fills up."""
    def end(charger: str, more: str) -> float:
        supply = "\n".join((HOT, AGM, LOAD, f"chargers: {{C2: {charger}}}"))
        wait = WAIT.replace("duration", f"{more}, duration")
        found = day(worked(supply, LAMP, wait, DAY.replace(", Out", "")))
        return found.end_charge or 0.0

    solar = "{type: solar, to: battery, output: 8 A}"
    shore = "{type: shore, to: battery, output: 20 A}"
    assert end(solar, "sun: 50 %") == pytest.approx(0.8 - 24.0 / 100.044, abs=1e-4)
    assert end(solar, "shore: yes") == pytest.approx(0.8 - 40.0 / 100.044, abs=1e-4)
    assert end(shore, "shore: yes") > 0.9


def test_engine_computer_stops_short_of_full(worked: Worked) -> None:
    """It leaves room: from 50 % no higher than 80 %; a regulator charges past that."""
    only = DAY.replace("Wait, ", "").replace("80 %", "50 %")
    ends = {}
    for control in ("regulator", "engine computer"):
        supply = "\n".join((HOT.replace("regulator", control), AGM, LOAD))
        ends[control] = day(worked(supply, LAMP, OUT, only)).end_charge or 0.0
    assert ends["engine computer"] <= 0.80
    assert ends["engine computer"] > 0.70
    assert ends["regulator"] > 0.85


def test_cut_off_saves_the_start(worked: Worked) -> None:
    """A panel that opens at 12.4 V keeps what is left; one that would close at once does not."""
    long = WAIT.replace("4 h", "20 h").replace("Lamp: 100 %", "Lamp: 100 %")
    only = DAY.replace(", Out", "")
    slow = LAMP.replace("10 A", "4 A").replace("main", "saver")
    ends = {}
    for name, keys in (
        ("none", "fed_from: battery"),
        ("holds", "fed_from: battery, cut_off: 12.4 V, reconnect: 12.8 V"),
        ("hunts", "fed_from: battery, cut_off: 12.4 V, reconnect: 12.41 V"),
    ):
        panel = f"saver: {{length: 1 m, {keys}}}"
        found = day(worked("\n".join((HOT, AGM, LOAD)), slow, long, only, panel=panel))
        ends[name] = found.end_charge or 0.0
    assert ends["holds"] > ends["none"] + 0.2
    assert ends["hunts"] == pytest.approx(ends["none"], abs=1e-6)


def test_winch_pulls_sag_and_cost(worked: Worked) -> None:
    """3 min in runs of 60 s at 254.4 A (70 + 390 * 20/42.3): 4.24 Ah each; the posts sag."""
    pull = (
        "{name: Winch, kind: winch, current: 250 A, peak: 460 A, pull: 20 kN, rated_pull: 42.3 kN,"
        " no_load: 70 A, duty: 60 s in 10 min, fed_from: battery, length: 1 m, fuse: none,"
        " isolator: 500 A}"
    )
    radio = (
        "{name: Radio, current: 2 A, length: 1 m, fed_from: main, critical: yes,"
        " min_voltage: 10 V}"
    )
    out = OUT.replace("{}}", "{Winch: 3 min, Radio: 100 %}}")
    found = day(worked("\n".join((HOT, AGM, LOAD)), f"{pull}\n{radio}", out,
                       DAY.replace("Wait, ", "")))  # fmt: skip
    (event,) = found.events
    assert event.count == 3
    assert event.seconds == 60.0
    assert event.current_a == pytest.approx(254.397, abs=0.001)
    assert event.charge_ah == pytest.approx(254.397 / 60.0, abs=0.001)
    assert event.pull_n == 20000.0
    assert 11.0 < event.least_v < 12.6
    mean_v = event.energy_wh / event.charge_ah
    assert event.least_v <= mean_v <= 14.4
    (radio_v,) = found.least
    assert radio_v.accessory == "Radio"
    assert event.least_v - 0.7 < radio_v.volts < event.least_v
    assert radio_v.needed_v == 10.0


def test_unknown_stays_unknown(worked: Worked) -> None:
    """No length, no capacity or no alternator: nothing is made up."""
    cases = (
        ("\n".join((HOT, AGM, LOAD)), OUT.replace("duration: 2 h, ", "")),
        ("\n".join((HOT, "battery: {type: agm}", LOAD)), OUT),
        ("\n".join((AGM, LOAD)), OUT),
    )
    for supply, out in cases:
        result = worked(supply, LAMP, out, DAY.replace("Wait, ", ""))
        found = day(result)
        assert found.end_charge is None
        assert found.starts is None
        assert any("cannot be said" in line for line in result.supply.answers)


def test_plain_answers(worked: Worked) -> None:
    result = worked("\n".join((HOT, AGM, LOAD)), LAMP, f"{WAIT}\n{OUT}", DAY)
    up, long, starts = result.supply.answers
    assert up == "The alternator keeps up in Out with 82 % spare."
    assert long.startswith("Engine off, down to the reserve: Wait lasts 4.5 h (4 h asked)")
    assert starts.startswith("After Trip the engine may not start")


def test_order_of_entries_changes_nothing(worked: Worked, make_plan: Callable[..., Plan]) -> None:
    sections = ("\n".join((HOT, AGM, LOAD, HOUSE)), f"{FRIDGE}\n{LAMP}", f"{WAIT}\n{OUT}", DAY)
    turned = (sections[0], f"{LAMP}\n{FRIDGE}", f"{OUT}\n{WAIT}", DAY)
    assert worked(*sections).supply.days == worked(*turned).supply.days
