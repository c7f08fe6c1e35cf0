"""The base of a plug-in relay, seen from the wire side and, mirrored, from the relay's.

The five openings stand as ISO 7588-1 lays out the mini relay (from memory): 87 over 87a over 30, 86
and 85 to the sides. Numbers are those of DIN 72552. Not to scale, and the openings without their
turn. Only this base is drawn: of others the layout is not known here.
"""

from __future__ import annotations

from collections.abc import Sequence

from circuitplan.model.given import MOTOR_TERMINALS
from circuitplan.model.result import Circuit, Relay
from circuitplan.report.circuit_sheets.pen import LINE_MM, Pen

WIDE, HIGH = 22.5, 21.0
STRIP = HIGH + 7.0
"""Height of one relay's faces [mm]."""
OPENING = 2.4
PLACES = {
    "87": (11.25, 2.8), "87a": (11.25, 10.0), "30": (11.25, 18.0), "86": (3.0, 10.0),
    "85": (19.5, 10.0),
}
"""Middle of each opening [mm] from the top left corner, seen from the wire side."""
BASES = (
    "plug-in relay", "change-over plug-in relay", "high-current plug-in relay",
    "high-current change-over plug-in relay",
)
"""Relay types of the table that sit in this base (judgement)."""
VIEWS = ("wire side", "relay side, relay out")
FACES_APART, LIST_X = 35.0, 76.0


def room(circuit: Circuit) -> float:
    """Height of what ``draw`` adds to a sheet [mm]: a strip for each relay with such a base."""
    return STRIP * sum(r.type in BASES for r in circuit.relays)


def places(mirrored: bool) -> dict[str, tuple[float, float]]:
    """Middle of each opening [mm]; mirrored left to right: what lies to the left comes right."""
    return {
        number: (WIDE - x if mirrored else x, y) for number, (x, y) in PLACES.items()
    }


def draw(pen: Pen, circuit: Circuit, controls: Sequence[Circuit], y: float) -> None:
    """Of each relay both faces from ``y`` down, and beside them what goes to each number."""
    for relay in circuit.relays:
        if relay.type in BASES:
            _relay(pen, circuit, relay, controls, y)
            y += STRIP


def _relay(
    pen: Pen, circuit: Circuit, relay: Relay, controls: Sequence[Circuit], y: float
) -> None:
    to = _of_motor(circuit, relay, controls) if relay.at else _wiring(circuit, relay, controls)
    for face, view in enumerate(VIEWS):
        _face(pen, 1.0 + FACES_APART * face, y, bool(face), set(to))
        pen.line(1.0 + FACES_APART * face, y + HIGH + 3.6, FACES_APART - 2.0, view)
    room_mm = pen.canvas.width_mm - LIST_X - 1.0
    pen.line(LIST_X, y + 2.1, room_mm, f"Base of {relay.id}, seen from the wire side", bold=True)
    for row, number in enumerate(("30", "87", "87a", "86", "85")):
        base = y + 2.1 + LINE_MM * (row + 1)
        pen.line(LIST_X, base, 8.0, number, bold=True)
        pen.line(LIST_X + 9.0, base, room_mm - 9.0, to.get(number, "left free"))
    pen.line(LIST_X, y + HIGH + 3.6, room_mm, "The numbers moulded on relay and base rule.")


def _face(pen: Pen, x: float, y: float, mirrored: bool, used: set[str]) -> None:
    pen.canvas.box(x, y, WIDE, HIGH, width=0.5)
    half = OPENING / 2.0
    for number, (dx, dy) in places(mirrored).items():
        fill = "#000" if number in used else "none"
        pen.canvas.box(x + dx - half, y + dy - half, OPENING, OPENING, fill=fill)
        if number in ("85", "86"):
            pen.mark(x + dx - 1.6, y + dy + half + 2.7, number)
        else:
            pen.mark(x + dx + half + 0.5, y + dy + 1.0, number)


def _wiring(circuit: Circuit, relay: Relay, controls: Sequence[Circuit]) -> dict[str, str]:
    """Terminal -> what it is wired to, in words."""
    feed = next((r for r in circuit.runs if r.role == "feed"), None)
    fuse = circuit.fuses[0].id if circuit.fuses else circuit.panel
    found = {"30": f"from {fuse}, {circuit.panel}"}
    if feed is not None:
        found["87"] = f"wire {feed.id} to {feed.to}"
    wires = [c.runs[-1].id for c in controls if c.runs]
    each = ", each behind its diode" if len(wires) > 1 else ""
    if wires:
        found["86"] = f"wire {', '.join(wires)}{each}"
    found["85"] = "31, negative"
    own = relay.terminals.split(", ")
    return {number: words for number, words in found.items() if number in own}


def _of_motor(
    circuit: Circuit, relay: Relay, controls: Sequence[Circuit]
) -> dict[str, str]:
    """The same for one of the two relays of a motor; what both share is linked at their bases."""
    first, second = circuit.relays
    other = second if relay is first else first
    lead, back = circuit.runs[0], circuit.runs[-1]
    own = next(r for r in circuit.runs if r.at == relay.at)
    fuse = circuit.fuses[0].id if circuit.fuses else circuit.panel
    a, pin = circuit.accessories[0], MOTOR_TERMINALS[relay.at][0]
    reversing = relay.break_a is not None
    fed, out = ("87", "30") if reversing else ("30", "87")
    fed_by = f"wire {lead.id} from {fuse}, and link" if relay is first else "link"
    found = {fed: f"{fed_by} to {other.id} {fed}", out: f"wire {own.id} to {pin} of {a.name}"}
    if reversing:
        to_back = f"wire {back.id} to 31, negative, and link" if relay is first else "link"
        found["87a"] = f"{to_back} to {other.id} 87a"
    coil = next((r for c in controls for r in c.runs if r.at == relay.at), None)
    if coil is not None:
        found["86"] = f"wire {coil.id} from {coil.from_} {relay.at}"
    found["85"] = "31, negative"
    return found
