"""A chart a fuse: does it open before its wire is hurt, and let the load start?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from circuitplan.model.plan import Plan
from circuitplan.model.result import Coordination, Result
from circuitplan.report.fuse_against_wire import fuse_against_wire, legend, sentence
from circuitplan.report.table import Picture
from circuitplan.report.words import circuit_name


@dataclass(frozen=True, slots=True)
class Chart:
    heading: str
    picture: Picture


@dataclass(frozen=True, slots=True)
class View:
    legend: Picture | None
    charts: tuple[Chart, ...]


def build(plan: Plan, result: Result) -> View:
    """Feeders first, then circuits in their order."""
    charts = []
    for heading, against in _all(result):
        svg, alternative = fuse_against_wire(against)
        charts.append(Chart(heading, Picture(sentence(against), svg, alternative)))
    if not charts:
        return View(None, ())
    svg, alternative = legend()
    return View(
        Picture(
            'Time over current. The wire is safe where the line "opens" stays below the line '
            '"wire hurt" for every current to the right of twice the rating; the start passes '
            'where it stays below "melts". Right of the hatched bar a short lies nearer than the '
            "far end; no clearing below 10 ms is credited there. A fuse's times are its standard's "
            "limits (from memory) unless its maker's curve is given: check against that curve.",
            svg,
            alternative,
        ),
        tuple(charts),
    )


def _all(result: Result) -> Iterator[tuple[str, Coordination]]:
    for panel in result.panels:
        for against in panel.coordination:
            yield f"Feeder of {panel.id}: {against.fuse}", against
    for circuit in result.circuits:
        for against in circuit.coordination:
            yield f"{circuit_name(circuit)}: {against.fuse}", against
