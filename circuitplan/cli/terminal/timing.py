"""The answer of ``hours``."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from circuitplan.cli.terminal.overview import assumption_lines
from circuitplan.cli.terminal.problems import answer_lines
from circuitplan.cli.terminal.text import page_width, up, wrap
from circuitplan.units import show_hours

if TYPE_CHECKING:
    from circuitplan.planner import HoursAnswer

# Assumptions that say nothing about time.
_OF_WIRES = (
    "draw that sizes wire",
    "return",
    "insulation",
    "temperature along",
    "feeder",
    "length",
)


def hours_lines(found: HoursAnswer) -> Iterator[str]:
    """The time to the reserve and to empty, at which current, and what was assumed."""
    width = page_width()
    if found.hours_to_reserve is None:
        yield from answer_lines(found.answer, f"{found.name} on {found.battery}: {found.because}.")
    else:
        yield from answer_lines(
            found.answer,
            f"{found.name} runs {show_hours(found.hours_to_reserve)} on {found.battery} until the "
            f"reserve of {found.reserve_share:.0%}, {found.because}.",
        )
    if found.hours_to_empty is not None:
        yield from wrap(
            f"Empty after {show_hours(found.hours_to_empty)}. Mean current "
            f"{up(found.current_a, 2)} A with what the parked vehicle draws. An old or cold "
            "battery gives less.",
            width,
        )
    own = [
        a
        for a in found.assumptions
        if a.subject in (found.name, found.battery, "vehicle") and not a.what.startswith(_OF_WIRES)
    ]
    yield from assumption_lines(own or found.assumptions, None, every=True)
