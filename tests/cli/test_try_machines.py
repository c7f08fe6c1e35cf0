"""``try`` on the machines of the supply: what the plan says of the rest stays, or goes, and why."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from circuitplan.planfile import read_text
from circuitplan.planfile.wishes.sentence import understood

PLAN = """circuitplan: 1
system: 12 V
supply:
  battery: {type: agm, capacity: 95 Ah, cranking: 850 A}
  alternator: {rated: 120 A, idle: 70 A}
switches: {S1: 20 A}
accessories:
  - {name: Fridge, kind: fridge, length: 3 m}
"""
STAYS = " (the idle output stays 70 A, as the plan gives it)"
GOES = "change alternator idle chosen (figures of the old alternator say nothing of the new one)"


@pytest.mark.parametrize(
    ("sentence", "meant"),
    [
        ("change the alternator to 140 A", [f"change alternator rated 140 A{STAYS}"]),
        ("alternator 140 A", [f"change alternator rated 140 A{STAYS}"]),
        ("make the alternator 140 A", [f"change alternator rated 140 A{STAYS}"]),
        ("raise the alternator to 140 A", [f"change alternator rated 140 A{STAYS}"]),
        ("alternator 140 A idle 80 A", ["change alternator idle 80 A",
                                        "change alternator rated 140 A"]),
        ("swap the alternator for a 140 A one", ["change alternator rated 140 A", GOES]),
        ("fit a 140 A alternator", ["change alternator rated 140 A", GOES]),
        # less than the idle figure: that one cannot hold any more
        ("change the alternator to 60 A", ["change alternator rated 60 A", GOES]),
    ],
)  # fmt: skip
def test_a_changed_figure_keeps_the_rest_and_a_new_machine_does_not(
    sentence: str, meant: list[str]
) -> None:
    said = [w.said() + (f" ({w.note})" if w.note else "") for w in
            understood(read_text(PLAN), sentence)]
    assert said == meant


def test_a_sentence_and_an_option_give_the_same_answer(run: Any, tmp_path: Path) -> None:
    path = tmp_path / "plan.yaml"
    path.write_text(PLAN, "utf-8")
    words = run("try", path, "change the alternator to 140 A", "--json").data
    option = run("try", path, "--change", "alternator rated 140 A", "--json").data
    assert words["after"] == option["after"]
