"""What stands on each label, and the labels drawn on a sheet or one a page."""

from __future__ import annotations

import html
import math
import re
from dataclasses import dataclass
from pathlib import Path

from circuitplan.design.bench.pieces import Piece, both_gauges, pieces_of
from circuitplan.library.store import read_csv
from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.report.environment import environment, style
from circuitplan.report.fonts import CAP_HEIGHT_EM, width_mm, wrap
from circuitplan.report.paper.sheet import csv_text
from circuitplan.report.svg import Canvas
from circuitplan.report.words import fuse_text, heading, identity, revision

HEAD = (
    "wire", "end", "here", "there", "fuse", "fuse_text", "size", "mm2", "awg", "colour",
    "circuit", "line_1", "line_2", "line_3", "sleeve_mm", "outer_mm", "vehicle",
)


@dataclass(frozen=True, slots=True)
class Stock:
    """A label as it is bought; ``height_mm`` 0: that of the wire's own sleeve pressed flat."""

    name: str
    width_mm: float
    height_mm: float
    halves: int
    shrinks_to: float
    least_cap_mm: float


@dataclass(frozen=True, slots=True)
class Label:
    """One end of one wire."""

    piece: Piece
    end: str  # "from" or "to"
    here: str
    there: str
    vehicle: int

    @property
    def lines(self) -> tuple[str, str, str]:
        """Wire number and fuse; this end and the other; size and colour."""
        fuse = f" {self.piece.fuse.id}" if self.piece.fuse else ""
        return (
            f"{self.piece.mark}{fuse}",
            f"{_short(self.here)} → {_short(self.there)}",
            f"{self.piece.kind.size} {self.piece.kind.colour}",
        )


def _short(at: str) -> str:
    """A splice needs no name of its own: the wire number says whose it is."""
    return "splice" if at.startswith("splice of ") else at


def stocks() -> dict[str, Stock]:
    """The label sizes that ship, by name."""
    return {
        row["name"]: Stock(
            row["name"], float(row["width_mm"]), float(row["height_mm"]), int(row["halves"]),
            float(row["shrinks_to"]), float(row["least_cap_mm"]),
        )
        for row in read_csv(Path(__file__).with_name("stock.csv"))
    }


def own_size(width: float, height: float) -> Stock:
    """A plain label of the user's size [mm]."""
    return Stock(f"{width:g}x{height:g}mm", width, height, 1, 1.0, 1.8)


def labels_of(result: Result, vehicles: int = 1) -> tuple[Label, ...]:
    """Two for each piece of wire, in the order of the cut list."""
    return tuple(
        Label(piece, end, here, there, vehicle)
        for vehicle in range(1, vehicles + 1)
        for piece in pieces_of(result)
        for end, here, there in (
            ("from", piece.ends[0].at, piece.ends[1].at),
            ("to", piece.ends[1].at, piece.ends[0].at),
        )
    )


def as_csv(result: Result, vehicles: int = 1) -> str:
    """One row a label, for label printers."""
    rows = []
    for label in labels_of(result, vehicles):
        p = label.piece
        metric, awg = both_gauges(p.run)
        rows.append((
            p.mark, label.end, label.here, label.there, p.fuse.id if p.fuse else "",
            fuse_text(p.fuse) if p.fuse else "", p.kind.size, metric, awg, p.kind.colour,
            p.circuit, *label.lines, p.sleeve_mm[0] if p.sleeve_mm else None, p.run.outer_mm,
            label.vehicle,
        ))
    return csv_text(HEAD, rows)


def render_labels(
    plan: Plan, result: Result, stock: Stock, vehicles: int = 1, single: bool = False
) -> str:
    """Self-contained HTML: a sheet with cut lines, or with ``single`` one label a page."""
    labels = labels_of(result, vehicles)
    if stock.height_mm == 0.0:  # alike in height side by side
        labels = tuple(sorted(labels, key=lambda label: _height(label, stock)))
    drawn = [draw(label, stock) for label in labels]
    template = environment().get_template("labels/labels.html.j2")
    title = heading(plan)
    note = (
        "Print at 100 %, without fitting to the page; check one label with a rule: "
        f"{stock.width_mm:g} mm wide. Cut along the lines."
    )

    def fill(css: str) -> str:
        return template.render(title=title, note=note, drawn=drawn, single=single, style=css)

    letters = html.unescape(re.sub(r"<[^>]+>", "", fill("")))
    css = style(
        "labels/labels.css", letters, (400, 600), title=title, revision=revision(plan),
        identity=f"Wire labels · {identity(plan)}",
    )
    height = max((_height(label, stock) for label in labels), default=10.0)
    if single:
        css += (
            f"\n@page {{ size: {stock.width_mm:g}mm {height:g}mm; margin: 0; "
            "@bottom-left { content: none; } @bottom-right { content: none; } }"
        )
    return fill(css)


def _height(label: Label, stock: Stock) -> float:
    """Sleeves lie flat: half their circumference wide [mm], rounded down to 0.1."""
    if stock.height_mm:
        return stock.height_mm
    sleeve = label.piece.sleeve_mm
    bore = sleeve[0] if sleeve else 25.4
    return math.floor(10.0 * math.pi * bore / 2.0) / 10.0


def draw(label: Label, stock: Stock) -> str:
    """One label as SVG, its outline being the cut line."""
    height = _height(label, stock)
    canvas = Canvas(stock.width_mm, height, f"{label.lines[0]}: {label.lines[1]}")
    canvas.box(0.05, 0.05, stock.width_mm - 0.1, height - 0.1, width=0.1)
    wrap_mm = 10.0 if stock.halves == 2 else 0.0
    room = (stock.width_mm - wrap_mm) / stock.halves
    for half in range(stock.halves):
        _text(canvas, half * (room + wrap_mm), room, height, label, stock)
    if stock.halves == 2:
        for x in (room, room + wrap_mm):
            canvas.line((x, 0.0), (x, height), width=0.1, dash="0.8 0.8")
    return canvas.render("label")


def _text(
    canvas: Canvas, x: float, room: float, height: float, label: Label, stock: Stock
) -> None:
    """As many lines as the height takes at the least letter height; the wire number always."""
    least_em = stock.least_cap_mm / stock.shrinks_to / CAP_HEIGHT_EM
    inner = room - 2.0
    first, ends, size = label.lines
    count = max(1, min(4, int((height - 0.6) // (least_em * 1.02))))
    if count == 1:
        for words in (f"{first} {ends}", f"{first} {label.here}", first):
            if width_mm(words, least_em, 600) <= inner:
                break
        em = min(height / 1.3, least_em * inner / max(width_mm(words, least_em, 600), 1e-6))
        em = max(em, least_em)
        canvas.text(x + 1.0, height / 2 + em * CAP_HEIGHT_EM / 2, words, em, bold=True)
        return
    lines = [first, *_ends(ends, max(1, count - 2), least_em, inner)]
    if len(lines) < count:
        lines.append(size)
    spare = height - 0.8 - least_em * 1.02 * (len(lines) - 1)
    widest = least_em * inner / width_mm(first, least_em, 600)
    top_em = max(least_em, min(spare / 1.05, widest, 6.0))
    y = 0.3 + top_em * 0.8
    canvas.text(x + 1.0, y, first, top_em, bold=True)
    for line in lines[1:]:
        y += least_em * 1.02 + (0.25 * top_em if line is lines[1] else 0.0) * 0.5
        canvas.text(x + 1.0, y, line, least_em)


def _ends(ends: str, count: int, em: float, room: float) -> list[str]:
    """Where the wire comes from and goes to, in at most ``count`` lines.

    What is too long is said with shorter words, then without this end, where the label sits
    anyway; only what is then still too long loses its last words.
    """
    _, arrow, there = ends.partition(" → ")
    away = f"→ {there}" if arrow else ends
    for words in (ends, brief(ends), away, brief(away)):
        lines = wrap(words, em, room)
        if len(lines) <= count:
            return list(lines)
    kept = brief(away).split()
    while len(kept) > 1 and len(wrap(" ".join((*kept, "…")), em, room)) > count:
        kept = kept[:-1]
    return list(wrap(" ".join((*kept, "…")), em, room)[:count])


def brief(text: str) -> str:
    """The same with the usual short forms of words; what is named stays readable."""
    return _LONG.sub(lambda found: _SHORT_FORMS[found[0]], text)


_SHORT_FORMS = {
    "vehicle's": "veh.", "diode, relay at": "diode+relay", "relay at": "relay",
    "diode, relay of": "diode+relay", "relay of": "relay", "panel": "pnl.", "battery": "batt.",
    "switch": "sw.", "reverse": "rev.", "engine bay": "eng. bay", "indicator": "ind.",
}  # fmt: skip
_LONG = re.compile("|".join(
    rf"\b{word}(?!\w)" for word in sorted(_SHORT_FORMS, key=len, reverse=True)
))
"""Short forms of words on labels (common practice), the longest wording first."""
