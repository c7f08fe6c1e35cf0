"""``size``, ``wire`` and ``hours``: answers from figures, without a file."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest


def test_size_chooses_wire_and_fuse(run: Any) -> None:
    answer = run("size", "--current", "20A", "--length", "25ft", "--drop", "1V", "--json")
    data = answer.data
    assert (answer.code, data["answer"]) == (0, "ok")
    wire, fuse, drop = data["run"], data["fuse"], data["drop"]
    assert wire["length_m"] == pytest.approx(7.62)
    assert wire["loop_m"] == pytest.approx(15.24)
    assert drop["total_v"] <= 1.0
    assert 20 / 0.8 <= fuse["rating_a"] <= wire["ampacity_a"]
    text = run("size", "--current", "20A", "--length", "25ft", "--drop", "1V")
    assert text.first.startswith(f"OK: {wire['size']}, fuse {fuse['rating_a']:g} A")


def test_size_at_20_degrees_agrees_with_the_resistance_table(run: Any) -> None:
    # 10 mm² plain copper: 1.82 mΩ/m at 20 °C (ISO 6722-1, from memory): 20 A x 15.24 m.
    words = ("--current", "20A", "--loop", "50ft", "--wire", "10mm2", "--conductor", "20C")
    drop = run("size", *words, "--json").data["drop"]
    assert drop["total_v"] == pytest.approx(20 * 15.24 * 0.00182, rel=1e-3)


@pytest.mark.parametrize(
    ("more", "code", "rules"),
    [
        (("--wire", "14AWG", "--fuse", "40A"), 1, {"A01", "F01", "F02", "D01"}),
        (("--wire", "16 mm2", "--fuse", "60A E"), 0, set()),
        (("--switch", "20A",), 1, {"S01"}),
    ],
)  # fmt: skip
def test_size_judges_what_is_there(
    run: Any, more: tuple[str, ...], code: int, rules: set[str]
) -> None:
    answer = run("size", "--current", "30A", "--length", "2m", *more, "--json")
    assert answer.code == code
    assert {f["rule"] for f in answer.data["findings"] if f["fails"]} == rules


def test_more_length_never_thins_the_wire(run: Any) -> None:
    areas = [
        run("size", "--current", "15A", "--length", f"{m}m", "--json").data["run"]["area_mm2"]
        for m in (1, 3, 6, 10)
    ]
    assert areas == sorted(areas)
    assert areas[0] < areas[-1]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--current", "20", "--length", "3m"], "--current: '20', a number without a unit"),
        (["--current", "20A"], "the length is not clear"),
        (["--current", "20A", "--power", "5W", "--length", "3m"], "the draw is not clear"),
        (["--current", "20A", "--length", "3m", "--system", "400V"], "60 V"),
        (["--current", "20A", "--length", "3m", "--gauge", "metrik"], "metric, awg"),
        (["--current", "20A", "--length", "3m", "--wire", "13.7 mm2"], "13.7"),
        (["--current", "20A", "--length", "3m", "--insulation", "107C"], "--insulation"),
        (["--kind", "frige", "--length", "3m"], "nearest: fridge"),
        (["--current", "2,5A", "--length", "3m"], "comma"),
    ],
)
def test_size_says_what_it_cannot_use(run: Any, words: list[str], said: str) -> None:
    answer = run("size", *words)
    assert answer.code == 2
    assert said in " ".join(answer.out.split())


def test_a_wire_is_named_at_its_thinnest(run: Any) -> None:
    # H07V-K 1 mm² is 2.6 mm outside, 1.5 mm² is 3.1 mm (IEC 60228 class 5, from memory).
    data = run("wire", "--outside", "3mm", "--json").data
    assert (data["size"], data["area_mm2"], data["gauge"]) == ("1 mm² class 5", 1.0, "iec")
    assert data["max_fuse_a"] <= data["ampacity_a"]
    assert run("wire", "--outside", "3mm").first.startswith("OK: count it as 1 mm²")


def test_a_wire_leads_with_what_may_stay_on(run: Any) -> None:
    data = run("wire", "--outside", "3mm", "--ambient", "20C", "--json").data
    # Continuous load at most 0.8 of the fuse; IEC 60228 class 5, 1 mm²: 19.5 ohm/km at 20 °C and
    # 0.00393 per kelvin, at no less than the surroundings and no more than the class (70 °C).
    assert data["continuous_a"] == pytest.approx(0.8 * data["max_fuse_a"])
    assert data["continuous_w"] == pytest.approx(12 * data["continuous_a"])
    cold = 0.0195 * data["continuous_a"]
    assert cold <= data["drop_v_per_m"] <= cold * (1 + 0.00393 * 50)
    hot = run("wire", "--outside", "3mm", "--ambient", "50C", "--json").data
    assert hot["continuous_a"] < 0.8 * hot["max_fuse_a"]
    said = " ".join(run("wire", "--outside", "3mm").out.split())
    assert "what stays on may draw " in said.split("The wire itself may carry")[0]


def test_strands_are_counted(run: Any) -> None:
    data = run("wire", "--strands", "19", "--strand", "0.3mm", "--json").data
    assert data["measured_mm2"] == pytest.approx(19 * math.pi / 4 * 0.3**2)
    assert data["area_mm2"] <= data["measured_mm2"]
    awg = run("wire", "--strands", "19", "--strand", "0.3mm", "--gauge", "awg", "--json").data
    assert awg["size"] == "16 AWG"


def test_a_hotter_place_never_gives_a_larger_fuse(run: Any) -> None:
    fuses = [
        run("wire", "--outside", "4mm", "--insulation", "105C", "--ambient", f"{t}C", "--json")
        .data["max_fuse_a"]
        for t in (30, 50, 70, 80)
    ]  # fmt: skip
    assert fuses == sorted(fuses, reverse=True)


def test_a_hair_is_no_wire(run: Any) -> None:
    assert run("wire", "--outside", "0.5mm").code == 2
    assert run("wire", "--outside", "3mm", "--insulation", "107C").code == 2


def test_hours_of_a_kind(run: Any) -> None:
    answer = run("hours", "--battery", "95Ah", "--kind", "fridge", "--json")
    data = answer.data
    assert answer.code == 0
    assert 0 < data["hours_to_reserve"] < data["hours_to_empty"]
    assert data["hours_to_empty"] * data["current_a"] <= 95.0
    assert {"vehicle", "battery", "fridge"} <= {a["subject"] for a in data["assumptions"]}
    alone = run("hours", "--battery", "95Ah", "--kind", "fridge", "--parked", "0A", "--json").data
    assert alone["hours_to_reserve"] > data["hours_to_reserve"]


def test_hours_of_a_plan(run: Any, plan: Path) -> None:
    answer = run("hours", plan, "fridge", "--json")
    assert answer.code == 0
    assert answer.data["name"] == "Fridge"
    text = run("hours", plan, "Fridge")
    assert text.first.startswith("OK: Fridge runs ")
    assert f"{answer.data['hours_to_reserve']:.1f} h" in text.first


def test_hours_that_cannot_be_said(run: Any, plan: Path) -> None:
    plan.write_text(plan.read_text("utf-8").replace("battery: 70 Ah, ", ""), "utf-8")
    answer = run("hours", plan, "Fridge")
    assert answer.code == 1
    assert answer.first.startswith("CANNOT SAY: ")
    assert run("hours", plan, "Fridge", "--json").data["hours_to_reserve"] is None


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--kind", "fridge"], "no battery"),
        (["--battery", "95"], "95"),
        (["--battery", "95Ah"], "the load is not clear"),
        (["--battery", "95Ah", "--kind", "fridge", "--system", "11V"], "12, 24 or 48 V"),
        (["--battery", "95Ah", "--kind", "fridge", "--battery-type", "zinc"], "flooded"),
    ],
)
def test_hours_says_what_it_cannot_use(run: Any, words: list[str], said: str) -> None:
    answer = run("hours", *words)
    assert answer.code == 2
    assert said in " ".join(answer.out.split())


def test_hours_of_a_plan_wants_a_name(run: Any, plan: Path) -> None:
    answer = run("hours", plan)
    assert answer.code == 2
    assert "Fridge" in answer.out
    assert run("hours", plan, "Frigde").code == 2
