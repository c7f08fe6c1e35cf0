"""Figures that may be slips of the pen are asked about; usual ones are not."""

from __future__ import annotations

from pathlib import Path

import pytest

from circuitplan.planfile import read_plan, read_text
from circuitplan.planfile.unlikely import questions

FOLDER = Path(__file__).parents[2] / "examples"
PLANS = [*sorted(FOLDER.glob("*.yaml")), FOLDER / "owners-list.csv"]


@pytest.mark.parametrize("path", PLANS, ids=lambda path: path.name)
def test_the_examples_raise_no_question(path: Path) -> None:
    assert questions(read_plan(path)) == ()


@pytest.mark.parametrize(
    ("entry", "asked"),
    [
        ("{name: Bar, kind: led bar, length: 4 mm}", "Bar: length 4 mm: is that right?"),
        ("{name: Bar, kind: led bar, length: 120 m}", "Bar: length 120 m: is that right?"),
        ("{name: Box, kind: fridge, current: 8 mA}", "Box: current 8 mA: is that right? A fridge"),
        ("{name: Box, kind: fridge, power: 9 kW}", "Box: power 9000 W: is that right? A fridge"),
    ],
)
def test_a_slip_is_asked_about(entry: str, asked: str) -> None:
    (question,) = questions(read_text(f"circuitplan: 1\nsystem: 12 V\naccessories: [{entry}]\n"))
    assert question.startswith(asked)


def test_a_load_without_kind_is_left_alone() -> None:
    text = "circuitplan: 1\nsystem: 12 V\naccessories: [{name: Clock, current: 8 mA}]\n"
    assert questions(read_text(text)) == ()
