"""The column Wire: every size of a circuit's feed, within its width."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

PLAN = """circuitplan: 1
system: 12 V
supply: {battery: {type: agm, capacity: 100 Ah}, alternator: 150 A}
places: {cab: 30 °C, bed: 30 °C}
legs: [[cab, bed, 3 m]]
panels: {main: {place: cab, fed_from: battery, rating: 100 A, length: 1 m}}
accessories:
  - {name: Lamp a, power: 60 W, inrush: 6 A, place: bed, number: 3, size: SIZE_A}
  - {name: Lamp b, power: 10 W, inrush: 1 A, place: bed, number: 3, size: SIZE_B}
circuits: {3: {split: bed, size: TRUNK}}
"""


@pytest.mark.parametrize(("trunk", "one", "other", "said"), [
    ("6 mm2", "6 mm2", "6 mm2", "6 mm²"),
    ("10 mm2", "4 mm2", "1 mm2", "1 to 10 mm²"),
    ("10 mm2", "4 mm2", "0.75 mm2", "0.75 to 10 mm²"),
    ("8 AWG", "12 AWG", "16 AWG", "16 to 8 AWG"),
    ("10 mm2", "4 mm2", "16 AWG", "up to 10 mm²"),
])
def test_all_sizes_of_a_circuit_stand_in_its_line(
    run: Any, tmp_path: Path, trunk: str, one: str, other: str, said: str
) -> None:
    plan = tmp_path / "lamps.yaml"
    text = PLAN.replace("TRUNK", trunk).replace("SIZE_A", one).replace("SIZE_B", other)
    plan.write_text(text, encoding="utf-8")
    answer = run("check", plan)
    (line,) = [ln for ln in answer.lines if re.match(r"!? +3  Lamp a, Lamp b  ", ln)]
    assert f" A  {said}  " in line
    assert max(map(len, answer.lines)) <= 80
