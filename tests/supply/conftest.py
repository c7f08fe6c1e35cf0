"""Plans in a few lines for the tests of the supply."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.planfile import read_text
from circuitplan.planner import design

HEAD = """\
circuitplan: 1
system: {volts} V
switches: {{S1: {{type: relay, rating: 1 A}}}}
panels:
  main: {{fed_from: {feed}, length: 1 m}}
"""


def plan_of(
    supply: str, accessories: str, scenarios: str, days: str = "", volts: int = 12,
    feed: str = "battery", panel: str = "",
) -> Plan:
    """A plan from the bodies of its sections; lists one entry a line.

    It holds a panel ``main`` (``panel``: one more line) and a relay switch S1.
    """

    def listed(name: str, body: str) -> str:
        return f"{name}:\n" + "".join(f"  - {line}\n" for line in body.strip().splitlines())

    text = HEAD.format(volts=volts, feed=feed)
    text += f"  {panel}\n" if panel else ""
    text += "supply:\n" + "".join(f"  {line}\n" for line in supply.strip().splitlines())
    text += listed("accessories", accessories)
    if scenarios:
        text += listed("scenarios", scenarios)
    if days:
        text += listed("days", days)
    return read_text(text)


@pytest.fixture(scope="session")
def make_plan() -> Callable[..., Plan]:
    return plan_of


@pytest.fixture(scope="session")
def worked() -> Callable[..., Result]:
    """Sections of a plan -> its result at the safe ends."""
    def run(*sections: str, **options: object) -> Result:
        return design(plan_of(*sections, **options), ()).result  # type: ignore[arg-type]

    return run
