"""Placed marks -> SVG."""

from __future__ import annotations

from circuitplan.report.drawing import symbols
from circuitplan.report.drawing.layout import WIDTH_MM, Drawing
from circuitplan.report.drawing.strips import LINE_MM, TEXT_MM, Mark
from circuitplan.report.svg import Canvas

_LEGEND = (
    ("fuse", "fuse"),
    ("breaker", "circuit-breaker"),
    ("isolator", "isolator"),
    ("switch", "switch worked by hand"),
    ("relay", "contact of a relay"),
    ("load lamp E", "lamp"),
    ("load motor M", "motor"),
    ("load coil K", "coil of a relay, solenoid"),
    ("load box T", "other, with its letter of IEC 81346-2"),
    ("frame", "return by the chassis"),
    ("return terminal", "return by wire"),
)


def draw(drawing: Drawing, title: str) -> str:
    """One drawing as inline SVG; ``title`` is its text alternative."""
    canvas = Canvas(WIDTH_MM, drawing.height_mm + 1.0, title)
    for wire in drawing.wires:
        canvas.line(*wire)
    for x, y in drawing.dots:
        canvas.circle(x, y, 0.6, fill="#000")
    # Texts last and alike together: fewer elements, and nothing is drawn over a word.
    for mark in sorted(drawing.marks, key=lambda m: (m.what == "text", m.what)):
        _mark(canvas, mark)
    return canvas.render()


MOTOR_LEGEND = (
    ("change over", "change-over contact"), ("two way", "switch with a middle position"),
)
"""More symbols, of motors worked in two ways."""


def legend(more: tuple[tuple[str, str], ...] = ()) -> str:
    """The symbols used, and ``more``, each with its meaning, as inline SVG."""
    columns, row_h, column_w = 3, 9.0, WIDTH_MM / 3
    shown = (*_LEGEND, *more)
    rows = -(-len(shown) // columns)
    words = "; ".join(meaning for _, meaning in shown)
    canvas = Canvas(WIDTH_MM, rows * row_h, f"Symbols: {words}.")
    for i, (what, meaning) in enumerate(shown):
        x, y = (i % columns) * column_w, (i // columns) * row_h + 3.6
        width = {"fuse": 5.0, "frame": 4.4, "return terminal": 4.4}.get(
            what, 6.4 if what.startswith("load") else 10.0
        )
        half = 3.2 if what.startswith("load") else {"frame": 0.8, "return terminal": 0.8}.get(what)
        top = y - (half if half is not None else symbol_above(what))
        _mark(canvas, Mark(what, x, top, width, 2 * (half or 1.0)))
        canvas.text(x + 12.0, y + 1.0, meaning, TEXT_MM)
    return canvas.render()


def symbol_above(what: str) -> float:
    """How far the symbol's rectangle reaches above its axis [mm]."""
    return 0.3 if what in ("switch", "relay") else 1.25


def _mark(canvas: Canvas, m: Mark) -> None:
    if m.what == "text":
        for i, line in enumerate(m.lines):
            base = m.y + LINE_MM * i + 2.5
            canvas.text(m.x, base, line, TEXT_MM, bold=i < m.bold)
    elif m.what == "panel":
        canvas.box(m.x, m.y, m.w, m.h, fill="#fff", width=0.5)
    elif m.what == "battery":
        symbols.battery(canvas, m.x, m.y + 2.6, m.x + m.w)
    elif m.what == "frame":
        symbols.frame(canvas, m.x + m.w / 2.0, m.y + 0.8)
    elif m.what == "return terminal":
        canvas.circle(m.x + m.w / 2.0 + 0.6, m.y + 0.8, 0.75, fill="#fff")
    elif m.what == "fuse":
        symbols.fuse(canvas, m.x, m.y + symbol_above("fuse"))
    elif m.what == "change over":
        symbols.change_over(canvas, m.x, m.y + symbol_above(m.what), 2.2, "lower")
    elif m.what == "two way":
        symbols.two_way(canvas, m.x, m.y + symbol_above(m.what), 2.2)
    elif m.what.startswith("load "):
        _, symbol, letter = m.what.split(" ", 2)
        symbols.load(canvas, m.x, m.y + m.h / 2.0, m.w, symbol, letter)
    else:
        symbols.contact(canvas, m.x, m.y + symbol_above(m.what), m.what)
