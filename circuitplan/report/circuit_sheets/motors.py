"""The sheet of a motor that its switch works in two ways: reversing, or two speeds.

Two rows lead to the motor, one from each contact, with the way back at the foot; a row below has
the switch and the coils. Of a reversing motor both contacts change over, between feed and negative.
"""

from __future__ import annotations

from collections.abc import Sequence

from circuitplan.model.result import AccessoryResult, Circuit, Result, Run
from circuitplan.report import show
from circuitplan.report.circuit_sheets.elements import (
    CONTACT,
    SOURCE,
    SPLICE,
    WIRE,
    put_contact,
    put_fuse,
    put_line,
    put_source,
    put_wire,
    terminal_of,
    way_of,
)
from circuitplan.report.circuit_sheets.pen import Pen
from circuitplan.report.drawing import symbols
from circuitplan.report.words import switch_names

FIRST, APART = 17.0, 26.0
"""The upper row of the two, and how far below it the lower one runs [mm]."""
BACK = FIRST + APART + 20.0
POWER, COILS = BACK + 9.0, 52.0
"""Heights of the upper part and of the switch with its two coils [mm]."""
THROW = 4.0
"""From the middle of a contact that changes over to each of its ends."""
FEED_BUS, BACK_BUS, CONTACT_X = 66.0, 70.0, 76.0
MOTOR_X, LEFT = 142.0, 14.0


def height(circuit: Circuit, controls: Sequence[Circuit]) -> float:
    """Of the whole drawing without relay bases [mm]."""
    return POWER + COILS * len(controls)


def draw(
    pen: Pen, circuit: Circuit, controls: Sequence[Circuit], result: Result
) -> None:
    """The motor's own circuit, then the circuit of its coils."""
    a = circuit.accessories[0]
    y = FIRST - THROW if a.motor == "reversing" else FIRST
    direct = not circuit.relays
    middle = FIRST + APART / 2.0
    if a.motor != "reversing" and direct:
        y = middle
    x = put_source(pen, circuit, result, y)
    for fuse in circuit.fuses[:1]:
        x = put_fuse(pen, fuse, x, y)
    x = put_wire(pen, circuit.runs[0], x, y)
    if a.motor == "reversing":
        _changing_over(pen, circuit, result, x, y)
    elif direct:
        _fan_out(pen, circuit, result, x, y)
    else:
        _two_contacts(pen, circuit, x, y)
    rows = (FIRST, FIRST + APART)
    for run, row in zip(_to_motor(circuit), rows, strict=True):
        end = put_wire(pen, run, CONTACT_X + CONTACT + 2.0, row)
        _to(pen, a, run, end, row)
    _motor(pen, a)
    _back(pen, circuit, a)
    for number, control in enumerate(controls):
        _coils(pen, circuit, control, result, POWER + COILS * number)


def _to_motor(circuit: Circuit) -> tuple[Run, Run]:
    """The wires of the upper and the lower row."""
    first, second = (r for r in circuit.runs if r.at)
    return first, second


def _label(result: Result, circuit: Circuit) -> tuple[str, str]:
    switch = next(s for s in result.switches if s.id in circuit.switches)
    return switch.id, switch_names(result)[switch.id].removeprefix(switch.id).strip()


# --- contacts ---------------------------------------------------------------------------------


def _changing_over(pen: Pen, circuit: Circuit, result: Result, x: float, y: float) -> None:
    """Two contacts between the feed's bus and the negative's. The poles of a switch are crossed
    over: pulled the same way, one is on the feed and the other on the negative."""
    canvas = pen.canvas
    crossed = not circuit.relays
    put_line(canvas, x, FEED_BUS, y)
    low = FIRST + APART
    feed_low = low + THROW if crossed else low - THROW
    back_low = low - THROW if crossed else low + THROW
    canvas.line((FEED_BUS, y), (FEED_BUS, feed_low), width=0.4)
    canvas.line((BACK_BUS, FIRST + THROW), (BACK_BUS, BACK), width=0.4)
    for bus, row in ((FEED_BUS, y), (FEED_BUS, feed_low), (BACK_BUS, FIRST + THROW),
                     (BACK_BUS, back_low)):
        put_line(canvas, bus, CONTACT_X, row)
    canvas.circle(FEED_BUS, y, 0.7, fill="#000")
    canvas.circle(BACK_BUS, back_low, 0.7, fill="#000")
    for number, row in enumerate((FIRST, low)):
        put_line(canvas, CONTACT_X + 10.0, CONTACT_X + CONTACT + 2.0, row)
        symbols.change_over(canvas, CONTACT_X, row, THROW, rest="middle" if crossed else "lower")
        if not crossed:
            relay = circuit.relays[number]
            pen.mark(CONTACT_X + 0.2, row - THROW - 1.2, "87")
            pen.mark(CONTACT_X - 0.8, row + THROW + 3.2, "87a")
            pen.mark(CONTACT_X + 11.5, row - 1.2, "30")
            rated = f"{show.rating(relay.contact_a)}/{show.rating(relay.break_a)} A"
            pen.below(CONTACT_X + 6.5, row + THROW - 1.0, CONTACT - 4.0,
                      (relay.id, rated, relay.at))
    if crossed:
        pen.mark(CONTACT_X - 1.0, FIRST - THROW - 1.2, "up")
        pen.mark(CONTACT_X - 2.5, FIRST + THROW + 3.4, "down")
        middle, foot = CONTACT_X + 5.0, low + THROW + 1.5
        canvas.line((middle, FIRST + 0.5), (middle, foot), width=0.25, dash="0.7 0.5")
        canvas.line((middle - 1.2, foot), (middle + 1.2, foot), width=0.4)
        pen.below(middle + 2.5, low + 0.5, CONTACT - 1.0, _label(result, circuit))


def _two_contacts(pen: Pen, circuit: Circuit, x: float, y: float) -> None:
    """Two make contacts on one feed."""
    canvas = pen.canvas
    low = FIRST + APART
    put_line(canvas, x, CONTACT_X, y)
    canvas.line((FEED_BUS, y), (FEED_BUS, low), width=0.4)
    canvas.circle(FEED_BUS, y, 0.7, fill="#000")
    put_line(canvas, FEED_BUS, CONTACT_X, low)
    for relay, row in zip(circuit.relays, (y, low), strict=True):
        put_contact(pen, CONTACT_X, row, relay, "", "")
        pen.line(CONTACT_X + 0.5, row + 13.3, CONTACT - 1.5, relay.at)
        put_line(canvas, CONTACT_X + CONTACT, CONTACT_X + CONTACT + 2.0, row)


def _fan_out(pen: Pen, circuit: Circuit, result: Result, x: float, y: float) -> None:
    """A switch with a middle position, and a way out of it up and down."""
    canvas = pen.canvas
    out = CONTACT_X + CONTACT - 5.5
    put_line(canvas, x, CONTACT_X, y)
    symbols.two_way(canvas, CONTACT_X, y, THROW)
    pen.below(CONTACT_X - 8.0, y + 6.0, CONTACT, _label(result, circuit))
    for run, sign, row in zip(_to_motor(circuit), (-1.0, 1.0), (FIRST, FIRST + APART),
                              strict=True):
        level = y + sign * THROW
        put_line(canvas, CONTACT_X + 10.0, out, level)
        canvas.line((out, level), (out, row), width=0.4)
        put_line(canvas, out, CONTACT_X + CONTACT + 2.0, row)
        pen.mark(out + 1.0, y + (-3.0 if sign < 0 else 5.5), run.at)


# --- motor and way back -----------------------------------------------------------------------


def _to(pen: Pen, a: AccessoryResult, run: Run, x: float, row: float) -> None:
    """From the end of a wire to its terminal at the motor."""
    canvas = pen.canvas
    middle = _middle(a)
    if abs(row - middle) < 0.1:
        put_line(canvas, x, MOTOR_X - 3.2, row)
        pen.mark(MOTOR_X - 10.0, row - 1.2, run.to.rsplit(" ", 1)[1])
        return
    sign = -1.0 if row < middle else 1.0
    put_line(canvas, x, MOTOR_X, row)
    canvas.line((MOTOR_X, row), (MOTOR_X, middle + sign * 3.2), width=0.4)
    pen.mark(MOTOR_X + 1.2, middle + sign * 5.0 + (0.0 if sign < 0 else 1.6),
             run.to.rsplit(" ", 1)[1])


def _middle(a: AccessoryResult) -> float:
    """Height of the motor: between its wires, or beside the lower one where it has three."""
    return FIRST + (APART / 2.0 if a.motor == "reversing" else APART)


def _motor(pen: Pen, a: AccessoryResult) -> None:
    middle = _middle(a)
    symbols.load(pen.canvas, MOTOR_X - 3.2, middle, 6.4, "motor", a.letter)
    count = f"{a.quantity} × " if a.quantity > 1 else ""
    low = "" if a.low_speed_a is None else f"low {show.up(a.low_speed_a)} A"
    room = pen.canvas.width_mm - MOTOR_X - 9.5
    pen.below(MOTOR_X + 8.0, middle - 6.0, room,
              (f"{count}{a.name}", f"{show.up(a.current_a)} A", low, a.place or ""), most=5)


def _back(pen: Pen, circuit: Circuit, a: AccessoryResult) -> None:
    """The way back along the foot, right to left."""
    canvas = pen.canvas
    back = circuit.runs[-1]
    right = BACK_BUS
    if a.motor != "reversing":
        right = MOTOR_X
        canvas.line((MOTOR_X, _middle(a) + 3.2), (MOTOR_X, BACK), width=0.4)
        pen.mark(MOTOR_X + 1.2, _middle(a) + 6.6, "32")
    put_line(canvas, LEFT, right, BACK)
    start = right - WIRE - SPLICE
    put_wire(pen, back, start, BACK)
    if a.back == "chassis":
        symbols.frame(canvas, LEFT, BACK)
        pen.mark(LEFT + 2.0, BACK - 1.2, "31")
        pen.below(LEFT + 3.0, BACK, 60.0, (back.to,), most=1)
        return
    canvas.circle(LEFT - 0.75, BACK, 0.75, fill="#fff")
    pen.mark(LEFT + 0.5, BACK - 1.2, "31")
    pen.below(LEFT - 1.5, BACK + 1.0, 60.0, (f"{back.to}, negative",), most=1)


# --- coils ------------------------------------------------------------------------------------


def _coils(
    pen: Pen, circuit: Circuit, control: Circuit, result: Result, top: float
) -> None:
    """Fuse, switch with a middle position, and a coil at each of its two ways out."""
    canvas = pen.canvas
    y = top + COILS / 2.0
    canvas.box(0.5, y - 4.0, 5.0, 8.0, fill="#fff", width=0.5)
    pen.below(0.5, y + 4.8, SOURCE - 2.0, (control.panel, way_of(control)))
    pen.mark(7.0, y - 1.2, terminal_of(control, result))
    put_line(canvas, 5.5, SOURCE, y)
    x = SOURCE
    for fuse in control.fuses[:1]:
        x = put_fuse(pen, fuse, x, y)
    x = put_wire(pen, control.runs[0], x, y)
    symbols.two_way(canvas, x, y, THROW)
    pen.below(x - 1.0, y + 5.0, 13.0, _label(result, circuit))
    out = x + 14.0
    for relay, sign in zip(circuit.relays, (-1.0, 1.0), strict=True):
        run = next(r for r in control.runs if r.at == relay.at)
        level, row = y + sign * THROW, y + sign * 13.0
        put_line(canvas, x + 10.0, out, level)
        canvas.line((out, level), (out, row), width=0.4)
        put_line(canvas, out, out + 12.0, row)
        pen.mark(out + 1.2, y + (-3.0 if sign < 0 else 5.0), relay.at)
        end = put_wire(pen, run, out + 12.0, row)
        coil_x = 122.0
        put_line(canvas, end, coil_x, row)
        symbols.load(canvas, coil_x, row, 6.4, "coil", "K")
        pen.mark(coil_x - 4.6, row - 1.2, "86")
        pen.mark(coil_x + 7.0, row - 1.2, "85")
        put_line(canvas, coil_x + 6.4, coil_x + 14.0, row)
        symbols.frame(canvas, coil_x + 14.0, row)
        pen.mark(coil_x + 16.0, row - 1.2, "31")
        pen.below(coil_x - 3.0, row + 3.0, 15.0, (f"coil {relay.id}",), most=1)
        pen.below(coil_x + 18.0, row - 0.2, pen.canvas.width_mm - coil_x - 19.0,
                  (relay.type, f"{show.up(relay.coil_a)} A", f"at {relay.position}"), most=4)
