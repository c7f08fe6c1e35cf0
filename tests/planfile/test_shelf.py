"""The sizes on the shelf: only these are chosen; what is no size is said with its line."""

from __future__ import annotations

import pytest

from circuitplan.errors import InputError
from circuitplan.planfile import read_text
from circuitplan.planner import study

PLAN = """circuitplan: 1
system: 12 V
supply: {battery: {type: agm, capacity: 95 Ah, cranking: 850 A}}
accessories:
  - {name: Lamps, power: 60 W, length: 4 m, return: wire}
  - {name: Pump, power: 100 W, length: 6 m, return: wire, size: 6 mm2}
"""


def sizes(text: str) -> set[str]:
    result = study(read_text(text))
    return {run.size for circuit in result.circuits for run in circuit.runs} | {
        run.size for panel in result.panels for run in panel.feeder
    }


def test_only_what_is_on_the_shelf_is_chosen_and_what_is_given_stays() -> None:
    assert "6 mm²" in sizes(PLAN)
    assert not sizes(PLAN) <= {"6 mm²", "10 mm²", "25 mm²"}
    assert sizes(PLAN + "stock: [10 mm2, 25 mm2]\n") == {"6 mm²", "10 mm²"}
    assert sizes(PLAN + "stock: 10 mm2, 25 mm2\n") == {"6 mm²", "10 mm²"}


def test_a_shelf_that_is_too_thin_fails() -> None:
    assert study(read_text(PLAN + "stock: [1 mm2]\n")).answer == "not ok"


def test_what_is_no_size_is_said_and_a_shelf_of_another_gauge_too() -> None:
    with pytest.raises(InputError) as wrong:
        read_text(PLAN + "stock: [2.5 mm2, 7 mm2]\n")
    assert "7 mm2" in str(wrong.value)
    assert "line 7" in str(wrong.value)
    with pytest.raises(InputError, match="no size of gauge metric"):
        read_text(PLAN + "stock: [14 AWG]\n")
