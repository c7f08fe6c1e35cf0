"""Picture: the vehicle's places and ways, with the hottest wire in each.

Places stand in columns, by the number of ways from the first; every way is a bar. Hatching grows
with the share of the insulation's class that the wire reaches, and the number says it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from circuitplan.model.result import WarmLeg
from circuitplan.report import show
from circuitplan.report.fonts import width_mm, wrap
from circuitplan.report.svg import Canvas

_TEXT, _ROW = 2.6, 15.0
_WIDTH_MM = 180.0
_BOX_MM, _BOX_HIGH = 25.0, 10.5
WARM, HOT = 0.6, 0.8
"""Shares of the class, in °C, at which hatching begins and grows dense (judgement)."""


@dataclass(frozen=True, slots=True)
class Way:
    """A way between two places, as the plan has it; ``ambient_c`` of neither is shown."""

    a: str
    b: str
    warm: WarmLeg | None


@dataclass(frozen=True, slots=True)
class _Bar:
    column: int
    row: int
    from_row: int
    way: Way
    place: str
    again: bool  # the place at its end has its own box elsewhere


def warm_wires(
    first: str | None, ways: tuple[Way, ...], inside: Mapping[str, WarmLeg]
) -> tuple[str, str]:
    """(SVG, the same in words). ``first``: the place to begin at; ``inside``: place -> its
    hottest wire that stays there."""
    bars, roots = _laid_out(first, ways)
    columns = max([b.column for b in bars], default=0) + 1
    rows = max([*(b.row for b in bars), *(row for row, _ in roots)], default=0) + 1
    bar_mm = 52.0 if columns <= 1 else (_WIDTH_MM - _BOX_MM * columns) / max(columns - 1, 1)
    bar_mm = min(bar_mm, 52.0)
    alternative = "Hottest wire along each way. " + " ".join(
        f"{w.a} to {w.b}: {words(w.warm)}." for w in ways
    )
    canvas = Canvas(_WIDTH_MM, rows * _ROW + 7.0, alternative)
    step = _BOX_MM + bar_mm
    for row, place in roots:
        _box(canvas, 0.0, row * _ROW, place, inside.get(place.casefold()), again=False)
    for bar in bars:
        x, y = bar.column * step - bar_mm, bar.row * _ROW
        leaves, arrives = bar.from_row * _ROW + _BOX_HIGH / 2.0, y + _BOX_HIGH / 2.0
        canvas.line((x, leaves), (x + 2.0, leaves), (x + 2.0, arrives), width=0.3)
        _bar(canvas, x + 2.0, y + _BOX_HIGH / 2.0, bar_mm - 2.0, bar.way.warm)
        _box(canvas, x + bar_mm, y, bar.place, inside.get(bar.place.casefold()), again=bar.again)
    _key(canvas, rows * _ROW + 1.0)
    return canvas.render("drawing"), alternative


def words(leg: WarmLeg | None) -> str:
    """A way's hottest wire: "wire 3A 75 °C of 125 °C"."""
    if leg is None:
        return "no wire"
    return f"wire {leg.run}, {show.up(leg.conductor_c, 0)} °C of {show.rating(leg.insulation_c)} °C"


def _laid_out(
    first: str | None, ways: tuple[Way, ...]
) -> tuple[list[_Bar], list[tuple[int, str]]]:
    """Columns by distance, rows by order; a way that closes a ring ends in a repeated box."""
    names: dict[str, str] = {}
    for way in ways:
        names.setdefault(way.a.casefold(), way.a)
        names.setdefault(way.b.casefold(), way.b)
    order = sorted(names)
    start = first.casefold() if first is not None and first.casefold() in names else None
    if start is not None:
        order = [start, *(n for n in order if n != start)]
    bars: list[_Bar] = []
    roots: list[tuple[int, str]] = []
    seen: set[str] = set()
    used: set[int] = set()
    row = 0

    def grow(place: str, column: int, here: int) -> None:
        nonlocal row
        mine = [
            (n, w) for n, w in enumerate(ways)
            if n not in used and place in (w.a.casefold(), w.b.casefold())
        ]
        straight = True
        for n, way in mine:
            if n in used:
                continue
            used.add(n)
            there = way.b.casefold() if way.a.casefold() == place else way.a.casefold()
            if not straight:
                row += 1
            straight = False
            at, again = row, there in seen
            bars.append(_Bar(column + 1, at, here, way, names[there], again))
            if not again:
                seen.add(there)
                grow(there, column + 1, at)

    for place in order:
        if place in seen:
            continue
        if roots:
            row += 1
        seen.add(place)
        roots.append((row, names[place]))
        grow(place, 0, row)
    return bars, roots


def _box(
    canvas: Canvas, x: float, y: float, place: str, leg: WarmLeg | None, *, again: bool
) -> None:
    if again:
        canvas.line((x, y), (x + _BOX_MM, y), (x + _BOX_MM, y + _BOX_HIGH), (x, y + _BOX_HIGH),
                    (x, y), width=0.2, dash="1 0.8")  # fmt: skip
    else:
        canvas.box(x, y, _BOX_MM, _BOX_HIGH, fill="#fff", width=0.4)
    lines = wrap(place, _TEXT, _BOX_MM - 2.0, 600)[:2]
    for n, line in enumerate(lines):
        canvas.text(x + 1.0, y + 3.2 + n * 3.0, line, _TEXT, bold=True)
    if leg is not None and not again:
        text = f"wire {leg.run}: {show.up(leg.conductor_c, 0)} °C"
        if len(lines) < 2 and width_mm(text, _TEXT) <= _BOX_MM - 2.0:
            canvas.text(x + 1.0, y + 8.6, text, _TEXT)


def _bar(canvas: Canvas, x: float, middle: float, long: float, leg: WarmLeg | None) -> None:
    if leg is None:
        canvas.line((x, middle), (x + long, middle), width=0.3, dash="0.6 1")
        return
    high = 3.0
    canvas.box(x, middle - high / 2.0, long, high, fill="#fff", width=0.3)
    _fill(canvas, x, middle - high / 2.0, long, high, leg.conductor_c / leg.insulation_c)
    # Text above the bar: number first, it is what one looks for.
    number = f"{show.up(leg.conductor_c, 0)} °C"
    canvas.text(x + 0.8, middle - 2.3, number, 3.0, bold=True)
    rest = f"of {show.rating(leg.insulation_c)}, wire {leg.run}"
    if width_mm(number, 3.0, 600) + width_mm(rest, _TEXT) + 2.5 <= long:
        canvas.text(x + 2.2 + width_mm(number, 3.0, 600), middle - 2.3, rest, _TEXT)


def _fill(canvas: Canvas, x: float, y: float, w: float, h: float, share: float) -> None:
    if share > 1.0:
        canvas.box(x, y, w, h, fill="#000", width=0.3)
    elif share >= HOT:
        canvas.hatch(x, y, w, h, 0.9)
    elif share >= WARM:
        canvas.hatch(x, y, w, h, 2.4)


def _key(canvas: Canvas, y: float) -> None:
    for n, (share, text) in enumerate(
        ((0.0, "below 60 % of its class"), (WARM, "60 to 80 %"), (HOT, "80 to 100 %"),
         (1.1, "over its class"))
    ):  # fmt: skip
        x = (0.0, 48.0, 82.0, 118.0)[n]
        canvas.box(x, y, 10.0, 3.0, fill="#fff", width=0.3)
        _fill(canvas, x, y, 10.0, 3.0, share)
        canvas.text(x + 11.5, y + 2.4, text, _TEXT)
