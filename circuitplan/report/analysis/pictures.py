"""The pictures of a plan's days, for the analysis and for the wiring summary."""

from __future__ import annotations

from circuitplan.model.result import Result
from circuitplan.report import show
from circuitplan.report.analysis.day_picture import day_picture
from circuitplan.report.analysis.draws_picture import draws_picture
from circuitplan.report.table import Picture


def day_pictures(result: Result) -> tuple[Picture, ...]:
    """Charge and volts of each day, and what draws what."""
    found = []
    for day in result.supply.days:
        if len(day.curve) > 1 and day.curve[-1].hours > 0.0:
            svg, words = day_picture(day)
            found.append(Picture(
                f"{day.name}, {day.battery}, at {show.near(day.temperature_c, 0)} °C: charge "
                "against its reserve (dashed), and volts at the posts.", svg, words))  # fmt: skip
        if (bars := draws_picture(day, result.supply.scenarios)) is not None:
            found.append(Picture(f"{day.name}, {day.battery}: what draws what, by the "
                "scenarios' mean currents; a charger counts at its full output.", *bars))
    return tuple(found)
