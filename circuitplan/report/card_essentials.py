"""What else the card must hold: where boxes are, what stays live, what is spare, and its code."""

from __future__ import annotations

import re
from collections.abc import Sequence

from circuitplan.model.result import Circuit, Result
from circuitplan.planner.room import Room, panel_room, rooms
from circuitplan.report import show
from circuitplan.report.card_parts import Picture, Row
from circuitplan.units import show_days, show_drain

LEAST_MODULE_MM = 0.4
"""Side of a square of the code that a phone still reads from paper (judgement)."""
USUAL_MODULE_MM = 0.42
CODE_WORDS = "The same words for a phone, without a network."
QUIET = 4  # modules of white around (ISO/IEC 18004)
_WAY = re.compile(r"way (\d+)$")


def seat(circuit: Circuit, result: Result) -> tuple[int, str, int, int]:
    """Sorts circuits as their fuses sit: by panel, then way; those outside panels last."""
    panels = [p.id for p in result.panels]
    for fuse in circuit.fuses[:1]:
        match = _WAY.search(fuse.position)
        if match and circuit.panel in panels:
            return panels.index(circuit.panel), "", int(match.group(1)), circuit.number
    return len(panels), circuit.panel, 0, circuit.number


def parked(result: Result) -> tuple[str, ...]:
    """What stays live with the key out, and for how long the engine still starts."""
    live = [
        a.name for c in result.circuits for a in c.accessories
        if a.live == "always" and not any(a.name in s.works for s in result.switches)
    ]
    switched = [
        a.name for c in result.circuits for a in c.accessories
        if a.live == "always" and any(a.name in s.works for s in result.switches)
    ]
    found = []
    if live:
        found.append(f"Stay live: {', '.join(live)}")
    if switched:
        found.append(f"Work without the key: {', '.join(switched)}")
    unsure = [f.subject for f in result.findings if f.rule == "X37"]
    if unsure:
        found.append(f"All of {', '.join(unsure)} too, unless the key feeds it")
    days = result.supply.parked_days
    if days is not None:
        found.append(
            f"All off, it still starts after {show_days(days)} "
            f"(drain {show_drain(result.supply.parked_a)})"
        )
    return tuple(found)


def spare(result: Result) -> tuple[str, ...]:
    """Free ways, and amperes that panels and switches may still carry, the whole way counted."""
    found = []
    for p in result.panels:
        words = []
        if p.free_ways is not None:
            words.append(f"{max(p.free_ways, 0)} free ways")
        left = panel_room(p, result)
        if left.spare_a is not None:
            words.append(_amps(left, p.id))
        if words:
            found.append(f"{p.id}: {', '.join(words)}")
    left_of = rooms(result)
    found += [
        f"{s.id}: {_amps(left_of[s.id], 'switch')}" for s in result.switches
        if s.type in ("direct", "output") and (left_of[s.id].spare_a or 0.0) >= 1.0
    ]
    return (*found, "The alternator must bear it too: ask") if found else ()


def _amps(room: Room, own: str) -> str:
    """"5 A", or "2 A (fuse F7)" where something else than ``own`` leaves no more."""
    amps = f"{show.down(max(room.spare_a or 0.0, 0.0), 0)} A"
    return amps if room.limit == own else f"{amps} ({room.limit})"


def care(result: Result) -> tuple[str, ...]:
    """Jump-start and welding, one battery or two (common practice of the trade)."""
    sources = {c.source for c in result.circuits} | {
        p.fed_from for p in result.panels if p.fed_from not in {q.id for q in result.panels}
    }
    more = len(sources) > 1
    lines = [
        "Jump-start at the engine's battery only, same volts, all switched off: positive to "
        "positive first, last clamp on bare engine metal away from the battery.",
    ]
    if more:
        others = ", ".join(sorted(sources - {"battery"}))
        lines.append(f"Never jump-start from or to: {others}.")
    lines.append(
        f"Welding on the vehicle: take off the negative of {'every' if more else 'the'} battery, "
        "clamp the earth beside the weld."
    )
    return tuple(lines)


def code_text(title: str, foot: str, rows: Sequence[Row], isolate: Sequence[str]) -> str:
    """The card's essential words, a line a row: name; switch; fuse, rating, way; relay.

    What fuses the coil of a relay is left to the card: the squares of the code stay larger.
    """
    lines = [title, foot]
    for row in rows:
        cells = [
            "/".join(" ".join(b.text for b in (line[:1] if n == 3 else line)) for line in cell)
            for n, cell in enumerate(row.cells)
        ]
        lines.append("; ".join(c for c in cells if c).replace("\xa0", " "))
    lines += [f"Cut: {step}" for step in isolate]
    return "\n".join(lines)


def code(text: str, room_mm: float) -> Picture | None:
    """``text`` as a QR code (ISO/IEC 18004) no wider than ``room_mm`` [mm], as inline SVG.

    Lines are left out from the end until the squares are large enough to read; None if the first
    two lines alone do not fit.
    """
    import segno

    lines = text.split("\n")
    while len(lines) >= 2:
        try:
            made = segno.make_qr("\n".join(lines), error="l", encoding="utf-8")
        except segno.DataOverflowError:
            lines.pop()
            continue
        side = made.symbol_size(border=QUIET)[0]
        module = min(USUAL_MODULE_MM, room_mm / side)
        if module >= LEAST_MODULE_MM:
            return Picture(_svg([list(r) for r in made.matrix], module), side * module, CODE_WORDS)
        lines.pop()
    return None


def _svg(matrix: Sequence[Sequence[int]], module: float) -> str:
    """Rows of dark squares as one path; the white margin is part of the picture."""
    side = len(matrix) + 2 * QUIET
    parts = []
    for y, row in enumerate(matrix):
        x = 0
        while x < len(row):
            start = x
            while x < len(row) and row[x]:
                x += 1
            if x > start:
                parts.append(f"M{start + QUIET} {y + QUIET}h{x - start}v1h-{x - start}z")
            x += 1 if x == start else 0
    size = f"{side * module:.2f}mm"
    return (
        f'<svg role="img" aria-label="Code holding the words of '
        f'this card" width="{size}" height="{size}" viewBox="0 0 {side} {side}" '
        f'shape-rendering="crispEdges"><title>Code holding the words of this card</title>'
        f'<path fill="#000" d="{"".join(parts)}"/></svg>'
    )
