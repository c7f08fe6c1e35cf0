"""The card does not promise that the key cuts what nothing lets it cut."""

from __future__ import annotations

from circuitplan.planfile import read_text
from circuitplan.planner import study
from circuitplan.report import card_essentials

PLAN = """
circuitplan: 1
system: 12 V
supply: {battery: {type: agm, capacity: 95 Ah, cranking: 850 A, place: shed}}
panels: {main: {place: shed, fed_from: battery, length: 1 m%s}}
accessories:
  - {name: Radio, current: 3 A, place: shed, length: 3 m, live: ignition}
"""


def test_a_panel_that_the_key_does_not_cut_is_named() -> None:
    said = " ".join(card_essentials.parked(study(read_text(PLAN % ""))))
    assert "All of main too, unless the key feeds it" in said


def test_nothing_is_said_where_all_is_live_always() -> None:
    plan = read_text((PLAN % "").replace(", live: ignition", ", live: always"))
    assert "unless the key" not in " ".join(card_essentials.parked(study(plan)))
