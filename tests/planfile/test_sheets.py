"""Lists and workbooks: heads in any order and dress, cells as people see them."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from circuitplan.errors import InputError, Problem
from circuitplan.model.plan import Accessory, Plan
from circuitplan.planfile import read_plan, read_text


def csv(folder: Path, text: str, encoding: str = "utf-8") -> Plan:
    path = folder / "loads.csv"
    path.write_bytes(text.encode(encoding))
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


def book_problems(path: Path) -> tuple[Problem, ...]:
    with pytest.raises(InputError) as caught:
        read_plan(path)
    return caught.value.problems


ALIKE = {
    "comma":
        "name,kind,power W,quantity,length m,size mm2\nFridge,fridge,,1,5.5,\nLamp,,20,2,6,2.5\n",
    "semicolon with decimal commas":
        "name;kind;power W;quantity;length m;size mm2\nFridge;fridge;;1;5,5;\nLamp;;20;2;6;2,5\n",
    "tab": "name\tkind\tpower W\tquantity\tlength m\tsize mm2\nFridge\tfridge\t\t1\t5.5\t\n"
           "Lamp\t\t20\t2\t6\t2.5\n",
    "byte order mark and other line ends":
        "\ufeffname,kind,power W,quantity,length m,size mm2\r\nFridge,fridge,,1,5.5,\r\n"
        "Lamp,,20,2,6,2.5\r\n",
    "heads in another order and dress":
        "Length (m), SIZE [mm²] ,Name,Quantity,Power in W,Kind\n"
        "5.5,,Fridge,1,,fridge\n6,2.5,Lamp,2,20,\n",
    "units in the cells":
        "name,kind,power,quantity,length,size\nFridge,fridge,,1,5.5 m,\n"
        "Lamp,,20 W,2,600 cm,2.5 mm²\n",
    "quotes, blank rows and columns":
        '"name","kind","power W",,"quantity","length m","size mm2"\n,,,,,,\n'
        '"Fridge","fridge","",,"1","5.5",""\n\n"Lamp","","20",,"2","6","2.5"\n',
    "a separator line": "sep=;\nname;kind;power W;quantity;length m;size mm2\n"
                        "Fridge;fridge;;1;5,5;\nLamp;;20;2;6;2,5\n",
}  # fmt: skip


@pytest.mark.parametrize("case", ALIKE)
def test_one_list_in_many_dresses(case: str, tmp_path: Path) -> None:
    plan = csv(tmp_path, ALIKE[case])
    fridge, lamp = plan.accessories
    assert (fridge.name, fridge.kind, fridge.quantity, fridge.length_m) == (
        "Fridge", "fridge", 1, 5.5,
    )  # fmt: skip
    assert (lamp.name, lamp.power_w, lamp.quantity, lamp.length_m) == ("Lamp", 20.0, 2, 6.0)
    assert (lamp.wire.gauge, lamp.wire.size) == ("metric", "2.5")
    assert (plan.nominal_v, plan.nominal_given, plan.supply_given) == (12.0, False, False)


def test_names_keep_their_commas(tmp_path: Path) -> None:
    plan = csv(tmp_path, 'name,kind\n"Lamp, left",work lamp\n')
    assert plan.accessories[0].name == "Lamp, left"


SPOILED = {
    "bare number": ("name,power\nLamp,20\n", 2, "B2", "without a unit"),
    "wrong unit in the head": ("name,power A\nLamp,20\n", 2, "B2", "a current"),
    "unknown head": ("name,powr W,kind\nLamp,20,fan\n", 1, "B1", "unknown head"),
    "no names": ("kind,power W\nfan,20\n", 1, "A1", "no column 'name'"),
    "head twice": ("name,kind,power W,Power (W)\nLamp,fan,20,20\n", 1, "D1", "'Power (W)'"),
    "column without a head": ("name,kind,\nLamp,fan,7\n", 1, "C1", "without a head"),
    "cell beyond the heads": ("name,power W\nLamp,2,5\n", 2, "C2", "without a head"),
    "decimal comma among commas": ('name,power W\nLamp,"2,5"\n', 2, "B2", "comma"),
    "point for thousands": ("name;power W\nLamp;1.500\n", 2, "B2", "thousands"),
    "formula": ("name,power W\nLamp,=A1*2\n", 2, "B2", "a formula"),
    "error value": ("name,kind,power W\nLamp,fan,#REF!\n", 2, "C2", "error value"),
    "name twice": ("name,kind\nFan,fan\nfan,fan\n", 3, "A3", "a second time"),
    "switch that nothing says": ("name,kind,switch\nFan,fan,S1\n", 2, "C2", "'S1'"),
    "no end of quotes": ('name,kind\n"Fan,fan\n', 2, None, "broken CSV"),
    "heads alone": ("name,kind\nFan,\n", 2, "A2", "without kind"),
}


@pytest.mark.parametrize("case", SPOILED)
def test_one_clear_problem_with_its_cell(case: str, tmp_path: Path) -> None:
    text, line, cell, found = SPOILED[case]
    told = problems(tmp_path, text)
    assert len(told) == 1, [str(p) for p in told]
    assert found in told[0].found
    assert (told[0].line, told[0].cell) == (line, cell)
    assert f"line {line}" in told[0].where
    assert told[0].remedy


SECTIONS: dict[str, list[list[Any]]] = {
    "plan": [["key", "value"], ["title", "Pickup"], ["system", "24 V"], ["revision", 1.5]],
    "job": [["number", "R-1"], ["date", date(2026, 3, 2)]],
    "supply": [
        ["battery type", "agm"], ["Battery capacity", "95 Ah"], ["alternator rated (A)", 180],
        ["alternator speeds idle", "1500 rpm"], ["vehicle load idle A", 32],
        ["vehicle_load parked", "35 mA"],
    ],
    "batteries": [["name", "capacity Ah"], ["house", 100]],
    "chargers": [["name", "type", "from", "to", "output A"],
                 ["C1", "dc-dc", "battery", "house", 30]],
    "places": [["name", "ambient °C"], ["cab", 45], ["bed", 50]],
    "legs": [["from", "to", "length m", "way"], ["cab", "bed", 3.1, "conduit"]],
    "panels": [["name", "place", "fed from", "fuse A", "size mm2"],
               ["main", "cab", "battery", 100, 35]],
    "switches": [["Name", "Type", "Rating A", "lead size AWG", "lead length m"],
                 ["S1", "output", 40, 10, 0.4], ["S2", "direct", 20, None, None]],
    "accessories": [["name", "power W", "place", "fed from", "switch", "drop %", "critical"],
                    ["Lamp", 45, "bed", "main", "S1; S2", 3, True],
                    ["Pump", 60, "bed", "main", "s2", "0.5 V", False]],
    "scenarios": [["name", "engine", "duration h", "running"],
                  ["Night", "off", 3, "Lamp: 50 %; Pump: 4 min"]],
    "days": [["name", "order", "charge"], ["Call", "Night; Night", 0.9]],
}  # fmt: skip


def test_a_workbook_with_a_sheet_a_section(tmp_path: Path) -> None:
    path = book(tmp_path, SECTIONS)
    made = openpyxl.load_workbook(path)
    made["days"]["C2"].number_format = "0%"
    made.save(path)
    plan = read_plan(path)
    same = read_text("""\
circuitplan: 1
title: Pickup
system: 24 V
revision: 1.5
job: {number: R-1, date: 2026-03-02}
supply:
  battery: {type: agm, capacity: 95 Ah}
  alternator: {rated: 180 A, speeds: {idle: 1500 rpm}}
  vehicle_load: {idle: 32 A, parked: 35 mA}
  batteries: {house: 100 Ah}
  chargers: {C1: {type: dc-dc, from: battery, to: house, output: 30 A}}
places: {cab: 45 °C, bed: 50 °C}
legs: [[cab, bed, 3.1 m, conduit]]
panels: {main: {place: cab, fed_from: battery, fuse: 100 A, size: 35 mm2}}
switches: {S1: {type: output, rating: 40 A, lead: {size: 10 AWG, length: 0.4 m}}, S2: 20 A}
accessories:
  - {name: Lamp, power: 45 W, place: bed, fed_from: main, switch: [S1, S2], drop: 3 %,
     critical: yes}
  - {name: Pump, power: 60 W, place: bed, fed_from: main, switch: S2, drop: 0.5 V, critical: no}
scenarios: [{name: Night, engine: off, duration: 3 h, running: {Lamp: 50 %, Pump: 4 min}}]
days: [{name: Call, order: [Night], charge: 90 %}]
""")
    assert _nowhere(plan) == _nowhere(same)
    assert plan.accessories[0].where == f"{path}, sheet accessories, cell A2"


def _nowhere(plan: Plan) -> str:
    import re

    text = re.sub(r"where='[^']*'", "", repr(plan))
    return re.sub(r"(file|sha256)='[^']*'", "", text)


def test_one_sheet_of_any_name_is_the_list(tmp_path: Path) -> None:
    path = book(tmp_path, {"Sheet1": [["name", "power W"], ["Lamp", 20]], "Sheet2": []})
    (lamp,) = read_plan(path).accessories
    assert isinstance(lamp, Accessory)
    assert lamp.power_w == 20.0


LIST = [["name", "power W"], ["Lamp", 20], ["Fan", 30]]


def _merge(made: Any) -> None:
    made["list"].merge_cells("B2:B3")


def _formula(made: Any) -> None:
    made["list"]["B2"] = "=10*2"


def _error(made: Any) -> None:
    made["list"]["B3"] = "#REF!"


def _hide_row(made: Any) -> None:
    made["list"].row_dimensions[3].hidden = True


def _hide_column(made: Any) -> None:
    made["list"].column_dimensions["B"].hidden = True


def _unknown_sheet(made: Any) -> None:
    made["list"].title = "accessories"
    made.create_sheet("swiches").append(["name", "rating A"])


def _hide_sheet(made: Any) -> None:
    made["list"].title = "accessories"
    extra = made.create_sheet("switches")
    extra.append(["name", "rating A"])
    extra.append(["S1", 30])
    extra.sheet_state = "hidden"


def _far_cell(made: Any) -> None:
    made["list"]["A90000"] = "x"


def _bare(made: Any) -> None:
    made["list"]["B1"] = "power"


BOOKS = {
    "merged cells": (_merge, 1, "merged cells B2:B3", "sheet list, cell B2"),
    "formula": (_formula, 1, "a formula", "sheet list, cell B2"),
    "error value": (_error, 1, "error value", "sheet list, cell B3"),
    "hidden row": (_hide_row, 1, "hidden row 3", "sheet list, cell A3"),
    "hidden column": (_hide_column, 1, "hidden column B", "sheet list, cell B1"),
    "unknown sheet": (_unknown_sheet, 1, "unknown sheet 'swiches'", "sheet swiches"),
    "hidden sheet": (_hide_sheet, 1, "hidden sheet", "sheet switches"),
    "bare numbers": (_bare, 2, "without a unit", "sheet list, cell B2"),
}


@pytest.mark.parametrize("case", BOOKS)
def test_spoiled_workbooks(case: str, tmp_path: Path) -> None:
    spoil, count, found, where = BOOKS[case]
    path = book(tmp_path, {"list": LIST})
    made = openpyxl.load_workbook(path)
    spoil(made)
    made.save(path)
    told = [p for p in book_problems(path) if case == "bare numbers" or "kind" not in p.found]
    assert len(told) == count, [str(p) for p in told]
    assert found in told[0].found
    assert told[0].where.endswith(where)
    assert told[0].remedy


def test_a_workbook_far_too_long(tmp_path: Path) -> None:
    path = book(tmp_path, {"list": LIST})
    made = openpyxl.load_workbook(path)
    _far_cell(made)
    made.save(path)
    assert "90000 rows" in book_problems(path)[0].found


def test_a_workbook_packed_to_burst(tmp_path: Path) -> None:
    import zipfile

    path = tmp_path / "loads.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/workbook.xml", b" " * 50_000_000)
    (problem,) = book_problems(path)
    assert "50 MB unpacked" in problem.found


def test_a_damaged_workbook(tmp_path: Path) -> None:
    import zipfile

    path = tmp_path / "loads.xlsx"
    with zipfile.ZipFile(path, "w") as packed:
        packed.writestr("xl/workbook.xml", b"<broken")
    (problem,) = book_problems(path)
    assert "cannot be read" in problem.found
