"""The tree with its copper: every feeder and circuit once, and weights that add up to the whole."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from circuitplan.planfile import read_plan
from circuitplan.planner import study
from circuitplan.planner.measures import copper_kg as whole_kg
from circuitplan.report.copper_tree import copper_tree, rows

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_each_feeder_and_circuit_stands_once_and_all_copper_is_there(path: Path) -> None:
    result = study(read_plan(str(path)))
    found = rows(result)
    names = [row.name for row in found if row.depth]
    expected = [p.id for p in result.panels] + [f"{c.number} {c.label}" for c in result.circuits]
    assert sorted(names) == sorted(expected)
    assert sum(row.kg for row in found) == pytest.approx(whole_kg(result))
    by_hand = sum(
        r.area_mm2 * 1e-6 * r.length_m * r.pieces * 8960.0
        for c in result.circuits for r in c.runs
    )  # m² x m x 8960 kg/m³
    assert sum(row.kg for row in found if not row.feeder) == pytest.approx(by_hand)


def test_the_longest_bar_is_the_heaviest_and_bars_are_in_proportion() -> None:
    result = study(read_plan(str(next(p for p in EXAMPLES if p.stem == "rescue-pickup"))))
    svg, words = copper_tree(result, "Copper")
    bars = [float(w) for w in re.findall(r'<rect x="66" y="[\d.]+" width="([\d.]+)"', svg)]
    heavy = [row.kg for row in rows(result) if row.kg > 0.0]
    assert len(bars) == len(heavy)
    assert max(bars) == pytest.approx(66.0)
    for bar, kg in zip(bars, heavy, strict=True):
        assert bar == pytest.approx(max(0.4, 66.0 * kg / max(heavy)), abs=0.01)
    assert "in all" in words
