"""One circuit as a schematic: out along the top of each row, back along its foot.

Left to right: panel or source, fuse, switch or relay contact, wires with their number, size and
colour, accessory. Each column has its room, so nothing overlaps whatever the names.
"""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.model.result import AccessoryResult, Circuit, Result, Run
from circuitplan.report import show
from circuitplan.report.circuit_sheets import base_faces, connector_faces, motors
from circuitplan.report.circuit_sheets.elements import (
    CONTACT,
    LOAD,
    SOURCE,
    SPLICE,
    WIDTH,
    WIRE,
    put_contact,
    put_diode,
    put_fuse,
    put_line,
    put_source,
    put_wire,
    terminal_of,
    way_of,
)
from circuitplan.report.circuit_sheets.in_words import said
from circuitplan.report.circuit_sheets.pen import Pen
from circuitplan.report.drawing import symbols
from circuitplan.report.drawing.tree import _symbol as symbol_of
from circuitplan.report.svg import Canvas
from circuitplan.report.words import switch_names

TOP, GAP, FOOT = 13.0, 26.0, 8.0
ROW = TOP + GAP + FOOT
COIL_ROW = TOP + 19.0


@dataclass(frozen=True, slots=True)
class Drawn:
    """The drawing and the texts on it with their places."""

    svg: str
    pen: Pen


def draw(circuit: Circuit, result: Result) -> Drawn:
    """The schematic of one circuit with accessories."""
    controls = _controls(circuit, result)
    two_ways = any(a.motor for a in circuit.accessories)
    foot = ROW * len(circuit.accessories) + COIL_ROW * len(controls)
    if two_ways:
        foot = motors.height(circuit, controls)
    height = foot + base_faces.room(circuit)
    canvas = Canvas(WIDTH, height, said(circuit, controls, result))
    pen = Pen(canvas)
    if two_ways:
        motors.draw(pen, circuit, controls, result)
    else:
        _one_way(pen, circuit, controls, result)
    base_faces.draw(pen, circuit, controls, foot + 0.5)
    return Drawn(canvas.render(), pen)


def _one_way(
    pen: Pen, circuit: Circuit, controls: list[Circuit], result: Result
) -> None:
    """A row an accessory, then a row a coil."""
    canvas = pen.canvas
    split: tuple[float, float] | None = None
    lead = _shared(circuit)
    for number, accessory in enumerate(circuit.accessories):
        y = ROW * number + TOP
        if split is None:
            x = put_source(pen, circuit, result, y)
            if circuit.isolator_a is not None and not circuit.fuses:
                symbols.contact(canvas, x + 3.5, y, "isolator")
                put_line(canvas, x, x + 3.5, y)
                put_line(canvas, x + 13.5, x + CONTACT, y)
                rated = f"{show.rating(circuit.isolator_a)} A"
                pen.below(x, y + 4.0, CONTACT - 1.5, ("isolator", rated))
                x += CONTACT
            for fuse in circuit.fuses[:1]:
                x = put_fuse(pen, fuse, x, y)
            if circuit.relays:
                x = put_contact(pen, x, y, circuit.relays[0], "", "")
            direct = _direct(circuit, result)
            onward = [run for run in lead if direct and run.from_ == direct[0]]
            for run in lead:
                if run not in onward:
                    x = put_wire(pen, run, x, y)
            if direct:
                x = put_contact(pen, x, y, None, *direct)
            for run in onward:
                x = put_wire(pen, run, x, y)
            split = x, y
        else:
            x = split[0]
            canvas.line((x, split[1]), (x, y))
            if number == 1:
                canvas.circle(x, split[1], 0.7, fill="#000")
        more = number < len(circuit.accessories) - 1
        _branch(pen, circuit, accessory, lead, x, y, split[0] if more else None)
    _coils(pen, circuit, controls, result, ROW * len(circuit.accessories) + TOP)


def _shared(circuit: Circuit) -> list[Run]:
    """The lead that all accessories hang on, if there are several."""
    if len(circuit.accessories) < 2:
        return []
    return [r for r in circuit.runs if r.role == "feed" and len(r.accessories) > 1]


def _direct(circuit: Circuit, result: Result) -> tuple[str, str] | None:
    """(id, label) of a switch that carries the load."""
    for s in result.switches:
        if s.type == "direct" and s.id in circuit.switches:
            return s.id, "" if s.label == s.id else s.label
    return None


def _branch(
    pen: Pen, circuit: Circuit, a: AccessoryResult, lead: list[Run], x: float, y: float,
    bar: float | None,
) -> None:
    """``bar``: where the way to the next accessory crosses this row's return."""
    canvas = pen.canvas
    feeds = [r for r in circuit.runs if r.role == "feed" and a.name in r.accessories]
    feeds = [r for r in feeds if r not in lead]
    for fuse in circuit.fuses[1:]:
        if any(fuse.protects == r.id for r in feeds):
            x = put_fuse(pen, fuse, x, y)
    for number, run in enumerate(feeds):
        if number:
            canvas.circle(x, y, 0.7, fill="#000")
            put_line(canvas, x, x + SPLICE, y)
            x += SPLICE
        x = put_wire(pen, run, x, y)
    symbols.load(canvas, x, y, 6.4, symbol_of(a), a.letter)
    right, foot = x + 9.0, y + GAP
    canvas.line((x + 6.4, y), (right, y), (right, foot), width=0.4)
    _connector(pen, circuit, a, (x, y), (right, foot))
    count = f"{a.quantity} × " if a.quantity > 1 else ""
    pen.below(right + 1.0, y - 3.0, min(LOAD, WIDTH - right - 1.5),
              (f"{count}{a.name}", f"{show.up(a.current_a)} A", a.place or ""), most=5)
    _back(pen, circuit, a, right, foot, bar)


def _connector(
    pen: Pen, circuit: Circuit, a: AccessoryResult, feed: tuple[float, float],
    back: tuple[float, float],
) -> None:
    """The two poles of an accessory's connector: on the line to it, and on the line back."""
    for connector in circuit.connectors:
        for cavity in connector.cavities if connector.of == a.name else ():
            label = f"{connector.id}:{cavity.number}"
            if cavity.role == "feed":
                connector_faces.feed_mark(pen, *feed, label)
            elif cavity.role == "return":
                connector_faces.return_mark(pen, *back, label)


def _back(
    pen: Pen, circuit: Circuit, a: AccessoryResult, right: float, y: float, bar: float | None
) -> None:
    """The return, right to left: wires, then the negative's terminal or the body."""
    canvas = pen.canvas
    backs = [r for r in circuit.runs if r.role == "return" and a.name in r.accessories]
    left = 14.0
    x = right
    room = min(WIRE + 8.0, (right - left) / max(len(backs), 1) - SPLICE)
    for number, run in enumerate(backs):
        if number:
            canvas.circle(x, y, 0.7, fill="#000")
            put_line(canvas, x - SPLICE, x, y)
            x -= SPLICE
        put_wire(pen, run, x - room, y, room, bar)
        x -= room
    if a.back == "chassis":
        put_line(canvas, left, x, y)
        symbols.frame(canvas, left, y)
        pen.mark(left + 2.0, y - 1.2, "31")
        pen.below(left + 3.0, y, 60.0, (backs[-1].to if backs else "body",), most=1)
        return
    put_line(canvas, left, x, y)
    canvas.circle(left - 0.75, y, 0.75, fill="#fff")
    pen.mark(left + 0.5, y - 1.2, "31")
    end = backs[-1].to if backs else circuit.panel
    pen.below(left - 1.5, y + 1.0, 60.0, (f"{end}, negative",), most=1)


def _controls(circuit: Circuit, result: Result) -> list[Circuit]:
    if not circuit.relays:
        return []
    return [
        c for c in result.circuits if not c.accessories and set(c.switches) & set(circuit.switches)
    ]


def _coils(
    pen: Pen, circuit: Circuit, controls: list[Circuit], result: Result, y: float
) -> None:
    """One row a control circuit; all end at 86 of the coil, each behind a diode if several."""
    canvas = pen.canvas
    names = switch_names(result)
    by_id = {s.id: s for s in result.switches}
    coil_x = 141.0
    for number, control in enumerate(controls):
        here = y + COIL_ROW * number
        switch = by_id[control.switches[0]]
        source = f"vehicle's {switch.signal}" if switch.signal else control.panel
        canvas.box(0.5, here - 4.0, 5.0, 8.0, fill="#fff", width=0.5)
        pen.below(0.5, here + 4.8, SOURCE - 2.0, (source, "" if switch.signal else way_of(control)))
        pen.mark(7.0, here - 1.2, terminal_of(control, result))
        put_line(canvas, 5.5, SOURCE, here)
        x = SOURCE
        for fuse in control.fuses[:1]:
            x = put_fuse(pen, fuse, x, here)
        for k, run in enumerate(control.runs):
            x = put_wire(pen, run, x, here)
            if k == 0 and len(control.runs) > 1:
                label = names[switch.id].removeprefix(switch.id).strip()
                x = put_contact(pen, x, here, None, switch.id, label)
        if len(controls) > 1:
            put_diode(canvas, x + 2.0, here)
            put_line(canvas, x, x + 2.0, here)
            x += 6.0
        put_line(canvas, x, coil_x - 6.0, here)
        if number:
            canvas.line((coil_x - 6.0, here), (coil_x - 6.0, y), width=0.4)
            canvas.circle(coil_x - 6.0, y, 0.7, fill="#000")
    if not controls:
        return
    relay = circuit.relays[0]
    put_line(canvas, coil_x - 6.0, coil_x, y)
    symbols.load(canvas, coil_x, y, 6.4, "coil", "K")
    pen.mark(coil_x - 4.6, y - 1.2, "86")
    pen.mark(coil_x + 7.0, y - 1.2, "85")
    put_line(canvas, coil_x + 6.4, coil_x + 14.0, y)
    symbols.frame(canvas, coil_x + 14.0, y)
    pen.mark(coil_x + 16.0, y - 1.2, "31")
    pen.below(coil_x - 3.0, y + 3.0, 13.0, (f"coil {relay.id}",), most=1)
    pen.below(coil_x + 18.0, y - 0.2, 20.0, (relay.type, f"{show.up(relay.coil_a)} A",
                                             f"at {relay.position}"), most=5)
