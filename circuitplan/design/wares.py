"""A wire as the trade words it: its colour, and its line on the parts list."""

from __future__ import annotations

from circuitplan.design.bench.pieces import cut_length_mm, other_gauges, wire_words
from circuitplan.design.draft import CircuitDraft, Node, Segment
from circuitplan.design.state import State
from circuitplan.design.wire import Candidate
from circuitplan.library import colours
from circuitplan.model.record import record
from circuitplan.model.result import Role


@record
class Ware:
    """What a metre of a wire is bought as; ``size_2`` is the other gauge."""

    what: str
    size: str
    size_2: str
    colour: str
    unit: str = "m"


def role(segment: Segment) -> Role:
    """What a stretch is for."""
    if segment.kind == "control":
        return "control"
    return "return" if segment.is_return else "feed"


def colour(state: State, owner: CircuitDraft | Node, segment: Segment) -> str:
    """IEC 60757 letters for a wire: the plan's, or by practice and by what makes it live."""
    if segment.spec.colour:
        return segment.spec.colour
    scheme = "small craft" if state.practice.name == "small craft" else "road vehicle"
    wanted = _wanted(state, owner)
    what = role(segment)
    if what == "return":
        wanted = "return"
    elif what == "control":
        wanted = "control"
    elif wanted == "switched" and owner.live in ("ignition", "engine"):
        wanted = owner.live
    found = colours.for_role(scheme, wanted) or colours.for_role(scheme, "switched")
    return found.text if found is not None else "BK"


def _wanted(state: State, owner: CircuitDraft | Node) -> str:
    if isinstance(owner, Node):
        return "battery"
    if state.wiring.nodes[owner.node].panel is None and owner.style != "output":
        return "battery"
    signal = bool(owner.switches) and owner.switches[0].type == "signal"
    return "signal" if signal else "switched"


def ware(state: State, owner: CircuitDraft | Node, segment: Segment, wire: Candidate) -> Ware:
    """The line of a stretch in some size."""
    conductor = wire.conductor
    metric, awg = other_gauges(conductor.gauge, conductor.label, wire.r20)
    return Ware(
        wire_words(wire.insulation.label, wire.material.name), conductor.label,
        awg if conductor.label == metric else metric, colour(state, owner, segment),
    )


def metres(segment: Segment) -> float:
    """Wire to cut for a stretch, slack included [m]."""
    return segment.pieces * cut_length_mm(segment.route.length_m) / 1000.0
