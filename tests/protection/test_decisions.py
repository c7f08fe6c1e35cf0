"""Every decision of decisions.toml: the program's verdict is the one reached by hand there."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from circuitplan.design.assume import Ledger
from circuitplan.design.load import resolve
from circuitplan.design.protection import protect
from circuitplan.design.protection.protect import Device
from circuitplan.design.wire import Candidate
from circuitplan.library import conductors, insulation, materials
from circuitplan.model.plan import Accessory, Duty, Plan
from circuitplan.physics import fuses, heat, loads, transient

TABLE = tomllib.loads(Path(__file__).with_name("decisions.toml").read_text(encoding="utf-8"))
CASES = [(sort, case) for sort, cases in TABLE.items() for case in cases]


def device(case: dict[str, Any]) -> Device:
    return Device(case["type"], case["rating_a"], 20.0, breaks_a=case.get("stated_a"))


def wire(case: dict[str, Any]) -> Candidate:
    conductor = conductors.get(case["gauge"], case["size"])
    cover = insulation.get(case["insulation_c"], case.get("material"))
    copper = materials.get("copper")
    assert conductor is not None
    assert cover is not None
    assert copper is not None
    return Candidate(conductor, cover, copper)


def least_rating(case: dict[str, Any]) -> float:
    duty = Duty(case["on_s"], case["period_s"]) if "on_s" in case else None
    accessory = Accessory(
        "x", current_a=case["current_a"], load="constant current", back="wire", duty=duty,
        dimmed=case.get("dimmed"),
    )  # fmt: skip
    load = resolve(accessory, Plan(), Ledger())
    return protect.least_rating([(load, case["current_a"])], case.get("ambient_c", 20.0))


def carries(case: dict[str, Any]) -> bool:
    return least_rating(case) <= case["rating_a"] * protect.SLACK


def clears(case: dict[str, Any]) -> bool:
    return protect.clearing(device(case), case["fault_a"]) <= protect.LONGEST_CLEARING_S


def withstands(case: dict[str, Any]) -> bool:
    allowed_s = protect.withstand(wire(case), case["fault_a"])
    return protect.clearing(device(case), case["fault_a"]) <= allowed_s


def passes(case: dict[str, Any]) -> bool:
    steps = [(case["pulse_a"], case["pulse_s"])]
    share = fuses.ride_through(device(case).gates, case["rating_a"], steps)
    return share <= protect.RIDE_THROUGH


def start_share(case: dict[str, Any]) -> float:
    return fuses.decaying_inrush(
        device(case).gates, case["rating_a"], case["running_a"], case["multiple"], case["tau_s"]
    )


def starts(case: dict[str, Any]) -> bool:
    return start_share(case) <= protect.RIDE_THROUGH


def capacitor(case: dict[str, Any]) -> bool:
    """The inrush as a fading start without a running current, of the same peak and I²t."""
    peak_a = loads.capacitor_peak_a(case["volts_v"], case["loop_ohm"])
    tau_s = case["loop_ohm"] * case["farad"]
    assert peak_a**2 * tau_s / 2.0 == pytest.approx(
        loads.capacitor_i2t(case["volts_v"], case["farad"], case["loop_ohm"])
    )
    small_a = 1e-6 * peak_a
    share = fuses.decaying_inrush(
        device(case).gates, case["rating_a"], small_a, peak_a / small_a, tau_s
    )
    return share <= protect.RIDE_THROUGH


def selective(case: dict[str, Any]) -> bool:
    return fuses.selective(
        protect.gates_of(case["up"]), case["up_a"], protect.gates_of(case["down"]),
        case["down_a"], case["fault_a"], case.get("other_a", 0.0),
    )  # fmt: skip


def breaks(case: dict[str, Any]) -> bool:
    return protect.breaks(device(case), case["fault_a"])


def heats(case: dict[str, Any]) -> bool:
    """Whether the winch lead is still at its class of 105 °C or below."""
    body = transient.Body(
        0.527e-3, 0.00393, heat.thermal_resistance_k_m_per_w(8.5, 10.4, 5.5, 105.0, 60.0),
        transient.heat_capacity_j_per_m_k(35.0, 8.5, 10.4), 60.0,
    )  # fmt: skip
    return transient.temperature_after(body, 60.0, case["current_a"], case["seconds"]) <= 105.0


ASKED = {
    "carries": carries, "clears": clears, "withstands": withstands, "passes": passes,
    "starts": starts, "capacitor": capacitor, "selective": selective, "breaks": breaks,
    "heats": heats,
}  # fmt: skip


@pytest.mark.parametrize(
    ("sort", "case"), CASES, ids=[f"{sort}-{n}" for n, (sort, _) in enumerate(CASES)]
)
def test_the_verdict_is_that_reached_by_hand(sort: str, case: dict[str, Any]) -> None:
    assert ASKED[sort](case) is case["verdict"], case["by_hand"]


def test_the_table_is_large_and_stands_on_both_sides_of_every_limit() -> None:
    assert len(CASES) >= 60
    assert set(TABLE) == set(ASKED)
    for sort, cases in TABLE.items():
        assert {case["verdict"] for case in cases} == {True, False}, sort
    assert all(case["by_hand"] for _, case in CASES)


@pytest.mark.parametrize("case", [c for c in TABLE["starts"] if "share" in c],
                         ids=lambda c: str(c["type"]))  # fmt: skip
def test_the_shares_of_a_motor_start(case: dict[str, Any]) -> None:
    """25 A, seven times, fading in 0.1 s: 2.0 of type C 40 A, 0.53 of type E 40 A."""
    assert start_share(case) == pytest.approx(case["share"], rel=0.02)
