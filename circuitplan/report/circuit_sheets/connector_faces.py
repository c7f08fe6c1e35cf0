"""A connector's face seen from the wire side, and its symbol on the schematic.

Cavities stand in rows as the plan gives them; of connectors of open standards the layout is not
known here, so their poles are listed by number and not drawn as a face. The numbers moulded on the
housing rule. Plug and socket are drawn after IEC 60617 03-03-05 (from memory).
"""

from __future__ import annotations

import math

from circuitplan.model.result import Cavity, Connector
from circuitplan.report import show
from circuitplan.report.circuit_sheets.pen import LINE_MM, TEXT_MM, Pen
from circuitplan.report.fonts import width_mm, wrap
from circuitplan.report.svg import Canvas

WIDTH = 180.0
WIDEST, EDGE, INSET = 20.0, 1.5, 1.3
"""Of a cavity; between cavities and outline; between a cavity's edge and its text [mm]."""
SIGNS = {"feed": "+", "return": "−", "empty": ""}
POLARITY = ("+", "-")
"""Poles that are named by their sign alone."""
CUP, PIN_END, SYMBOL = 1.6, 4.2, 4.6


def face(connector: Connector) -> Pen:
    """The face under its name; the pen's canvas is the picture."""
    lines = wrap(_name(connector), TEXT_MM, WIDTH, 600)
    rows = _drawn_rows(connector)
    wide, high = _cell_size(connector)
    top = LINE_MM * len(lines) + 1.0
    pen = Pen(Canvas(WIDTH, top + high * len(rows) + 2.0 * EDGE + 0.5, said(connector)))
    for n, line in enumerate(lines):
        pen.line(0.0, LINE_MM * (n + 1) - 0.8, WIDTH, line, bold=True)
    if connector.rows:
        across = wide * max(map(len, rows))
        pen.canvas.box(
            0.3, top, across + 2.0 * EDGE - 0.3, high * len(rows) + 2.0 * EDGE, width=0.5
        )
    for down, row in enumerate(rows):
        for along, cavity in enumerate(row):
            x, y = EDGE + wide * along, top + EDGE + high * down
            _cell(pen, cavity, _empty(connector), x, y, wide, high)
    return pen


def _name(c: Connector) -> str:
    one = f" One of {c.pieces} alike." if c.pieces > 1 else ""
    if c.standard:
        return f"{c.id}, {c.name} of {c.of}: poles by number; the moulded numbers rule.{one}"
    return f"{c.id}, {c.name} of {c.of}, seen from the wire side; the moulded numbers rule.{one}"


def caption(c: Connector) -> str:
    """What the face cannot say: contacts, seals, and how far the layout is known."""
    found = f"{c.id}: {_contact(c)}{_takes(c)}{_sealed(c)}"
    if c.standard:
        return (
            f"{found} Where the poles stand is not known here: find each by its number, from the "
            f"wire side. Their uses: {c.source.replace(' (memory)', ', from memory')}."
        )
    if not c.rows_given and c.ways > 1:
        top = "top " if len(c.rows) > 1 else ""
        return (
            f"{found} The plan does not say where the numbers stand: counted off from the "
            f"{top}left here."
        )
    return found


def _contact(c: Connector) -> str:
    kind = f"contacts {c.contact}" if c.contact else "contacts"
    if c.rating_a is None:
        return f"{kind}: no rating given, read it in the connector's sheet."
    usable = "" if c.usable_a == c.rating_a else f", {show.down(c.usable_a)} A here"
    return f"{kind} rated {show.rating(c.rating_a)} A{usable}; {show.up(c.current_a)} A flow."


def _takes(c: Connector) -> str:
    if c.least_mm2 is None or c.most_mm2 is None:
        return ""
    memory = ", from memory" if "memory" in (c.takes_source or "") else ""
    return f" They take {c.least_mm2:g} to {c.most_mm2:g} mm²{memory}."


def _sealed(c: Connector) -> str:
    empty = any(x.role == "empty" for x in c.cavities)
    if c.sealed:
        return f" A seal on each wire{', a plug in each empty cavity' if empty else ''}."
    if c.sealed is None and empty and not c.standard:
        return " Empty cavities: a plug where the housing is a sealed one."
    return ""


def _drawn_rows(c: Connector) -> list[list[Cavity]]:
    by_number = {x.number: x for x in c.cavities}
    if c.rows:
        return [[by_number[n] for n in row] for row in c.rows]
    return [list(c.cavities)]


def _cell_size(c: Connector) -> tuple[float, float]:
    most = max(map(len, _drawn_rows(c)))
    wide = min(WIDEST, (WIDTH - 2.0 * EDGE) / most)
    return wide, LINE_MM * (4 if c.standard else 3) + 2.0


def _empty(c: Connector) -> str:
    """What an empty cavity says."""
    return "plug" if c.sealed and not c.standard else "empty"


def _cell(
    pen: Pen, cavity: Cavity, empty: str, x: float, y: float, wide: float, high: float
) -> None:
    """Number and sign, the standard's use, wire number, colour; an empty one has a thin edge."""
    used = cavity.role != "empty"
    gap = 0.4
    pen.canvas.box(
        x + gap, y + gap, wide - 2.0 * gap, high - 2.0 * gap, width=0.6 if used else 0.15
    )
    sign = SIGNS[cavity.role] if cavity.number not in POLARITY else ""
    lines = [f"{cavity.number} {sign}".strip()]
    if cavity.use is not None:
        lines.append(cavity.use)
    lines += [cavity.run or "", cavity.colour or ""] if used else [empty]
    for n, line in enumerate(lines):
        pen.line(
            x + INSET, y + LINE_MM * (n + 1) + 0.3, wide - 2.0 * INSET, line,
            bold=n == 0 or line == cavity.run,
        )


def said(c: Connector) -> str:
    """The face in words, for whoever cannot see it."""
    parts = []
    for x in c.cavities:
        use = f" ({x.use})" if x.use else ""
        what = {"feed": "positive", "return": "negative", "empty": "empty"}[x.role]
        wire = f", wire {x.run} {x.size} {x.colour}" if x.run else ""
        parts.append(f"cavity {x.number}{use} {what}{wire}")
    rows = ""
    if c.rows:
        rows = f" Rows from the wire side: {'; '.join(' '.join(row) for row in c.rows)}."
    return f"{c.id}, {c.name} of {c.of}: {', '.join(parts)}.{rows}"


def feed_mark(pen: Pen, x: float, y: float, label: str) -> None:
    """Socket on the harness and plug on the accessory, ending at ``x`` on a line to the right."""
    _symbol(pen.canvas, x - SYMBOL, y, 1.0, 0.0)
    pen.mark(x - width_mm(label, TEXT_MM) - 0.8, y + 4.6, label)


def return_mark(pen: Pen, x: float, y: float, label: str) -> None:
    """The same on a line down to ``y`` at ``x``: plug first, then the harness's socket."""
    _symbol(pen.canvas, x, y - 2.0, 0.0, -1.0)
    wide = width_mm(label, TEXT_MM)
    pen.mark(min(x + 2.4, WIDTH - wide), y - 3.4, label)


def _symbol(canvas: Canvas, x: float, y: float, dx: float, dy: float) -> None:
    """From (x, y), the cup's side, in the direction (dx, dy)."""

    def at(along: float, across: float) -> tuple[float, float]:
        return x + along * dx - across * dy, y + along * dy + across * dx

    corners = (at(0.1, -0.3), at(PIN_END, -0.3), at(PIN_END, 0.3), at(0.1, 0.3))
    left, top = min(p[0] for p in corners), min(p[1] for p in corners)
    right, low = max(p[0] for p in corners), max(p[1] for p in corners)
    canvas.box(left, top, right - left, low - top, fill="#fff", width=0.0)
    arc = (math.radians(90 + 18 * n) for n in range(11))
    canvas.line(*(at(2.0 + CUP * math.cos(a), CUP * math.sin(a)) for a in arc), width=0.4)
    canvas.line(at(0.0, 0.0), at(2.0 - CUP, 0.0), width=0.4)
    pin = [at(1.7, -0.5), at(PIN_END, -0.5), at(PIN_END, 0.5), at(1.7, 0.5)]
    canvas.shape(*pin, fill="#000")
    canvas.line(at(PIN_END, 0.0), at(SYMBOL, 0.0), width=0.4)
