"""Heads in other words of the trade, heads that mean nothing, switches that a list brings."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import openpyxl
import pytest

from circuitplan.errors import InputError, Problem
from circuitplan.model.plan import Plan
from circuitplan.planfile import read_plan


def csv(folder: Path, text: str) -> Plan:
    path = folder / "loads.csv"
    path.write_text(text, encoding="utf-8")
    return read_plan(path)


def problems(folder: Path, text: str) -> tuple[Problem, ...]:
    with pytest.raises(InputError) as caught:
        csv(folder, text)
    return caught.value.problems


def book(folder: Path, sheets: dict[str, list[list[Any]]]) -> Path:
    made = openpyxl.Workbook()
    made.remove(made.active)
    for name, rows in sheets.items():
        sheet = made.create_sheet(name)
        for row in rows:
            sheet.append(row)
    path = folder / "loads.xlsx"
    made.save(path)
    return path


@pytest.mark.parametrize(
    "heads",
    [
        "Item,Type,Watts,Qty,Metres,Gauge",
        "name,what,W,count,length one way (m),wire",
        "Accessory,kind,power (W) each,pcs,wire length in m,Wire size",
        "device,what,wattage,No.,m,size",
    ],
)
def test_heads_in_other_words_of_the_trade(heads: str, tmp_path: Path) -> None:
    (lamp,) = csv(tmp_path, f"{heads}\nBar,led bar,120,2,3.5,14 AWG\n").accessories
    assert (lamp.name, lamp.kind, lamp.power_w, lamp.quantity) == ("Bar", "led bar", 120.0, 2)
    assert (lamp.length_m, lamp.wire.gauge, lamp.wire.size) == (3.5, "awg", "14")


def test_amps_volts_and_feet(tmp_path: Path) -> None:
    (pump,) = csv(tmp_path, "item,amps,volts,ft,mm2\nPump,7.5,13.5,10,2.5\n").accessories
    assert (pump.current_a, pump.rated_v) == (7.5, 13.5)
    assert pump.length_m == pytest.approx(3.048)
    assert (pump.wire.gauge, pump.wire.size) == ("metric", "2.5")


def test_a_column_that_numbers_rows_is_not_taken_for_quantities(tmp_path: Path) -> None:
    (problem,) = problems(tmp_path, "No.,name,kind\n1,A,fan\n2,B,fan\n3,C,fan\n")
    assert "'No.' above 1, 2, 3" in problem.found
    assert "number" in problem.remedy


def test_unknown_heads_are_told_once(tmp_path: Path) -> None:
    (problem,) = problems(tmp_path, "name,kind,supplier,ordered,lenght m\nA,fan,x,y,3\n")
    assert "'supplier', 'ordered' (D1), 'lenght m' (E1)" in problem.found
    assert problem.allowed.startswith("name, number, kind, quantity")
    assert "length for 'lenght m'" in problem.remedy
    assert problem.cell == "C1"


def test_a_list_may_bring_its_switches(tmp_path: Path) -> None:
    text = "name,kind,switch,switch rating A\nA,fan,S1,20\nB,fan,s1,\nC,fan,S2,10\n"
    plan = csv(tmp_path, text)
    assert [(s.name, s.type, s.rating_a) for s in plan.switches] == [
        ("S1", "direct", 20.0), ("S2", "direct", 10.0),
    ]  # fmt: skip
    assert [a.switches for a in plan.accessories] == [("S1",), ("S1",), ("S2",)]


def test_a_switch_without_rating_does_not_pass_in_silence(tmp_path: Path) -> None:
    (problem,) = problems(tmp_path, "name,kind,switch\nA,fan,S1\nB,fan,S2; S1\n")
    assert problem.found == "switches 'S1', 'S2' without a rating"
    assert "column 'switch rating A'" in problem.remedy
    assert "sheet 'switches' headed name, rating" in problem.remedy
    told = problems(tmp_path, "name,kind,switch,switch rating A\nA,fan,S1,20\nB,fan,S1,30\n")
    assert "S1 rated 30 A here and 20 A above" in told[0].found


def test_a_workbook_gives_ratings_on_a_sheet_of_its_own(tmp_path: Path) -> None:
    path = book(tmp_path, {
        "switches": [["name", "rating A"], ["S1", 20]],
        "accessories": [["item", "what", "switch"], ["Bar", "led bar", "S1"]],
    })  # fmt: skip
    assert read_plan(path).switches[0].rating_a == 20.0
    path = book(tmp_path, {"accessories": [["item", "what", "switch"], ["Bar", "led bar", "S1"]]})
    with pytest.raises(InputError) as caught:
        read_plan(path)
    assert "'S1' without a rating" in caught.value.problems[0].found
