"""The picture of the switch bank: every switch and what it works, spare and overload said."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from circuitplan.planfile import read_plan
from circuitplan.planner import study
from circuitplan.planner.room import rooms
from circuitplan.report.switch_bank import switch_bank

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_every_switch_stands_in_its_own_box_with_what_it_works(path: Path) -> None:
    result = study(read_plan(str(path)))
    svg, words = switch_bank(result.switches, rooms(result), "Switches")
    shown = [s for s in result.switches if s.type != "signal"]
    texts = re.findall(r">([^<>]+)</text>", svg)
    for switch in shown:
        assert switch.id in texts
        assert switch.id in words
        for name in switch.works:
            assert name in words
    boxes = re.findall(r'<rect x="([\d.]+)" y="([\d.]+)" width="28.33" height="([\d.]+)"', svg)
    assert len(boxes) == len(shown)
    assert len({(x, y) for x, y, _ in boxes}) == len(boxes)  # none on another


def test_an_overload_is_said_in_words_not_by_the_bar_alone() -> None:
    path = next(p for p in EXAMPLES if p.stem == "overloaded-compressor")
    result = study(read_plan(str(path)))
    svg, words = switch_bank(result.switches, rooms(result), "Switches")
    assert "OVER by" in svg
    assert "OVER by" in words
