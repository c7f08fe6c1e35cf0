"""Connectors on paper: faces seen from the wire side, and the same cavities in every list."""

from __future__ import annotations

import re
import shutil
import subprocess
from functools import cache
from itertools import combinations
from pathlib import Path

import pytest

from circuitplan.design.bench.plugged import connectors
from circuitplan.model.plan import Plan
from circuitplan.model.result import Connector, Result
from circuitplan.planfile import read_text
from circuitplan.planner import study
from circuitplan.planner.comparing import compare
from circuitplan.report.circuit_sheets.connector_faces import WIDTH, caption, face
from circuitplan.report.circuit_sheets.draw import draw
from circuitplan.report.circuit_sheets.pen import TextBox
from circuitplan.report.html import render_html
from circuitplan.report.paper.bench import Wishes, csv_of, render
from circuitplan.report.parts_list.view import lines
from circuitplan.report.pdf import write_pdf
from circuitplan.report.workbook import sheets

PAPER = pytest.mark.skipif(shutil.which("pdftotext") is None, reason="no poppler-utils")
PLAN = """\
circuitplan: 1
title: Connectors of all sorts
system: 12 V
supply: {battery: {type: agm, capacity: 95 Ah, cranking: 850 A, place: shed}}
places: {shed: 30 °C, engine bay: 80 °C, bed: 40 °C}
legs: [[shed, engine bay, 2 m], [shed, bed, 3 m]]
panels:
  main: {place: shed, fed_from: battery, length: 1 m, ways: 8}
  trailer: {place: bed, fed_from: main, length: 6 m,
            connector: {kind: ISO 11446, rating: 20 A, rated_at: 60 °C}}
switches: {S1: {type: relay, rating: 1 A, place: shed}, S2: {rating: 20 A, place: shed}}
accessories:
  - {name: Lamp, current: 5 A, place: engine bay, return: wire, fed_from: main, connector: 2-way}
  - {name: Bar, current: 8 A, place: engine bay, return: wire, fed_from: main, switch: S1,
     connector: {ways: 6, rows: 3 2 1 / 6 5 4, contact: 6.3 mm, rating: 15 A, feed: 3, return: 6,
                 sealed: yes}}
  - {name: Scene lamps, current: 2 A, quantity: 4, tail: 0.7 m, place: bed, return: wire,
     fed_from: main, switch: S2,
     connector: {ways: 4, rows: 2, contact: 2.8 mm, rating: 20 A, rated_at: 80 °C}}
  - {name: Left rear worklamp with an endless name that must be cut off somewhere, current: 2 A,
     quantity: 2, tail: 0.7 m, place: bed, return: chassis, fed_from: main, switch: S2,
     connector: {ways: 16, contact: 2.8 mm, rating: 20 A, rated_at: 80 °C, sealed: no}}
  - {name: Fridge, current: 4 A, place: bed, length: 1 m, fed_from: trailer,
     connector: {kind: ISO 4165, rating: 10 A, rated_at: 60 °C}}
  - {name: Tail lamps, current: 1 A, place: bed, length: 5 m, fed_from: main, return: wire,
     connector: {kind: ISO 1724, feed: 5, rating: 10 A, rated_at: 60 °C}}
  - {name: Big box, current: 1 A, place: bed, length: 5 m, fed_from: main, return: wire,
     connector: {ways: 64, rows: 4, rating: 10 A, rated_at: 60 °C}}
  - {name: Plain, current: 1 A, place: bed, length: 5 m, fed_from: main, return: wire}
"""
Worked = tuple[Plan, Result]


@cache
def _worked(text: str = PLAN) -> Worked:
    plan = read_text(text, "connectors.yaml")
    return plan, study(plan)


@pytest.fixture
def worked() -> Worked:
    return _worked()


def _of(result: Result, name: str) -> Connector:
    return next(c for c in connectors(result) if c.of == name)


def _apart(a: TextBox, b: TextBox) -> bool:
    return (
        a.x + a.w <= b.x or b.x + b.w <= a.x or a.y + a.h <= b.y + 0.05 or b.y + b.h <= a.y + 0.05
    )


def test_nothing_on_a_face_touches_another_or_leaves_it(worked: Worked) -> None:
    for connector in connectors(worked[1]):
        pen = face(connector)
        for a, b in combinations(pen.boxes, 2):
            assert _apart(a, b), f"{connector.of}: {a.text!r} on {b.text!r}"
        for box in pen.boxes:
            assert 0.0 <= box.x <= box.x + box.w <= WIDTH + 0.01, box
            assert 0.0 <= box.y <= box.y + box.h <= pen.canvas.height_mm, box
            assert "…" not in box.text, box


def test_every_text_of_a_cavity_lies_in_its_cell(worked: Worked) -> None:
    """As many cells as cavities; each holds its number, then wire and colour, plug or empty."""
    for connector in connectors(worked[1]):
        pen = face(connector)
        cells = [
            tuple(map(float, found)) for part in pen.canvas.parts
            for found in re.findall(
                r'<rect x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)"', part
            )
        ]
        if connector.rows:
            cells = cells[1:]  # the housing
        assert len(cells) == connector.ways
        order = [n for row in connector.rows for n in row] or [
            c.number for c in connector.cavities
        ]
        by_number = {c.number: c for c in connector.cavities}
        for number, (x, y, w, h) in zip(order, cells, strict=True):
            inside = [
                b.text for b in pen.boxes
                if x <= b.x and b.x + b.w <= x + w and y <= b.y and b.y + b.h <= y + h
            ]
            cavity = by_number[number]
            assert inside[0].split()[0] == number
            if cavity.role == "empty":
                assert inside[-1] == ("plug" if connector.sealed else "empty")
            else:
                assert inside[-2:] == [cavity.run, cavity.colour]


def test_rows_stand_as_the_plan_gives_them(worked: Worked) -> None:
    """3 2 1 over 6 5 4: 3 left of 1, over 6."""
    pen = face(_of(worked[1], "Bar"))
    at = {b.text.split()[0]: (b.x, b.y) for b in pen.boxes if b.text.split()[0] in "123456"}
    assert at["3"][0] < at["2"][0] < at["1"][0]
    assert at["3"][0] == at["6"][0]
    assert at["3"][1] < at["6"][1]
    assert "does not say where" not in caption(_of(worked[1], "Bar"))
    assert "counted off from the top left" in caption(_of(worked[1], "Big box"))


def test_a_face_says_how_it_is_seen_and_a_standard_that_it_is_none(worked: Worked) -> None:
    for connector in connectors(worked[1]):
        title = " ".join(b.text for b in face(connector).boxes)
        assert "the moulded numbers rule" in title
        assert ("seen from the wire side" in title) != connector.standard
        if connector.standard:
            said = caption(connector)
            assert "Where the poles stand is not known here" in said
            assert "from memory" in said
    lamps = " ".join(b.text for b in face(_of(worked[1], "Scene lamps")).boxes)
    assert "One of 4 alike" in lamps


def test_plus_and_minus_stand_at_their_cavities(worked: Worked) -> None:
    texts = {b.text for b in face(_of(worked[1], "trailer")).boxes}
    assert {"9 +", "13 −", "30", "31 of 9"} <= texts
    assert {"+", "-"} <= {b.text for b in face(_of(worked[1], "Fridge")).boxes}


def test_the_schematic_shows_each_cavity_and_nothing_overlaps(worked: Worked) -> None:
    _, result = worked
    for circuit in result.circuits:
        if not circuit.accessories:
            continue
        drawn = draw(circuit, result)
        texts = [b.text for b in drawn.pen.boxes]
        words = re.findall(r'aria-label="([^"]*)"', drawn.svg)[0]
        for connector in circuit.connectors:
            for cavity in connector.cavities:
                label = f"{connector.id}:{cavity.number}"
                assert texts.count(label) == (cavity.role != "empty"), label
                assert (f"connector {label}," in words) == (cavity.role != "empty")
        for a, b in combinations(drawn.pen.boxes, 2):
            assert _apart(a, b), f"{circuit.label}: {a.text!r} on {b.text!r}"
        for box in drawn.pen.boxes:
            assert 0.0 <= box.x + 0.1 <= box.x + box.w <= WIDTH + 0.1, box


SHEETS = ("drawings", "cuts", "labels", "parts", "test", "faults")


def _missing(text: str, word: str, result: Result) -> list[str]:
    """The cavities, or parts, that a sheet should name and does not."""
    wanted = [c.at(x.run) or "" for c in connectors(result) for x in c.cavities if x.run]
    if word in ("cuts", "labels"):  # each of the pieces alike by itself
        wanted = ["X4:1", "X2:6", "X1:9", "X6-4:2"]
    if word == "parts":
        wanted = ["connector housing, 6-way", "connector contact, 6.3 mm blade", "wire seal",
                  "plug for an empty cavity", "plug and socket, ISO 11446 13-pole"]
    plain = re.sub(r"[\s-]+", "", text)
    return [w for w in wanted if re.sub(r"[\s-]+", "", w) not in plain]


@pytest.mark.parametrize("word", SHEETS)
def test_every_cavity_is_in_the_html_of_each_sheet(worked: Worked, word: str) -> None:
    plan, result = worked
    text = re.sub(r"<[^>]+>", "", render(word, plan, result, Wishes()))
    assert _missing(text, word, result) == []


@PAPER
@pytest.mark.slow
@pytest.mark.parametrize("word", SHEETS)
def test_every_cavity_is_in_the_pdf_of_each_sheet(
    worked: Worked, word: str, tmp_path: Path
) -> None:
    plan, result = worked
    path = tmp_path / "sheet.pdf"
    write_pdf(render(word, plan, result, Wishes()), path)
    text = subprocess.run(
        ["pdftotext", "-raw", str(path), "-"], capture_output=True, text=True, check=True
    ).stdout
    assert _missing(text, word, result) == []


def test_the_wiring_summary_names_the_ends(worked: Worked) -> None:
    plan, result = worked
    text = re.sub(r"<[^>]+>", " ", render_html(plan, result))
    for words in ("X2:3 Bar", "X2:6 Bar", "X1:9 trailer"):
        assert words in re.sub(r"\s+", " ", text)


def test_cut_list_and_labels_say_which_piece_goes_where(worked: Worked) -> None:
    """Four tails alike: each ends in a connector of its own, a contact on it."""
    plan, result = worked
    cuts = csv_of("cuts", plan, result, Wishes())
    wire = next(x.run for x in _of(result, "Scene lamps").cavities if x.role == "feed")
    for piece in range(1, 5):
        row = next(r for r in cuts.splitlines() if r.startswith(f"{wire}-{piece},"))
        assert f"X6-{piece}:1 Scene lamps" in row
        assert '"connector contact, 2.8 mm blade"' in row
    assert "X2:3 Bar" in csv_of("labels", plan, result, Wishes())


def test_parts_by_hand(worked: Worked) -> None:
    """Bar, sealed, 6-way: 2 halves x 1 contact a wire, 2 x 4 plugs; the four lamps 4 x 2 x 2
    contacts and 4 x 2 x 2 plugs; the two lamps are not sealed; Big box 2 x 62, Lamp none."""
    plan, result = worked
    found = [p.line for p in lines(plan, result, 1, (), ())]
    mine = [line for line in found if line.group == "Connectors"]
    count = {(x.what, x.note): 0.0 for x in mine}
    for line in mine:
        count[(line.what, line.note)] += line.quantity
    assert count[("wire seal for a connector", "both halves")] == 4
    assert count[("connector contact, 6.3 mm blade", "both halves")] == 4
    assert count[("connector contact, 2.8 mm blade", "both halves")] == 4 * 4 + 2 * 4
    assert count[("plug for an empty cavity", "both halves")] == 8
    assert count[(
        "plug for an empty cavity", "both halves, if the housing is a sealed one"
    )] == 16 + 124
    assert sum(x.quantity for x in mine if "housing, 4-way" in x.what) == 4
    assert not [line for line in found if line.group == "Terminals" and "contact" in line.what]


def test_the_commissioning_sheet_has_a_row_a_cavity(worked: Worked) -> None:
    plan, result = worked
    html = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", render("test", plan, result, Wishes())))
    assert "Connectors, cavity by cavity" in html
    assert re.search(r"X2:3 .{0,40}Bar .{0,40}positive \(\+\) .{0,40}1A", html)
    assert re.search(r"X2:6 .{0,40}Bar .{0,40}negative \(−\) .{0,40}1N", html)
    without = _worked(re.sub(r",\s+connector: (\{[^}]*\}|2-way)", "", PLAN))
    assert not list(connectors(without[1]))
    assert "cavity by cavity" not in render("test", *without, Wishes())


def test_the_workbook_has_them_only_where_there_are_some(worked: Worked) -> None:
    rows = next(s[2] for s in sheets(worked[1]) if s[0] == "connectors")
    assert len(list(rows)) == sum(c.ways for c in connectors(worked[1]))
    without = _worked(re.sub(r",\s+connector: (\{[^}]*\}|2-way)", "", PLAN))
    assert "connectors" not in [s[0] for s in sheets(without[1])]


def test_compare_tells_a_changed_connector(worked: Worked) -> None:
    plan, result = worked
    other = _worked(PLAN.replace("feed: 3, return: 6", "feed: 1, return: 6"))
    changed = compare(plan, result, *other).changed
    said = {(c.subject, c.what): (c.old, c.new) for c in changed}
    assert said[("Bar", "connector feed")] == ("3", "1")
    was, now = said[("Bar", "connector")]
    assert was is not None
    assert now is not None
    assert "1A in 3" in was
    assert "1A in 1" in now
    gone = _worked(PLAN.replace(", connector: 2-way", ""))
    told = [c for c in compare(plan, result, *gone).changed if c.subject == "Lamp"]
    assert ("connector ways", "2", None) in [(c.what, c.old, c.new) for c in told]


def test_compare_tells_the_order_of_a_face() -> None:
    turned = PLAN.replace("rows: 3 2 1 / 6 5 4", "rows: 1 2 3 / 4 5 6")
    changed = compare(*_worked(), *_worked(turned)).changed
    assert ("Bar", "connector rows") in {(c.subject, c.what) for c in changed}


def test_a_panel_and_an_accessory_may_share_a_name(worked: Worked) -> None:
    """Each keeps its own connector in every list."""
    text = re.sub(r"name: Fridge,", "name: Trailer,", PLAN)
    plan, result = _worked(text)
    cuts = csv_of("cuts", plan, result, Wishes())
    assert "X1:9 trailer" in cuts
    assert "X8:+ Trailer" in cuts
    faults = re.sub(r"<[^>]+>", " ", render("faults", plan, result, Wishes()))
    assert "connector X1:9" in faults
    assert "connector X8:+" in faults
