"""What the card says, as rows and parts for its layout: no word twice, boxes as lines of the table.

A line of the table before the things of a panel says where that box is and which fuse feeds it, so
that no row repeats it.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from itertools import groupby
from typing import TYPE_CHECKING

from circuitplan.model.result import PanelResult, Result
from circuitplan.report.card_essentials import code, code_text
from circuitplan.report.card_layout import zone_columns
from circuitplan.report.card_letters import LEVELS, Bit, Cell, Letters
from circuitplan.report.card_parts import GAP_MM, Content, Part, Row, Seats, Size
from circuitplan.report.fonts import width_mm
from circuitplan.report.words import fuse_text

if TYPE_CHECKING:
    from circuitplan.report.card import CardView, Line

HEADS = ("Dead (circuit)", "Switch", "Fuse", "Relay, its fuse")
ELSEWHERE = "In no box"
_BLANK_AFTER_NUMBER = re.compile(r"(?<=\d) (?=A\b)|(?<=way) (?=\d)|(?<=type|lass) (?=\w)")


def content_of(view: CardView, result: Result, size: Size, foot: str, warning: str) -> Content:
    """All of it, in the order of its worth."""
    many = zone_columns(size)
    column = (size.room - GAP_MM * (many - 1)) / many
    cut = tuple(step.removesuffix(", fit it last") for step in view.isolate)
    usual = _usual_type(view.lines)
    rows = _rows(view, result, usual)
    said = f"rating and type ({usual} where none is said)" if usual else "rating and type"
    steps = tuple(step.replace("rating and type", said) for step in view.steps)
    parts = (
        Part("Stuck on, smoke, smell: cut the power", cut, "name", True, True, note=(
            "What will not stop: its isolator first, else all of these in this order; negatives "
            "go back last. Never pull a fuse that carries current."
        )),
        Part("It failed at night", steps, "second", True, True),
        Seats(_places(result)),
        Part("Key off", view.parked, "small"),
        Part("Limits", (*view.together, *view.limits), "small"),
        Part("Room for more", view.spare, "small"),
        Part("Jump-start, welding", view.care, "small"),
    )
    # The running foot carries the title where it is sure to find room in any letters.
    footed = size.room >= 170.0 and foot_text(view.title, (foot,), LEVELS[0], size.room - 26.0)
    return Content(
        "" if footed and footed.startswith(view.title) else view.title, warning, HEADS, rows,
        tuple(
            p if isinstance(p, Seats) else replace(p, items=tuple(map(_tied, p.items)))
            for p in parts if (p.rows if isinstance(p, Seats) else p.items)
        ),
        code(code_text(view.title, foot, rows, view.isolate), min(column, size.depth - 12.0)),
    )


def foot_text(title: str, words: tuple[str, ...], letters: Letters, room_mm: float) -> str:
    """The longest of these that fits one line; a long revision is cut."""
    short = [w.replace("Revision ", "rev. ").removeprefix("plan ") for w in words]
    for parts in ((title, *words), words, short, short[:2]):
        text = " · ".join(parts)
        if width_mm(text, letters.em("small"), 600) <= room_mm:
            return text
    return short[1]


def _places(result: Result) -> tuple[tuple[str, tuple[tuple[str, str], ...]], ...]:
    """Switches by place, in the order of the plan, with their label or else what they work."""
    found: dict[str, list[tuple[str, str]]] = {}
    for s in result.switches:
        if s.type != "signal":
            label = ", ".join(s.works) or "free" if s.label in ("", s.id) else s.label
            found.setdefault(s.place or "", []).append((s.id, label))
    return tuple((place, tuple(switches)) for place, switches in found.items())


def _rows(view: CardView, result: Result, usual: str) -> tuple[Row, ...]:
    panels = {p.id: p for p in result.panels}
    rows: list[Row] = []
    groups = groupby(view.lines, key=lambda x: x.panel if x.panel in panels else "")
    for panel, lines in groups:
        mine = list(lines)
        box = panels.get(panel)
        if box is not None:
            rows.append(_band(box))
        elif panels:
            rows.append(Row((((Bit(ELSEWHERE, "second", True),),),), band=True))
        merged = groupby(mine, key=lambda x: (x.switches, x.fuses, x.relays, x.number, x.no_switch))
        rows += [_row(list(same), panel, usual) for _, same in merged]
    used = {line.panel for line in view.lines}
    rows += [_band(p) for p in result.panels if p.id not in used]
    return tuple(rows)


def _usual_type(lines: Iterable[Line]) -> str:
    """The commonest type of fuse: no row repeats it, the order of faults says it once."""
    types = Counter(
        words.rsplit(", type ", 1)[1] for line in lines for _, words, _ in line.fuses
        if ", type " in words
    )
    return max(types, key=lambda t: (types[t], t)) if types else ""


def _band(panel: PanelResult) -> Row:
    """"cab panel, cab: all of it dead, F3 80 A class T at battery"."""
    place = panel.place or ""
    where = f" ({place})" if place and place.casefold() not in panel.id.casefold() else ""
    fuse = panel.fuse
    if fuse is not None:
        at = fuse.position if fuse.position.startswith("at ") else f"at {fuse.position}"
        feed = f"all dead: {fuse.id} {fuse_text(fuse)}, {at}"
    else:
        feed = f"fed from {panel.fed_from}: {panel.fuse_reason or 'no fuse on record'}"
    words = Bit(f"{panel.id}{where}", "second", True), Bit(_tied(feed), "second")
    return Row(((words,),), band=True)


def _row(same: list[Line], panel: str, usual: str) -> Row:
    line = same[0]
    names = ", ".join(x.name for x in same)
    spoken = names.casefold()
    switches: Cell = tuple(
        (Bit(i, "name", True), Bit(label, "second")) if label and label.casefold() not in spoken
        else (Bit(i, "name", True),)
        for i, label in line.switches
    ) or ((Bit(line.no_switch, "second"),),)
    own = [f for f in line.fuses if not f[2].endswith(", for the relay")]
    coils = [f for f in line.fuses if f[2].endswith(", for the relay")]
    fuses: Cell = tuple(
        (Bit(i, "second", True), Bit(_fuse(words, at, panel, usual), "second"))
        for i, words, at in own
    ) or ((Bit(_tied(line.no_fuse), "second"),),)
    relays: Cell = tuple(
        (Bit(i, "second", True), Bit(f"in {at}", "small")) if at and at != panel
        else (Bit(i, "second", True),)
        for i, at in line.relays
    )
    coil = "; ".join(
        f"{i} {_fuse(words, at.removesuffix(', for the relay'), panel, usual)}"
        for i, words, at in coils
    )
    if coil and relays:
        relays = (*relays[:-1], (*relays[-1], Bit(coil, "small")))
    elif coil:
        relays = ((Bit(coil, "small"),),)
    name = ((Bit(names, "name", True), Bit(f"({line.number})", "small")),)
    return Row((name, switches, fuses, relays))


def _fuse(words: str, at: str, panel: str, usual: str) -> str:
    """"15 A blue, way 4": the type only where it is not the usual one, the box never."""
    if usual:
        words = words.removesuffix(f", type {usual}")
    return _tied(f"{words}, {at.removeprefix(f'{panel}, ')}")


def _tied(text: str) -> str:
    return _BLANK_AFTER_NUMBER.sub("\xa0", text)
