"""Changes in the user's words, and sheets written as plan files."""

from __future__ import annotations

import re
from dataclasses import fields, is_dataclass, replace
from pathlib import Path
from typing import Any

import pytest

from circuitplan.errors import InputError
from circuitplan.planfile import changes, read_plan, read_text
from circuitplan.planfile.edits import Merge, Remove, apply
from circuitplan.planfile.writing import plan_text

PLAN = """\
circuitplan: 1
system: 12 V
supply:
  battery: 70 Ah
  alternator: {rated: 120 A, speeds: {idle: 1500 r/min}}
  batteries: {house: {capacity: 100 Ah}}
places: {cab: 45 °C, engine bay: 80 °C}
panels:
  main: {place: cab, fed_from: battery}
switches: {S1: 30 A, S3: 20 A}
accessories:
  - {name: Rear lamps, kind: led lamp, switch: S1}
  - {name: Rear lamps left, kind: led lamp, switch: [S1, S3]}
  - {name: Fridge, kind: fridge, power: 60 W, needs: Rear lamps}
scenarios:
  - {name: Night, engine: off, running: {Fridge: 50 %, Rear lamps: 10 %}}
"""


@pytest.mark.parametrize(
    ("words", "change"),
    [
        ("Fridge size 6 mm2", Merge(("accessories", "Fridge"), {"size": "6 mm2"})),
        ("fridge  fed from  main", Merge(("accessories", "Fridge"), {"fed_from": "main"})),
        ("Rear lamps left drop 3 %", Merge(("accessories", "Rear lamps left"), {"drop": "3 %"})),
        (
            "Rear lamps switch S1, S3",
            Merge(("accessories", "Rear lamps"), {"switch": ["S1", "S3"]}),
        ),
        ("S3 type relay", Merge(("switches", "S3"), {"type": "relay"})),
        ("main fuse = 80 A E", Merge(("panels", "main"), {"fuse": "80 A E"})),
        ("engine bay insulation 125 °C", Merge(("places", "engine bay"), {"insulation": "125 °C"})),
        ("battery type agm", Merge(("supply", "battery"), {"type": "agm"})),
        ("house capacity 90 Ah", Merge(("supply", "batteries", "house"), {"capacity": "90 Ah"})),
        ("alternator idle 60 A", Merge(("supply", "alternator"), {"idle": "60 A"})),
        (
            "alternator speeds idle 1800 r/min",
            Merge(("supply", "alternator", "speeds"), {"idle": "1800 r/min"}),
        ),
        ("supply vehicle_load 30 A", Merge(("supply",), {"vehicle_load": "30 A"})),
        ("Night duration 8 h", Merge(("scenarios", "Night"), {"duration": "8 h"})),
        ("wire gauge awg", Merge(("wire",), {"gauge": "awg"})),
        ("practice rescue vehicle", Merge((), {"practice": "rescue vehicle"})),
        ("system 24 V", Merge((), {"system": "24 V"})),
        ("Fridge power chosen", Remove(("accessories", "Fridge", "power"), missing_ok=True)),
    ],
)
def test_words_become_one_edit_that_reads_back(words: str, change: Any) -> None:
    plan = read_text(PLAN)
    found = changes.change(plan, words)
    assert found == [change]
    read_text(apply(PLAN, found))


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("Frige size 6 mm2", "did you mean fridge?"),
        ("Fridge zise 6 mm2", "did you mean size?"),
        ("Fridge", "no name of the plan begins"),
        ("Fridge size", "no value for size"),
        ("", "no name of the plan begins"),
    ],
)
def test_words_that_fit_nothing(words: str, said: str) -> None:
    with pytest.raises(InputError, match=re.escape(said)):
        changes.change(read_text(PLAN), words)


def test_an_added_accessory_gets_a_name_of_its_own() -> None:
    plan = read_text(PLAN)
    text = apply(PLAN, changes.add(plan, "fridge", {"length": "2 m"}))
    assert [a.name for a in read_text(text).accessories][-1] == "Fridge 2"
    text = apply(PLAN, changes.add(plan, "Cold box=fridge", {}))
    assert [a.name for a in read_text(text).accessories][-1] == "Cold box"
    with pytest.raises(InputError, match="already"):
        changes.add(plan, "fridge=fridge", {})


def test_a_swap_drops_the_figures_of_the_old_one() -> None:
    text = apply(PLAN, changes.swap(read_text(PLAN), "Fridge=twin-motor compressor"))
    (found,) = [a for a in read_text(text).accessories if a.name == "Fridge"]
    assert (found.kind, found.power_w) == ("twin-motor compressor", None)
    assert found.needs == ("Rear lamps",)


@pytest.mark.parametrize("name", ["Rear lamps", "rear lamps left", "Fridge", "S1", "S3"])
def test_a_removal_leaves_a_plan_that_reads(name: str) -> None:
    text = apply(PLAN, changes.remove(read_text(PLAN), name))
    plan = read_text(text)
    assert name.casefold() not in {a.name.casefold() for a in plan.accessories}
    assert name not in {s.name for s in plan.switches}


def said(thing: Any) -> Any:
    """A plan's contents without where they stood."""
    if isinstance(thing, tuple):
        return tuple(said(entry) for entry in thing)
    if is_dataclass(thing) and not isinstance(thing, type):
        return {f.name: said(getattr(thing, f.name)) for f in fields(thing) if f.name != "where"}
    return thing


def test_a_list_written_as_a_plan_reads_as_the_same_plan(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text(
        "name,kind,power W,length m,switch,needs\n"
        '"Lamps: rear, left",led lamp,20,2.5,,\n'
        '# 2 fridge,fridge,,3,,"Lamps: rear, left"\n'
        "Null,usb socket,,1,,\n",
        "utf-8",
    )
    plan = read_plan(path)
    again = read_text(plan_text(path))
    assert said(replace(again, file="", sha256="")) == said(replace(plan, file="", sha256=""))
    assert [a.name for a in again.accessories] == ["Lamps: rear, left", "# 2 fridge", "Null"]


def test_a_workbook_written_as_a_plan_reads_as_the_same_plan(tmp_path: Path) -> None:
    from openpyxl import Workbook

    book = Workbook()
    book.remove(book.active)  # type: ignore[arg-type]
    sheets: dict[str, list[list[Any]]] = {
        "accessories": [
            ["name", "kind", "current A", "switch", "place"],
            ["Lamps", "led lamp", None, "S1; S3", "cab"],
            ["Winch", None, 250, None, "cab"],
        ],
        "switches": [["name", "rating A", "type"], ["S1", 20, "direct"], ["S3", 1, "relay"]],
        "places": [["name", "ambient"], ["cab", "45 °C"]],
        "scenarios": [["name", "engine", "running"], ["Night", "off", "Lamps: 50 %; Winch: 10 %"]],
    }
    for title, rows in sheets.items():
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(row)
    path = tmp_path / "plan.xlsx"
    book.save(path)
    plan = read_plan(path)
    again = read_text(plan_text(path))
    assert said(replace(again, file="", sha256="")) == said(replace(plan, file="", sha256=""))
    assert plan.accessories[0].switches == ("S1", "S3")


def test_a_plan_file_is_its_own_text(tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_bytes(PLAN.replace("\n", "\r\n").encode())
    assert plan_text(path) == PLAN.replace("\n", "\r\n")
