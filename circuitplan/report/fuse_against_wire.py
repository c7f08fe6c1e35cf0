"""Picture: one fuse against the wire it guards, time over current, both logarithmic.

Every line has its own dash and its own word, so that a grey copy says the same.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from circuitplan.model.result import Coordination
from circuitplan.report import show
from circuitplan.report.fonts import width_mm
from circuitplan.report.svg import Canvas

WIDTH_MM, HEIGHT_MM = 88.0, 52.0
_LEFT, _TOP, _RIGHT, _BOTTOM = 12.0, 5.0, 85.0, 43.0
_SHORTEST_S, _LONGEST_S = 0.005, 5000.0
_TEXT = 2.5
_DECADES = (0.01, 0.1, 1.0, 10.0, 100.0, 1000.0)

LOAD, START, MELTS, OPENS, WIRE, NEAR = "", "0.3 0.9", "2.4 1.1", "4 0.9 0.7 0.9", "", "1 1"
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class _Scale:
    """Amperes and seconds to millimetres."""

    low_a: float
    high_a: float

    def x(self, current_a: float) -> float:
        share = math.log(max(current_a, 1e-9) / self.low_a) / math.log(self.high_a / self.low_a)
        return _LEFT + share * (_RIGHT - _LEFT)

    def y(self, seconds: float) -> float:
        share = math.log(max(seconds, 1e-9) / _SHORTEST_S) / math.log(_LONGEST_S / _SHORTEST_S)
        return _BOTTOM - share * (_BOTTOM - _TOP)

    def points(self, curve: tuple[Point, ...]) -> list[Point]:
        return [(self.x(a), self.y(s)) for a, s in curve]


def fuse_against_wire(c: Coordination) -> tuple[str, str]:
    """(SVG, the same in words) of one fuse."""
    alternative = f"{c.fuse} against wire {c.run}. {sentence(c)}"
    canvas = Canvas(WIDTH_MM, HEIGHT_MM, alternative)
    scale = _scale(c)
    _grid(canvas, scale)
    _far_end(canvas, scale, c)
    _upright(canvas, scale, c.load_a, "load", LOAD, 0.45)
    _upright(canvas, scale, c.near_a, "short at the fuse", NEAR, 0.3)
    spans = {
        "start": (_curve(canvas, scale, c.start, START, 0.6), START),
        "melts": (_curve(canvas, scale, c.melts, MELTS, 0.35), MELTS),
        "opens": (_curve(canvas, scale, c.clears, OPENS, 0.35), OPENS),
        "wire hurt": (_curve(canvas, scale, c.damage, WIRE, 0.8), WIRE),
    }
    taken: list[tuple[float, float, float]] = []
    for word, (drawn, _) in spans.items():
        if drawn:
            _name(canvas, word, drawn, taken)
    return canvas.render("drawing chart"), alternative


def sentence(c: Coordination) -> str:
    """What the chart says, in one sentence that a fitter can act on."""
    fuse = f"{c.fuse} ({show.rating(c.rating_a)} A, {_type(c.type)})"
    far = f"{show.down(c.far_cold_a, 0)} to {show.up(c.far_new_a, 0)} A"
    if not c.clears:
        return (
            f"No curve of {fuse} is known, so nothing shows that it opens before the wire "
            f"({c.size}) is hurt: get its maker's."
        )
    off = "never surely" if c.clears_s is None else f"by {show.up(c.clears_s)} s at the latest"
    start = ""
    if c.start_share is not None and c.start_share > 0.0:
        used = show.up(100.0 * c.start_share, 0)
        start = f", its start uses {used} % of what the fuse stands"
        if c.start_margin is not None and c.start_margin < 1.0:
            start += " (70 % is allowed: it may blow)"
    words = (
        f"{fuse} carries the load of {show.up(c.load_a)} A{start}; a short at the far end draws "
        f"{far} and is off {off}, and the wire ({c.size}) bears the weakest for "
        f"{show.down(c.allowed_s)} s"
    )
    if c.guarded:
        return f"{words}: the wire is guarded."
    return f"{words}: it is NOT shown that the fuse opens before the wire is hurt."


def legend() -> tuple[str, str]:
    """(SVG, words): each kind of line once."""
    words = (
        ("load", LOAD, 0.45, "what flows in use"),
        ("start", START, 0.6, "what a start draws, and for how long"),
        ("melts", MELTS, 0.35, "sooner than this the fuse does not melt"),
        ("opens", OPENS, 0.35, "later than this it has opened"),
        ("wire hurt", WIRE, 0.8, "here the wire is at its class + 50 K"),
        ("short at the fuse", NEAR, 0.3, "most that can flow there"),
    )
    canvas = Canvas(180.0, 17.0, "Lines of the charts that follow.")
    for n, (word, dash, width, meaning) in enumerate(words):
        x, y = (n % 2) * 90.0, 3.0 + (n // 2) * 4.6
        canvas.line((x, y), (x + 14.0, y), width=width, dash=dash)
        canvas.text(x + 16.0, y + 0.9, word, _TEXT, bold=True)
        canvas.text(x + 37.0, y + 0.9, meaning, _TEXT)
    canvas.box(0.0, 14.6, 14.0, 1.8, width=0.2)
    canvas.hatch(0.0, 14.6, 14.0, 1.8, 1.0)
    canvas.text(16.0, 16.4, "far end", _TEXT, bold=True)
    canvas.text(37.0, 16.4, "short at the far end: aged cold battery, hot wire to new battery, "
                "cold wire", _TEXT)  # fmt: skip
    return canvas.render("drawing"), "Lines of the charts: " + "; ".join(
        f"{word}: {meaning}" for word, _, _, meaning in words
    )


def _type(type_: str) -> str:
    return type_ if len(type_) > 5 else f"type {type_}"


def _scale(c: Coordination) -> _Scale:
    currents = [c.load_a, c.far_cold_a, c.far_new_a, c.near_a, 12.0 * c.rating_a, c.rating_a]
    low = min([a for a in currents if a > 0.0])
    return _Scale(0.6 * max(low, max(currents) / 1e5), 1.25 * max(currents))


def _grid(canvas: Canvas, scale: _Scale) -> None:
    canvas.box(_LEFT, _TOP, _RIGHT - _LEFT, _BOTTOM - _TOP, width=0.25)
    for seconds in _DECADES:
        y = scale.y(seconds)
        canvas.line((_LEFT, y), (_RIGHT, y), width=0.08)
        canvas.text(_LEFT - 1.0, y + 0.9, f"{seconds:g} s", _TEXT, anchor="end")
    power = math.floor(math.log10(scale.low_a))
    while 10.0**power <= scale.high_a:
        for step in range(1, 10):
            current = step * 10.0**power
            if scale.low_a <= current <= scale.high_a:
                x = scale.x(current)
                top = _TOP if step == 1 else _BOTTOM - (1.6 if step == 5 else 0.9)
                canvas.line((x, top), (x, _BOTTOM), width=0.12)
                if step == 1:
                    middle = min(x, _RIGHT - 3.0)
                    canvas.text(middle, _BOTTOM + 7.6, f"{current:.15g} A", _TEXT, anchor="middle")
        power += 1


def _far_end(canvas: Canvas, scale: _Scale, c: Coordination) -> None:
    """The reach of far-end faults as a hatched bar on the axis."""
    left, right = scale.x(c.far_cold_a), max(scale.x(c.far_new_a), scale.x(c.far_cold_a) + 0.8)
    canvas.box(left, _BOTTOM + 0.6, right - left, 1.8, fill="#fff", width=0.2)
    canvas.hatch(left, _BOTTOM + 0.6, right - left, 1.8, 1.0)
    for x in (left, right):
        canvas.line((x, _TOP), (x, _BOTTOM + 2.4), width=0.15, dash="0.5 0.5")
    middle = min(max((left + right) / 2.0, _LEFT + 5.0), _RIGHT - 5.0)
    canvas.text(middle, _BOTTOM + 4.9, "far end", _TEXT, anchor="middle")


def _upright(
    canvas: Canvas, scale: _Scale, current_a: float, word: str, dash: str, width: float
) -> None:
    if current_a <= 0.0 or not scale.low_a <= current_a <= scale.high_a:
        return
    x = scale.x(current_a)
    canvas.line((x, _TOP), (x, _BOTTOM), width=width, dash=dash)
    half = width_mm(word, _TEXT) / 2.0
    canvas.text(min(max(x, _LEFT + half), _RIGHT - half), _TOP - 0.9, word, _TEXT,
                anchor="middle")  # fmt: skip


def _curve(
    canvas: Canvas, scale: _Scale, curve: tuple[Point, ...], dash: str, width: float
) -> list[Point]:
    """Draws what lies inside the frame; returns those points."""
    placed = scale.points(curve)
    strokes: list[list[Point]] = []
    for start, end in pairwise(placed):
        piece = _clipped(start, end)
        if piece is None:
            continue
        if strokes and strokes[-1][-1] == piece[0]:
            strokes[-1].append(piece[1])
        else:
            strokes.append([piece[0], piece[1]])
    if len(placed) == 1 and _inside(placed[0]):
        x, y = placed[0]
        canvas.circle(x, y, 0.8, fill="#000")
        return placed
    for stroke in strokes:
        canvas.line(*stroke, width=width, dash=dash)
    return [point for stroke in strokes for point in stroke]


def _inside(point: Point) -> bool:
    return _LEFT <= point[0] <= _RIGHT and _TOP <= point[1] <= _BOTTOM


def _clipped(start: Point, end: Point) -> tuple[Point, Point] | None:
    """The part of a straight stroke inside the frame (parametric clipping)."""
    near, far = 0.0, 1.0
    dx, dy = end[0] - start[0], end[1] - start[1]
    for step, room in (
        (-dx, start[0] - _LEFT), (dx, _RIGHT - start[0]),
        (-dy, start[1] - _TOP), (dy, _BOTTOM - start[1]),
    ):  # fmt: skip
        if step == 0.0:
            if room < 0.0:
                return None
        elif step < 0.0:
            near = max(near, room / step)
        else:
            far = min(far, room / step)
    if near > far:
        return None
    return (
        (start[0] + near * dx, start[1] + near * dy),
        (start[0] + far * dx, start[1] + far * dy),
    )


def _name(
    canvas: Canvas, word: str, drawn: list[Point], taken: list[tuple[float, float, float]]
) -> None:
    """The word beside its line, where no other word stands."""
    wide = width_mm(word, _TEXT, 600) + 0.8
    for x, y in _spots(drawn, word):
        left = x + 0.9 if x + 0.9 + wide <= _RIGHT else x - 0.9 - wide
        base = min(max(y, _TOP + 2.6), _BOTTOM - 1.0)
        if all(abs(base - b) > 2.7 or left > r or left + wide < a for a, r, b in taken):
            taken.append((left, left + wide, base))
            canvas.box(left - 0.2, base - 2.1, wide, 2.7, fill="#fff", width=0.0)
            canvas.text(left, base, word, _TEXT, bold=True)
            return


def _spots(drawn: list[Point], word: str) -> list[Point]:
    """Where to try: along the line, from the end at which lines lie apart."""
    order = drawn if word == "wire hurt" else drawn[len(drawn) // 3 :] + drawn[: len(drawn) // 3]
    rise = -0.9 if word in ("wire hurt", "opens") else 2.4
    middle = [
        ((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0)
        for a, b in pairwise(order)
    ]
    return [(x, y + rise) for x, y in (*middle, *order)]
