"""The examples, read and studied once, and a plan that holds what they lack."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.planfile import read_plan, read_text
from circuitplan.planner import study

EXAMPLES = Path(__file__).parents[2] / "examples"
OUTPUTS = """\
circuitplan: 1
title: Outputs and body returns
system: 12 V
supply: {battery: 70 Ah, alternator: 120 A}
panels: {main: {place: cab, fed_from: battery, ways: 6}}
places: {cab: 45 °C, bed: 45 °C, engine bay: 80 °C}
legs: [[engine bay, cab, 2 m], [cab, bed, 3 m, conduit]]
switches:
  S1: {label: Roof lamps with a long label for the driver, type: output, rating: 40 A,
       lead: {size: 10 AWG, length: 0.4 m}, live: ignition}
  S2: {type: direct, rating: 20 A, place: cab, label: Rear}
accessories:
  - {name: Flood lamps, kind: led lamp, power: 45 W, quantity: 4, place: bed, tail: 0.7 m,
     switch: S1, return: chassis}
  - {name: Bar, kind: led bar, power: 60 W, place: bed, switch: S1}
  - {name: Left rear worklamp with an endless name that must be cut off somewhere,
     kind: work lamp, power: 25 W, quantity: 2, tail: 0.5 m, place: bed, switch: S2,
     return: chassis}
  - {name: Right lamp, kind: work lamp, power: 25 W, quantity: 2, tail: 0.5 m, place: bed,
     switch: S2}
  - {name: Third lamp, kind: work lamp, power: 25 W, place: bed, switch: S2}
  - {name: Horn, kind: horn, length: 2 m, size: unknown}
"""
NAMES = ("rescue-pickup", "service-truck", "workboat", "owner", "outputs")


@cache
def _worked(name: str) -> tuple[Plan, Result]:
    plan = (
        read_text(OUTPUTS, "outputs.yaml")
        if name == "outputs"
        else read_plan(str(EXAMPLES / f"{name}.yaml"))
    )
    return plan, study(plan)


@pytest.fixture(params=NAMES)
def worked(request: pytest.FixtureRequest) -> tuple[Plan, Result]:
    """Each plan with its result."""
    return _worked(request.param)


@pytest.fixture
def work_of() -> Callable[[str], tuple[Plan, Result]]:
    """One of them by its name."""
    return _worked
