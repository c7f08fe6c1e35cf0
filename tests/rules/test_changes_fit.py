"""Every change that a rule proposes is one that the plan's own reader takes."""

from __future__ import annotations

from pathlib import Path

import base_case as b
import pytest
from rule_fires import FIRES

from circuitplan.planfile import changes, edits
from circuitplan.planfile.reading import read_plan
from circuitplan.rules import judge_all

PLAN = """circuitplan: 1
system: 12 V
supply:
  battery: 70 Ah
  batteries: {house: 100 Ah}
  chargers: {C1: {type: voltage relay, from: battery, to: house, output: 30 A}}
  alternator: 120 A
panels: {main: {fed_from: battery}}
switches: {S1: {type: relay, rating: 1 A}, S3: 20 A, S8: {type: output, rating: 20 A}}
accessories:
  - {name: Fridge, kind: fridge, length: 3 m}
  - {name: Lamp, power: 60 W, length: 3 m, switch: S1}
  - {name: Pump, current: 5 A, length: 3 m, switch: S3}
  - {name: Group, current: 5 A, length: 3 m}
scenarios:
  - {name: Evening, engine: idle, duration: 2 h, running: {Fridge: 100 %}}
"""

PROPOSED = sorted(
    {f.change for case in FIRES for f in judge_all(case.make(b.base())) if f.change is not None}
)


def test_many_rules_propose_a_change() -> None:
    assert len(PROPOSED) >= 15


@pytest.mark.parametrize("words", PROPOSED)
def test_the_change_can_be_made(words: str, tmp_path: Path) -> None:
    file = tmp_path / "plan.yaml"
    file.write_text(PLAN, encoding="utf-8")
    changed = edits.apply(PLAN, changes.change(read_plan(str(file)), words))
    assert changed != PLAN
    file.write_text(changed, encoding="utf-8")
    read_plan(str(file))
