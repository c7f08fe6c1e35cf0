"""Graphic symbols, drawn from the geometry of IEC 60617 on the 2.5 mm module (from memory).

Circuits run left to right; everything is drawn de-energised, switches off, and a contact's blade
closes upwards (IEC 61082-1).
"""

from __future__ import annotations

from circuitplan.report.svg import Canvas

M = 2.5


def contact(c: Canvas, x: float, y: float, kind: str) -> None:
    """Make contact between (x, y) and (x + 4 M, y); ``kind`` switch, relay, isolator, breaker."""
    c.line((x, y), (x + M, y))
    c.line((x + 3 * M, y), (x + 4 * M, y))
    c.line((x + 3 * M, y), (x + M, y + M), width=0.4)
    if kind == "switch":
        middle = x + 2 * M
        c.line((middle, y + M / 2), (middle, y + 3.5), width=0.25, dash="0.7 0.5")
        c.line((middle - 1.2, y + 3.5), (middle + 1.2, y + 3.5), width=0.4)
    elif kind == "isolator":
        c.line((x + M, y - M / 2), (x + M, y + M / 2), width=0.4)
    elif kind == "breaker":
        for sign in (-1, 1):
            c.line((x + M - 0.9, y - 0.9 * sign), (x + M + 0.9, y + 0.9 * sign))


def fuse(c: Canvas, x: float, y: float) -> None:
    """Rectangle 2 M long with the wire drawn through it, from (x, y)."""
    c.box(x, y - M / 2, 2 * M, M)
    c.line((x, y), (x + 2 * M, y))


def battery(c: Canvas, x: float, y: float, end: float) -> None:
    """Long plate positive, towards ``end``; short plate to the frame at the left."""
    frame(c, x + 2.2, y)
    c.line((x + 2.2, y), (x + 7.0, y))
    c.line((x + 7.0, y - 1.3), (x + 7.0, y + 1.3), width=0.8)
    c.line((x + 8.2, y - 2.6), (x + 8.2, y + 2.6), width=0.35)
    c.line((x + 8.2, y), (end, y))
    c.text(x + 8.9, y - 1.2, "+", 2.6)


def frame(c: Canvas, x: float, y: float) -> None:
    """Frame or chassis: a bar with three oblique strokes, hung from (x, y)."""
    c.line((x, y), (x, y + 3.0))
    c.line((x - 2.0, y + 3.0), (x + 2.0, y + 3.0), width=0.4)
    for i in (-1, 0, 1):
        c.line((x + 1.6 * i + 0.4, y + 3.0), (x + 1.6 * i - 0.6, y + 4.6))


def load(c: Canvas, x: float, y: float, side: float, symbol: str, letter: str) -> None:
    """The symbol of an accessory in the square ``side`` whose left edge is (x, y)."""
    cx, r = x + side / 2.0, side / 2.0
    stub = side / 2.0 - M
    if symbol in ("lamp", "motor"):
        radius = M if symbol == "lamp" else r
        c.line((x, y), (cx - radius, y))
        c.line((cx + radius, y), (x + side, y))
        c.circle(cx, y, radius, fill="#fff")
        if symbol == "lamp":
            d = M * 0.7071
            c.line((cx - d, y - d), (cx + d, y + d))
            c.line((cx - d, y + d), (cx + d, y - d))
        else:
            c.text(cx, y + 0.7, "M", 3.0, bold=True, anchor="middle")
            c.line((cx - 1.2, y + 1.7), (cx + 1.2, y + 1.7), width=0.25)
            c.line((cx - 1.2, y + 2.2), (cx + 1.2, y + 2.2), width=0.25)
    elif symbol == "heater":
        c.line((x, y), (x + stub, y))
        c.box(x + stub, y - M / 2, 2 * M, M, fill="#fff")
        for i in (1, 2, 3):
            at = x + stub + 2 * M * i / 4.0
            c.line((at, y - M / 2), (at, y + M / 2))
        c.line((x + side - stub, y), (x + side, y))
    elif symbol == "coil":
        c.line((x, y), (cx - M / 2, y))
        c.box(cx - M / 2, y - M, M, 2 * M, fill="#fff")
        c.line((cx + M / 2, y), (x + side, y))
    elif symbol == "horn":
        c.line((x, y), (x + 1.2, y))
        c.box(x + 1.2, y - 1.25, 2.5, 2.5, fill="#fff")
        c.shape(
            (x + 3.7, y - 1.25), (x + side - 0.4, y - 2.8), (x + side - 0.4, y + 2.8),
            (x + 3.7, y + 1.25), fill="#fff",
        )  # fmt: skip
        c.line((x + side - 0.4, y), (x + side, y))
    elif symbol == "socket":
        c.line((x, y), (x + 1.5, y))
        c.box(x + 1.5, y - 2.4, 3.4, 4.8, fill="#fff")
        c.circle(x + 3.2, y - 1.0, 0.5)
        c.circle(x + 3.2, y + 1.0, 0.5)
        c.line((x + 4.9, y), (x + side, y))
    else:
        c.box(x + 0.4, y - r + 0.4, side - 0.8, side - 0.8, fill="#fff")
        c.line((x, y), (x + 0.4, y))
        c.line((x + side - 0.4, y), (x + side, y))
        c.text(cx, y + 1.1, letter, 3.2, bold=True, anchor="middle")


def change_over(c: Canvas, x: float, y: float, throw: float, rest: str) -> None:
    """Change-over contact from its two ends at (x, y ± throw) to its middle (x + 4 M, y).

    ``rest``: where the blade lies when nothing works it: at the lower end, or in the middle (off).
    """
    for sign in (-1.0, 1.0):
        c.line((x, y + sign * throw), (x + M, y + sign * throw))
        c.line((x + M, y + sign * throw), (x + M, y + sign * (throw - 1.4)))
    end = (x + M, y) if rest == "middle" else (x + M - 0.9, y + throw - 1.5)
    c.line((x + 3 * M, y), end, width=0.4)
    c.line((x + 3 * M, y), (x + 4 * M, y))


def two_way(c: Canvas, x: float, y: float, throw: float) -> None:
    """A hand-worked contact with a middle position: from (x, y) to (x + 4 M, y ± throw)."""
    c.line((x, y), (x + M, y))
    c.line((x + M, y), (x + 3 * M, y), width=0.4)
    for sign in (-1.0, 1.0):
        c.line((x + 3 * M, y + sign * throw), (x + 4 * M, y + sign * throw))
        c.line((x + 3 * M, y + sign * throw), (x + 3 * M, y + sign * (throw - 1.4)))
    c.line((x + 2 * M, y), (x + 2 * M, y + 3.5), width=0.25, dash="0.7 0.5")
    c.line((x + 2 * M - 1.2, y + 3.5), (x + 2 * M + 1.2, y + 3.5), width=0.4)
