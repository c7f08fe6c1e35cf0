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
MOTORS = """\
circuitplan: 1
title: Motors with names that must be cut off
system: 24 V
supply: {battery: 95 Ah, alternator: 120 A}
panels: {body panel behind the left rear door: {place: body, fed_from: battery, ways: 9}}
places: {body: 45 °C, roof: 55 °C, engine bay: 80 °C}
legs: [[engine bay, body, 4 m], [body, roof, 3 m, conduit]]
switches:
  S1: {label: Awning and everything else with a long label, type: relay, rating: 2 A}
  S2: {label: Extractor with a long label for the cook, type: relay, rating: 2 A, place: roof}
  S3: {type: direct, rating: 20 A, place: roof}
  S4: {type: direct, rating: 20 A, lead: {length: 0.4 m}, label: Vane in the duct of the roof}
accessories:
  - {name: Left awning motor with an endless name that must be cut off somewhere, kind: motor,
     current: 4 A, quantity: 2, motor: reversing, place: roof, switch: S1}
  - {name: Extractor above the griddle with an endless name, current: 3.5 A, load: fan motor,
     motor: two-speed, low_speed: 2 A, place: roof, switch: S2, return: chassis}
  - {name: Counter blind with an endless name that must be cut off, kind: window motor,
     current: 3 A, motor: reversing, length: 12.5 m, switch: S3}
  - {name: Vane, kind: fan, power: 60 W, motor: two-speed, length: 2 m, switch: S4}
"""
MADE = {"outputs": OUTPUTS, "motors": MOTORS}
NAMES = (
    "rescue-pickup", "service-truck", "workboat", "owner", "market-van", *MADE,
)


@cache
def _worked(name: str) -> tuple[Plan, Result]:
    plan = (
        read_text(MADE[name], f"{name}.yaml")
        if name in MADE
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
