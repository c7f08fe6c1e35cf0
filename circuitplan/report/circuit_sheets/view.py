"""One block a circuit: its schematic, and what the drawing cannot say."""

from __future__ import annotations

from circuitplan.design.bench.plugged import connectors
from circuitplan.model.plan import Plan
from circuitplan.model.result import AccessoryResult, Circuit, Connector, Result
from circuitplan.report import show
from circuitplan.report.circuit_sheets.connector_faces import caption, face
from circuitplan.report.circuit_sheets.draw import draw
from circuitplan.report.drawing.draw import MOTOR_LEGEND, legend
from circuitplan.report.paper.sheet import Block, Sheet
from circuitplan.report.table import Picture


def view(plan: Plan, result: Result) -> Sheet:
    """Every circuit with accessories; its coil's circuit is drawn below it."""
    blocks = [_block(c, result) for c in result.circuits if c.accessories]
    motors = any(a.motor for c in result.circuits for a in c.accessories)
    symbols = legend(MOTOR_LEGEND if motors else ())
    blocks += [
        Block(f"Connector at the feeder of {p.id}", (_ends(p.connector),), together=True,
              pictures=(_face(p.connector),))
        for p in result.panels if p.connector is not None
    ]
    blocks.append(
        Block("Symbols", pictures=(Picture("Symbols of IEC 60617, from memory", symbols, ""),),
              together=True)
    )
    lead: tuple[str, ...] = (
        "Everything is drawn switched off and without current. Above a wire: its number, size and "
        "colour (IEC 60757), length. Terminals are those of DIN 72552: 30 live, 15 live with the "
        "ignition, 31 negative, 86 and 85 the coil, 30 and 87 the contact"
        + (", 87a its rest; 33, 32 and 33f the motor, its return and its slower speed." if motors
           else "."),
        "The base of a plug-in relay is drawn as ISO 7588-1 lays out the mini relay, from memory "
        "and not to scale: seen from the wire side, and mirrored from the side that the relay is "
        "put in. Of relays of another form only the numbers are given.",
    )
    if any(connectors(result)):
        lead = (*lead, _CONNECTORS)
    return Sheet("Circuit sheets", lead, tuple(blocks))


_CONNECTORS = (
    "Plug and socket marked X3:1: cavity 1 of connector X3; the wire goes on through it under its "
    "own number. Its face is drawn below, seen from the wire side of the harness: + the positive, "
    "− the negative; a cavity with a thin edge holds no wire of this plan."
)


def _ends(connector: Connector) -> str:
    ends = [f"{c.run} in {connector.id}:{c.number}" for c in connector.cavities if c.run]
    return f"Wires of the feeder: {show.listed(ends)}."


def _face(connector: Connector) -> Picture:
    return Picture(caption(connector), face(connector).canvas.render(), "")


def _block(circuit: Circuit, result: Result) -> Block:
    drawn = draw(circuit, result)
    words = []
    for a in circuit.accessories:
        if a.needs:
            words.append(f"{a.name} only with {show.listed(a.needs)}.")
        if a.never_with:
            words.append(f"{a.name} never together with {show.listed(a.never_with)}.")
        words += _of_motor(a, circuit)
    number = f"{circuit.number} {circuit.label}"
    return Block(number, tuple(words), together=len(circuit.accessories) < 5,
                 pictures=(Picture("", drawn.svg, ""), *map(_face, circuit.connectors)))


def _of_motor(a: AccessoryResult, circuit: Circuit) -> list[str]:
    """What the drawing of a motor worked in two ways cannot say."""
    live = [r.id for r in circuit.runs if r.at]
    if a.motor == "reversing":
        rest = f"At rest both ends of {a.name} are on the negative: it brakes. " * bool(
            circuit.relays
        )
        return [
            f"{rest}{show.listed(live)} are fed in turn: neither is an earth. If it runs the wrong "
            "way, swap them at the motor. Let it stand before the other direction."
        ]
    if a.motor == "two-speed":
        return [f"{show.listed(live)} are fed one at a time. If low and high are exchanged, swap "
                "them at the motor."]
    return []
