"""The one-line drawing of the whole distribution, cut to fit sheets."""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.report.copper_tree import copper_tree
from circuitplan.report.drawing.draw import draw, legend
from circuitplan.report.drawing.layout import layout
from circuitplan.report.drawing.tree import distribution
from circuitplan.report.table import Picture


@dataclass(frozen=True, slots=True)
class View:
    pictures: tuple[Picture, ...]


def build(plan: Plan, result: Result) -> View:
    """The circuit schedule and the wire list say the same in words."""
    drawings = layout(distribution(result))
    pictures = []
    for number, drawing in enumerate(drawings, 1):
        caption = f"Drawing {number} of {len(drawings)}: what hangs on {drawing.name}."
        alternative = f"{caption} The circuit schedule and the wire list say the same in words."
        pictures.append(Picture(caption, draw(drawing, alternative), alternative))
    if pictures:
        pictures.append(Picture("Symbols of IEC 60617; all drawn off.", legend(), "Legend."))
    if result.circuits:
        svg, said = copper_tree(result, "Copper of each feeder and circuit")
        pictures.append(
            Picture(
                "Copper of each feeder (solid) and circuit (hatched), out and back, with its "
                "sizes; circuitplan copper tells whether less would do.", svg, said,
            )
        )
    return View(tuple(pictures))
