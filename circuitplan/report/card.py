"""The console card: what is dead, where its switch, fuse and relay are, and what to do at night.

What it says stands here, how high each text must be in ``card_letters``, where it stands on which
face in ``card_layout``. Black on white, no meaning by colour.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import get_args

from circuitplan.model.plan import Plan
from circuitplan.model.result import AccessoryResult, Circuit, Result
from circuitplan.planner.holding import warning
from circuitplan.report import card_essentials as essentials
from circuitplan.report import motors, show
from circuitplan.report.card_content import content_of, foot_text
from circuitplan.report.card_layout import lay_out, seat_row_mm, seats_a_row
from circuitplan.report.card_letters import Height, Letters
from circuitplan.report.card_parts import (
    CELL_MM,
    FOOT_MM,
    GAP_MM,
    INDENT_MM,
    MARGIN_MM,
    Seats,
    Size,
)
from circuitplan.report.card_table import flows, one_line
from circuitplan.report.environment import environment, style
from circuitplan.report.words import fuse_text, heading, revision

_FAULT_STEPS = (
    "More dead than one thing: first the fuse of its whole box.",
    "Switch the thing off. Pull its fuse and look through it.",
    "Blown: the same rating and type, never larger; switch on once.",
    "The fuse blows again: stop. Leave it out and that thing off.",
    "Fuse good: a like relay in its place, then plug and earth; then call the workshop with the "
    "circuit's number.",
)
_LIVE = {
    "always": "no switch",
    "ignition": "no switch, with ignition",
    "engine": "no switch, with the engine",
}


@dataclass(frozen=True, slots=True)
class Line:
    """One dead thing; ``fuses`` holds (identifier, rating and colour word, place)."""

    name: str
    number: str
    panel: str
    switches: tuple[tuple[str, str], ...]
    no_switch: str
    fuses: tuple[tuple[str, str, str], ...]
    no_fuse: str
    relays: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class CardView:
    title: str
    lines: tuple[Line, ...]
    panels: tuple[Line, ...]
    limits: tuple[str, ...]
    together: tuple[str, ...]
    isolate: tuple[str, ...]
    steps: tuple[str, ...]
    parked: tuple[str, ...]
    spare: tuple[str, ...]
    care: tuple[str, ...]


SIZES = {
    "A6": Size(148.0, 105.0),
    "A5": Size(210.0, 148.0),
    "100x150mm": Size(100.0, 150.0),
    "4x6in": Size(101.6, 152.4),
}
LEAST_MM, MOST_MM = 85.0, 420.0
"""Sides that a face may have: below, not one thing fits; above, no printer takes it."""


def card_view(plan: Plan, result: Result) -> CardView:
    """Every accessory of the result, in the order in which the fuses sit in their panels."""
    labels = {s.id: "" if s.label == s.id else s.label for s in result.switches}
    circuits = sorted(result.circuits, key=lambda c: essentials.seat(c, result))
    return CardView(
        heading(plan),
        tuple(_line(c, a, result, labels) for c in circuits for a in c.accessories),
        tuple(
            Line(
                f"All on {p.id}", "", p.id, (), "",
                ((p.fuse.id, fuse_text(p.fuse), p.fuse.position),) if p.fuse else (),
                p.fuse_reason or "no fuse on record", (),
            )
            for p in result.panels
        ),
        tuple(_limits(result)),
        tuple(_together(result)),
        result.supply.isolate,
        _FAULT_STEPS,
        essentials.parked(result),
        essentials.spare(result),
        essentials.care(result),
    )


def render_card(
    plan: Plan, result: Result, size: Size = SIZES["A5"], *, marks: bool = False,
    fold: bool = False,
) -> str:
    """The card as self-contained HTML: faces of ``size``, as few as its letters allow.

    ``marks`` adds cut marks outside each face (on paper 20 mm larger each way). ``fold`` prints two
    faces side by side with the fold between them: folded backwards, they are front and back.
    """
    view = card_view(plan, result)
    date = plan.job.date or "date not given"
    foot = (revision(plan), date, f"plan {plan.sha256[:12]}")
    content = content_of(view, result, size, " · ".join(foot), warning(result))
    card = lay_out(content, size)
    shown = foot_text(view.title, foot, card.letters, size.room - 26.0)
    bank = next((p for p in content.parts if isinstance(p, Seats)), Seats(()))
    many_seats = seats_a_row(bank, card.letters, size)
    many = 2 if fold else 1
    faces = tuple(enumerate(card.faces, start=1))
    known: dict[str, object] = {
        "view": view, "content": content, "fold": fold,
        "sheets": [faces[i : i + many] for i in range(0, len(faces), many)],
        "foot": shown,
        "last": len(faces), "flows": flows,
        "one_line": lambda row, width: one_line(row, card.letters, width), "seats": many_seats,
        "seat_mm": lambda row: seat_row_mm(row, card.letters, size.room / many_seats),
    }
    template = environment().get_template("card.html.j2")
    letters = html.unescape(re.sub(r"<[^>]+>", "", template.render(style="", screen="", **known)))
    sheet = style("card.css", letters, (600, 700))
    cut = " marks: crop; bleed: 10mm;" if marks else ""
    page = f"@page {{ size: {size.width * many:g}mm {size.height:g}mm; margin: 0;{cut} }}"
    paper, screen = _measures(size, many, many_seats)
    css = f"{sheet}\n{_heights(card.letters)}\n{paper}\n{page}"
    return template.render(style=css, screen=screen, **known)


def _heights(letters: Letters) -> str:
    """The three heights: of lines (l-), and of words within a line of another height."""
    rules = []
    for height in get_args(Height):
        em, line = letters.em(height), letters.line(height)
        rules.append(f".{height} {{ font-size: {em:g}mm; }}")
        rules.append(f".l-{height} {{ font-size: {em:g}mm; line-height: {line:g}mm; }}")
    return "\n".join(rules)


_NARROW = """\
  .face { padding: 3mm 4mm; }
  .four, .four tbody, .four tr, .four th, .four td { display: block; }
  .four thead { display: none; }
  .four tbody th, .four td { border: 0; padding: 0; }
  .four tr { border-bottom: 0.25mm solid #000; padding: 0.8mm 0; }
  .four .line { display: inline; }
  .four .empty { display: none; }
  .bank li { width: 33.3%; min-height: 15mm; }
  ol, ul { padding-left: 7mm; }
"""
"""A screen narrower than a face: a block a thing, so that no word is broken."""


def _measures(size: Size, many: int, seats: int) -> tuple[str, str]:
    """Where faces, columns and boxes stand: on paper; on a screen, wide enough or not."""
    box = size.room / seats
    rules = f"""\
  .leaf {{ width: {size.width * many:g}mm; height: {size.height:g}mm; }}
  .face {{ width: {size.width:g}mm; height: {size.height:g}mm; padding: {MARGIN_MM:g}mm; }}
  .foot {{ position: absolute; bottom: {FOOT_MM:g}mm; }}
  .foot {{ left: {MARGIN_MM:g}mm; right: {MARGIN_MM:g}mm; }}
  .foot .number {{ position: absolute; right: 0; }}
  .col {{ float: left; width: var(--wide); margin-left: {GAP_MM:g}mm; }}
  .col:first-child {{ margin-left: 0; }}
  .bank li {{ width: {box - 0.01:.2f}mm; height: var(--high); }}
  td, th {{ padding-right: {CELL_MM:g}mm; }}
  ol, ul {{ padding-left: {INDENT_MM["small"]:g}mm; }}
  ol.l-name {{ padding-left: {INDENT_MM["name"]:g}mm; }}"""
    wide = size.width + 8.0
    return f"@media print {{\n{rules}\n}}", "\n".join((
        f"@media (min-width: {wide:g}mm) {{\n{rules}\n}}",
        f"@media (max-width: {wide - 0.01:g}mm) {{\n{_NARROW}\n}}",
    ))


def _line(c: Circuit, a: AccessoryResult, result: Result, labels: dict[str, str]) -> Line:
    own = [s.id for s in result.switches if a.name in s.works] or list(c.switches)
    relays = [r for r in c.relays if set(r.switches) & set(own)] or list(c.relays)
    coils = [
        f
        for other in result.circuits
        if relays and not other.accessories and set(other.switches) & set(own)
        for f in other.fuses
    ]
    isolator = f"isolator {show.rating(c.isolator_a)} A" if c.isolator_a is not None else ""
    return Line(
        a.name,
        str(c.number),
        c.panel,
        tuple((s, labels.get(s, "")) for s in own),
        _LIVE.get(a.live, f"no switch, {a.live}"),
        tuple((f.id, fuse_text(f), f.position) for f in c.fuses)
        + tuple((f.id, fuse_text(f), f"{f.position}, for the relay") for f in coils),
        isolator or "no fuse",
        tuple((r.id, r.position) for r in relays),
    )


def _limits(result: Result) -> Iterator[str]:
    spells: dict[tuple[str, str], list[str]] = {}
    for scenario in result.supply.scenarios:
        if scenario.engine == "off" and scenario.hours_to_reserve is not None:
            what = ", ".join(name for name, _ in scenario.running)
            hours = show.hours(scenario.hours_to_reserve)
            yield f"{scenario.name}, engine off ({what or scenario.battery}): {hours}"
    for circuit in result.circuits:
        for a in circuit.accessories:
            if a.live == "engine" and any(a.name in s.works for s in result.switches):
                yield f"{a.name}: engine on"
            if a.motor is not None:
                yield (
                    f"{a.name}: {circuit.switches[0]} {' – '.join(motors.positions(a.motor))}"
                    + ("; let it stand before the other way" if a.motor == "reversing" else "")
                )
            if a.on_s is not None and a.period_s is not None:
                times = show.seconds(a.on_s), show.seconds(a.period_s)
                spells.setdefault(times, []).append(a.name)
    for (on, period), names in spells.items():
        yield f"{', '.join(names)}: no longer than {on} in every {period}"


def _together(result: Result) -> Iterator[str]:
    seen: set[frozenset[str]] = set()
    for circuit in result.circuits:
        for a in circuit.accessories:
            for other in a.never_with:
                if frozenset((a.name, other)) not in seen:
                    seen.add(frozenset((a.name, other)))
                    yield f"Never together: {a.name} and {other}"
            for other in a.needs:
                yield f"{a.name} only while {other} is on"
