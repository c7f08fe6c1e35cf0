"""No paper of a plan that does not hold looks as if it did."""

from __future__ import annotations

from pathlib import Path

import pytest

from circuitplan.planfile import read_plan
from circuitplan.planner import study
from circuitplan.report.card import render_card
from circuitplan.report.paper.bench import Wishes, render

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
PAPERS = ("cuts", "parts", "drawings", "panels", "test", "faults")


@pytest.mark.parametrize("name", ["overloaded-compressor.yaml", "owner.yaml"])
def test_papers_and_card_say_what_does_not_hold(name: str) -> None:
    plan = read_plan(EXAMPLES / name)
    result = study(plan)
    bad = result.answer != "ok"
    assert bad == (name == "overloaded-compressor.yaml")
    pages = [render(word, plan, result, Wishes()) for word in PAPERS]
    pages.append(render_card(plan, result))
    for page in pages:
        assert ("NOT OK: this plan does not hold yet (Compressor" in page) == bad
