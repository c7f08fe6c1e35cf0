"""Values standing alone, yes and no, and comments close behind a name."""

from __future__ import annotations

import pytest

from circuitplan.planfile import read_text


def test_short_forms() -> None:
    plan = read_text(
        "circuitplan: 1\nsupply: {battery: 70 Ah, alternator: 120 A, vehicle_load: 30 A}\n"
        "places: {cab: 45 °C}\nswitches: {S1: 30 A}\n"
        "accessories: [{name: A, kind: fan, switch: S1}]\n"
    )
    assert plan.supply.batteries[0].capacity_ah == 70.0
    assert plan.supply.alternator is not None
    assert plan.supply.alternator.rated_a == 120.0
    assert dict(plan.supply.vehicle_load_a) == {"idle": 30.0, "high idle": 30.0, "cruise": 30.0}
    assert plan.places[0].ambient_c == 45.0
    assert plan.switches[0].rating_a == 30.0
    assert plan.accessories[0].switches == ("S1",)
    assert not plan.nominal_given


@pytest.mark.parametrize(("word", "hot"), [("no", False), ("yes", True), ("true", True)])
def test_yes_and_no_are_read_from_their_text(word: str, hot: bool) -> None:
    plan = read_text(
        f"circuitplan: 1\nsupply: {{alternator: {{rated: 9 A, hot: {word}}}}}\n"
        "accessories: [{name: A, kind: fan}]\n"
    )
    assert plan.supply.alternator is not None
    assert plan.supply.alternator.hot is hot


def test_a_comment_with_two_spaces_cuts_no_name() -> None:
    plan = read_text("circuitplan: 1\naccessories:\n  - name: Fan  # in the bed\n    kind: fan\n")
    assert plan.accessories[0].name == "Fan"
