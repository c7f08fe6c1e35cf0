"""What circuit sheets are put together from, left to right: source, fuse, contact, wire, diode."""

from __future__ import annotations

from circuitplan.model.result import Circuit, Fuse, Relay, Result, Run
from circuitplan.report import show
from circuitplan.report.circuit_sheets.pen import Pen
from circuitplan.report.drawing import symbols
from circuitplan.report.svg import Canvas

WIDTH = 180.0
SOURCE, FUSE, CONTACT, WIRE, SPLICE, LOAD = 24.0, 14.0, 17.0, 25.0, 5.0, 24.0
LIVE = {"always": "30", "ignition": "15", "engine": "15"}
"""DIN 72552: battery positive direct, and through the ignition switch."""


def put_line(canvas: Canvas, x0: float, x1: float, y: float) -> None:
    """A wire from ``x0`` to ``x1`` [mm]."""
    canvas.line((x0, y), (x1, y), width=0.4)


def terminal_of(circuit: Circuit, result: Result) -> str:
    """By what a circuit's feed is live, as it is wired: its panel's, or that of the vehicle's
    output or signal, whatever the plan wishes for what hangs on it."""
    panel = next((p for p in result.panels if p.id == circuit.panel), None)
    if panel is not None:
        return LIVE.get(panel.live, "30")
    vehicle = any(s.id == circuit.panel for s in result.switches)
    return LIVE.get(circuit.live, "30") if vehicle else "30"


def put_source(pen: Pen, circuit: Circuit, result: Result, y: float) -> float:
    """The panel, battery or output that feeds a circuit; where its wire goes on [mm]."""
    outputs = {s.id for s in result.switches if s.type == "output"}
    name = f"output {circuit.panel}" if circuit.panel in outputs else circuit.panel
    pen.canvas.box(0.5, y - 4.0, 5.0, 8.0, fill="#fff", width=0.5)
    pen.mark(7.0, y - 1.2, terminal_of(circuit, result))
    put_line(pen.canvas, 5.5, SOURCE, y)
    way = next((f.position.rsplit(", ", 1)[1] for f in circuit.fuses
                if f.position.startswith(f"{circuit.panel}, way")), "")
    pen.below(0.5, y + 4.8, SOURCE - 2.0, (name, way))
    return SOURCE


def put_fuse(pen: Pen, fuse: Fuse, x: float, y: float) -> float:
    """A fuse with its number, rating and type; where the wire goes on [mm]."""
    put_line(pen.canvas, x, x + 4.5, y)
    symbols.fuse(pen.canvas, x + 4.5, y)
    put_line(pen.canvas, x + 9.5, x + FUSE, y)
    rated = f"{show.rating(fuse.rating_a)} A"
    pen.below(x + 0.5, y + 2.0, FUSE - 1.5, (fuse.id, rated, fuse_type(fuse)))
    return x + FUSE


def fuse_type(fuse: Fuse) -> str:
    """Its type in words."""
    return fuse.type if len(fuse.type) > 5 else f"type {fuse.type}"


def put_contact(
    pen: Pen, x: float, y: float, relay: Relay | None, switch: str, label: str
) -> float:
    """The make contact of a relay, or of a switch with its label; where the wire goes on [mm]."""
    put_line(pen.canvas, x, x + 3.5, y)
    symbols.contact(pen.canvas, x + 3.5, y, "relay" if relay else "switch")
    put_line(pen.canvas, x + 13.5, x + CONTACT, y)
    if relay is not None:
        pen.mark(x + 1.0, y - 1.2, "30")
        pen.mark(x + 12.5, y - 1.2, "87")
        pen.below(x + 0.5, y + 4.0, CONTACT - 1.5, (relay.id, f"{show.rating(relay.contact_a)} A"))
    else:
        pen.below(x + 0.5, y + 4.0, CONTACT - 1.5, (switch, label))
    return x + CONTACT


def put_wire(
    pen: Pen, run: Run, x: float, y: float, width: float = WIRE, bar: float | None = None
) -> float:
    """A wire with its number, size, colour and length; where it goes on [mm].

    ``bar``: a line crosses here; the words keep to the wider side of it.
    """
    put_line(pen.canvas, x, x + width, y)
    many = f"{run.pieces} × " if run.pieces > 1 else ""
    start, end = x + 1.0, x + width - 1.0
    if bar is not None and start - 1.0 < bar < end:
        start, end = (bar + 1.0, end) if end - bar > bar - start else (start, bar - 1.0)
    pen.above(start, y, end - start, (
        run.id, f"{many}{'size unknown' if run.unknown else run.size} {run.colour}",
        f"{show.near(run.length_m, 2)} m",
    ))
    return x + width


def way_of(control: Circuit) -> str:
    """The way of its panel in which a control circuit's fuse sits; empty outside a panel."""
    return next((f.position.rsplit(", ", 1)[1] for f in control.fuses
                 if f.position.startswith(f"{control.panel}, way")), "")


def put_diode(canvas: Canvas, x: float, y: float) -> None:
    """A diode that lets current pass to the right (IEC 60617; from memory)."""
    canvas.shape((x, y - 1.6), (x, y + 1.6), (x + 3.0, y), fill="#fff")
    canvas.line((x + 3.0, y - 1.6), (x + 3.0, y + 1.6), width=0.4)
    canvas.line((x, y), (x + 4.0, y))
