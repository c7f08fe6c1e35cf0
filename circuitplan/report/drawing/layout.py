"""Places the strips of the tree on drawings that fit a sheet.

Energy flows left to right and top to bottom (IEC 61082-1). Every branch has a strip of its own,
one below the other, so nothing can overlap. Each node's bar hangs under its box, and its branches
leave the bar to the right. Three levels fit the width; what lies deeper starts a drawing of its
own. A drawing higher than the sheet is cut between strips; a bar that goes on is named at both
ends.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from circuitplan.report.drawing.strips import (
    LINE_MM,
    Bar,
    Mark,
    Point,
    Strip,
    circuit_strips,
    node_strip,
    root_strip,
    text,
)
from circuitplan.report.drawing.tree import Node

WIDTH_MM = 180.0
HEIGHT_MM = 208.0  # of one drawing: what a sheet holds below head and caption
LEVELS = 3


@dataclass(slots=True)
class Drawing:
    """``wires`` are polylines and ``dots`` joints [mm], the origin top left."""

    name: str
    height_mm: float = 0.0
    marks: list[Mark] = field(default_factory=list)
    wires: list[tuple[Point, ...]] = field(default_factory=list)
    dots: list[Point] = field(default_factory=list)


def layout(trees: tuple[Node, ...]) -> tuple[Drawing, ...]:
    """Drawings in order, each at most ``HEIGHT_MM`` high (a single strip never is)."""
    drawings: list[Drawing] = []
    waiting = list(trees)
    while waiting:
        root = waiting.pop(0)
        strips, deeper = _below(root, 0, ())
        drawings += _paginate(root.name, [root_strip(root), *strips], len(drawings))
        waiting[:0] = deeper
    return tuple(drawings)


def _below(node: Node, level: int, above: tuple[Bar, ...]) -> tuple[list[Strip], list[Node]]:
    """Strips of what ``node`` feeds, and the nodes too deep for this drawing."""
    chain = (*above, Bar.of(node, level))
    strips: list[Strip] = []
    deeper: list[Node] = []
    for branch in node.circuits:
        strips += circuit_strips(branch, chain)
    for panel in node.panels:
        feeds = bool(panel.circuits or panel.panels)
        fits = level + 1 < LEVELS
        strips.append(node_strip(panel, chain, opens=feeds and fits, elsewhere=feeds and not fits))
        if fits:
            inner, more = _below(panel, level + 1, chain)
            strips += inner
            deeper += more
        elif feeds:
            deeper.append(panel)
    return strips, deeper


def _paginate(name: str, strips: list[Strip], before: int) -> list[Drawing]:
    sheets = [_Sheet(name)]
    for i, strip in enumerate(strips):
        room = HEIGHT_MM - LINE_MM * (len(strip.bars) + 1)
        if sheets[-1].y + strip.height > room and not sheets[-1].fresh:
            here = before + len(sheets)
            ahead = {s.bars[-1] for s in strips[i:] if s.bars}
            going_on = tuple(bar for bar in strip.bars if bar in ahead)
            sheets[-1].leave(going_on, here + 1)
            sheets.append(_Sheet(name))
            sheets[-1].resume(going_on, here)
        sheets[-1].place(strip)
    return [sheet.finish() for sheet in sheets]


class _Sheet:
    """A drawing being filled from the top; remembers where each bar begins and ends."""

    def __init__(self, name: str) -> None:
        self.drawing = Drawing(name)
        self.y = 0.0
        self.fresh = True
        self._span: dict[Bar, tuple[float, float]] = {}

    def place(self, strip: Strip) -> None:
        drawing, top = self.drawing, self.y
        drawing.marks += [m.lowered(top) for m in strip.marks]
        drawing.wires += [tuple((x, y + top) for x, y in wire) for wire in strip.wires]
        drawing.dots += [(x, y + top) for x, y in strip.dots]
        if strip.bars:
            bar = strip.bars[-1]
            self._reach(bar, top + strip.axis)
            drawing.dots.append((bar.x, top + strip.axis))
        if strip.opens:
            self._span[strip.opens] = (top + strip.opens_at, top + strip.opens_at)
        self.y += strip.height
        self.fresh = False

    def leave(self, bars: tuple[Bar, ...], drawing_number: int) -> None:
        """Run the open bars to the foot and say where they go on."""
        for bar in reversed(bars):  # innermost first, so that no bar runs through a name
            words = f"{bar.name}: goes on in drawing {drawing_number}"
            self.drawing.marks.append(text(bar.x + 1.2, self.y, (words,)))
            self.y += LINE_MM
            self._reach(bar, self.y)

    def resume(self, bars: tuple[Bar, ...], drawing_number: int) -> None:
        """Begin the open bars at the head and say where they come from."""
        for bar in bars:
            words = f"{bar.name}: from drawing {drawing_number}"
            self.drawing.marks.append(text(bar.x + 1.2, self.y, (words,)))
            self._span[bar] = (self.y, self.y + LINE_MM)
            self.y += LINE_MM

    def finish(self) -> Drawing:
        self.drawing.wires += [
            ((bar.x, start), (bar.x, end))
            for bar, (start, end) in self._span.items()
            if end > start
        ]
        self.drawing.height_mm = self.y
        return self.drawing

    def _reach(self, bar: Bar, y: float) -> None:
        start, end = self._span[bar]
        self._span[bar] = (start, max(end, y))
