"""One strip of the drawing: the symbols and texts of a branch, placed from the strip's own top."""

from __future__ import annotations

from dataclasses import dataclass, replace

from circuitplan.report.drawing.tree import CircuitBranch, Contact, Guard, Load, Node
from circuitplan.report.fonts import width_mm, wrap

Point = tuple[float, float]

RIGHT_MM = 180.0
TEXT_MM = 2.9
LINE_MM = 3.3
_FIRST_BAR_MM, _INDENT_MM = 14.0, 26.0
_GUARD_MM, _CONTACT_MM, _WIRE_MM, _LOAD_MM = 19.0, 21.0, 18.0, 16.0
_LOAD_X = _FIRST_BAR_MM + 2 * _INDENT_MM + _GUARD_MM + _CONTACT_MM + _WIRE_MM
_NAME_X = _LOAD_X + _LOAD_MM
_GAP_MM = 1.4
_CLEAR_MM = 0.7  # least distance between a symbol and its text
_BOX_X_MM, _BOX_ROOM_MM = 20.0, 72.0

# Half heights above and below the axis [mm] of each symbol, drawn on the 2.5 mm module.
_ABOVE = {"fuse": 1.25, "isolator": 1.25, "breaker": 1.25, "switch": 0.3, "relay": 0.3, "none": 0.0}
_BELOW = {"fuse": 1.25, "isolator": 2.6, "breaker": 2.6, "switch": 3.6, "relay": 2.6, "none": 0.0}
SYMBOL_W = {"fuse": 5.0, "isolator": 10.0, "breaker": 10.0, "switch": 10.0, "relay": 10.0}
_LOAD_HALF_MM = 3.2
_FRAME_DROP_MM = 5.4


@dataclass(frozen=True, slots=True)
class Bar:
    """A vertical line that branches leave; ``key`` tells equal names apart."""

    key: str
    x: float
    name: str

    @staticmethod
    def of(node: Node, level: int) -> Bar:
        """The bar under a node's box; level 0 is the root of a drawing."""
        return Bar(f"{level}:{node.name}", _FIRST_BAR_MM + _INDENT_MM * level, node.name)


@dataclass(frozen=True, slots=True)
class Mark:
    """A symbol or a text in its own rectangle [mm]; ``lines`` are printed top down."""

    what: str
    x: float
    y: float
    w: float
    h: float
    lines: tuple[str, ...] = ()
    bold: int = 0  # how many of the first lines are bold

    def lowered(self, by: float) -> Mark:
        """The same mark ``by`` [mm] further down."""
        return replace(self, y=self.y + by)


@dataclass(frozen=True, slots=True)
class Strip:
    """``axis``: where its wire runs below its top; ``bars``: the bars it hangs on, outermost first;
    ``opens``: the bar that begins here, at ``opens_at``."""

    height: float
    axis: float
    bars: tuple[Bar, ...]
    marks: tuple[Mark, ...]
    wires: tuple[tuple[Point, ...], ...]
    dots: tuple[Point, ...] = ()
    opens: Bar | None = None
    opens_at: float = 0.0


def text(x: float, y: float, lines: tuple[str, ...], bold: int = 0) -> Mark:
    """A text with its top left corner at (x, y) [mm], as wide as its longest line."""
    widths = [width_mm(s, TEXT_MM, 600 if i < bold else 400) for i, s in enumerate(lines)]
    return Mark("text", x, y, max(widths, default=0.0), LINE_MM * len(lines), lines, bold)


@dataclass(frozen=True, slots=True)
class _Labelled:
    """A symbol on the axis with wrapped text above and below it."""

    symbol: str
    above: tuple[str, ...]
    below: tuple[str, ...]

    @staticmethod
    def of(item: Guard | Contact, room: float) -> _Labelled:
        return _Labelled(
            item.symbol, wrap(item.above, TEXT_MM, room, 600), wrap(item.below, TEXT_MM, room)
        )

    @property
    def up(self) -> float:
        return _ABOVE[self.symbol] + _CLEAR_MM + LINE_MM * len(self.above)

    @property
    def down(self) -> float:
        return _BELOW[self.symbol] + _CLEAR_MM + LINE_MM * len(self.below)

    def marks(self, x: float, symbol_x: float, axis: float) -> list[Mark]:
        found = []
        high, low = _ABOVE[self.symbol], _BELOW[self.symbol]
        if self.symbol != "none":
            width = SYMBOL_W[self.symbol]
            found.append(Mark(self.symbol, symbol_x, axis - high, width, high + low))
        if self.above:
            top = axis - high - _CLEAR_MM - LINE_MM * len(self.above)
            found.append(text(x, top, self.above, bold=len(self.above)))
        if self.below:
            found.append(text(x, axis + low + _CLEAR_MM, self.below))
        return found


def circuit_strips(branch: CircuitBranch, bars: tuple[Bar, ...]) -> list[Strip]:
    """A strip an accessory; later ones tap behind the fuse, and behind a shared contact."""
    first = branch.loads[0]
    several = len(branch.loads) > 1
    tap_x = bars[-1].x + _GUARD_MM + (_CONTACT_MM if branch.shared else 0.0)
    tap = Bar(f"tap:{first.wire}:{first.name}", tap_x, f"circuit {first.name}")
    strips = [_load_strip(first, branch.guard, first.contact, bars, tap if several else None)]
    strips += [
        _load_strip(load, None, None if branch.shared else load.contact, (*bars, tap), None)
        for load in branch.loads[1:]
    ]
    return strips


def _load_strip(
    load: Load,
    guard: Guard | None,
    own_contact: Contact | None,
    bars: tuple[Bar, ...],
    opens: Bar | None,
) -> Strip:
    bar_x = bars[-1].x
    after_guard = bar_x + _GUARD_MM if guard else bar_x
    wire_x = after_guard + (_CONTACT_MM if own_contact else 0.0) + 1.4
    wire_room = _LOAD_X - wire_x - 1.5
    guard_part = _Labelled.of(guard, _GUARD_MM - 2.0) if guard else None
    contact = _Labelled.of(own_contact, _CONTACT_MM - 2.0) if own_contact else None
    wire = _Labelled(
        "none", wrap(load.wire, TEXT_MM, wire_room), wrap(load.size, TEXT_MM, wire_room)
    )
    name = wrap(load.name, TEXT_MM, RIGHT_MM - _NAME_X, 600)
    detail = wrap(load.detail, TEXT_MM, RIGHT_MM - _NAME_X)
    words = (*name, *detail)
    half = LINE_MM * len(words) / 2.0
    parts = [p for p in (guard_part, contact, wire) if p]
    axis = max(_LOAD_HALF_MM, half, *(p.up for p in parts))
    down = max(
        _FRAME_DROP_MM if load.back == "chassis" else _LOAD_HALF_MM, half, *(p.down for p in parts)
    )
    marks = [
        *(guard_part.marks(bar_x + 1.4, bar_x + 5.0, axis) if guard_part else []),
        *(contact.marks(after_guard + 1.4, after_guard + 5.0, axis) if contact else []),
        *wire.marks(wire_x, wire_x, axis),
        Mark(
            f"load {load.symbol} {load.letter}",
            _LOAD_X, axis - _LOAD_HALF_MM, 2 * _LOAD_HALF_MM, 2 * _LOAD_HALF_MM,
        ),
        Mark(
            "frame" if load.back == "chassis" else "return terminal",
            _LOAD_X + 9.0, axis - 0.8, 4.4, _FRAME_DROP_MM + 0.8 if load.back == "chassis" else 1.6,
        ),
        text(_NAME_X, axis - half, words, bold=len(name)),
    ]  # fmt: skip
    holes = [(m.x, m.x + m.w) for m in marks if m.what in SYMBOL_W and m.what != "fuse"]
    wires = _line_with_holes(bar_x, _LOAD_X, axis, holes)
    wires.append(((_LOAD_X + 2 * _LOAD_HALF_MM, axis), (_LOAD_X + 11.2, axis)))
    return Strip(
        axis + down + _GAP_MM, axis, bars, tuple(marks), tuple(wires),
        ((opens.x, axis),) if opens else (), opens, axis,
    )  # fmt: skip


def node_strip(node: Node, bars: tuple[Bar, ...], *, opens: bool, elsewhere: bool) -> Strip:
    """A panel with the device that protects its feeder; ``elsewhere``: drawn on its own."""
    bar_x = bars[-1].x
    guard = _Labelled.of(node.guard, _GUARD_MM - 2.0)
    box_x = bar_x + _BOX_X_MM
    words, bold = _box_words(node, min(_BOX_ROOM_MM, RIGHT_MM - box_x - 3.0))
    if elsewhere:
        words = (*words, "has its own drawing")
    box_h = LINE_MM * len(words) + 2.0
    axis = max(guard.up, box_h / 2.0)
    box = _box(node, box_x, axis - box_h / 2.0, words, bold)
    marks = [*guard.marks(bar_x + 1.4, bar_x + 5.0, axis), *box]
    holes = [(m.x, m.x + m.w) for m in marks if m.what in SYMBOL_W and m.what != "fuse"]
    level = len(bars)
    return Strip(
        max(axis + guard.down, axis + box_h / 2.0) + _GAP_MM, axis, bars, tuple(marks),
        tuple(_line_with_holes(bar_x, box_x, axis, holes)), (),
        Bar.of(node, level) if opens else None, axis + box_h / 2.0,
    )  # fmt: skip


def root_strip(node: Node) -> Strip:
    """Head of a drawing: a battery, or the box of a panel that is fed in another drawing."""
    bar = Bar.of(node, 0)
    opens = bar if node.circuits or node.panels else None
    if node.kind != "source":
        words, bold = _box_words(node, _BOX_ROOM_MM)
        box_h = LINE_MM * len(words) + 2.0
        marks = tuple(_box(node, bar.x - 6.0, 0.0, words, bold))
        return Strip(box_h + _GAP_MM, box_h / 2.0, (), marks, (), (), opens, box_h)
    axis = 4.0
    words = wrap(node.name, TEXT_MM, RIGHT_MM - bar.x - 8.0, 600)
    height = max(11.0, LINE_MM * len(words) + 3.0) + _GAP_MM
    marks = (
        Mark("battery", 1.0, axis - 2.6, bar.x - 2.0, 8.2),
        text(bar.x + 3.0, axis - 2.4, words, bold=len(words)),
    )
    return Strip(height, axis, (), marks, (((bar.x - 1.0, axis), (bar.x, axis)),), (), opens, axis)


def _box_words(node: Node, room: float) -> tuple[tuple[str, ...], int]:
    name = wrap(node.name, TEXT_MM, room, 600)
    kind = "converter, " if node.kind == "converter" else ""
    feeder = f"{node.wire}  {node.size}".strip()
    rest = (*wrap(f"{kind}{node.detail}", TEXT_MM, room), *wrap(feeder, TEXT_MM, room))
    return (*name, *rest), len(name)


def _box(node: Node, x: float, y: float, words: tuple[str, ...], bold: int) -> list[Mark]:
    label = text(x + 1.5, y + 1.0, words, bold)
    return [Mark("panel", x, y, max(label.w + 3.0, 22.0), label.h + 2.0), label]


def _line_with_holes(
    start: float, end: float, y: float, holes: list[tuple[float, float]]
) -> list[tuple[Point, ...]]:
    """A wire from ``start`` to ``end``, left open where a contact is drawn."""
    pieces: list[tuple[Point, ...]] = []
    for left, right in sorted(holes):
        pieces.append(((start, y), (left, y)))
        start = right
    pieces.append(((start, y), (end, y)))
    return pieces
