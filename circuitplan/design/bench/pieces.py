"""The wires of a finished plan as pieces to cut: length with slack, ends, terminals, sleeve."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from circuitplan.design.bench import plugged
from circuitplan.library import conductors, studs
from circuitplan.model.record import record
from circuitplan.model.result import Fuse, Result, Run

ROUTING_SHARE = 0.05
"""Longer than the drawn way, for bends and clips (judgement)."""
SLACK_AT_END_M = 0.08
"""Each end may be terminated twice more, 40 mm each (NAVEDTRA 14009 asks for two; the 40 mm are
judgement)."""
STEP_MM = 10
"""Lengths are rounded up to whole centimetres."""
SLEEVES_MM = (
    (3.2, 1.6), (4.8, 2.4), (6.4, 3.2), (9.5, 4.8), (12.7, 6.4), (19.0, 9.5), (25.4, 12.7),
)
"""Bore of heat-shrink sleeve as supplied and recovered, 2:1 (SAE AS23053/5; from memory)."""
STRIP_MM = ((2.5, 7.0), (6.0, 9.0), (16.0, 13.0), (35.0, 18.0), (math.inf, 22.0))
"""Up to this area [mm²], how much to strip [mm] (common practice; the terminal's sheet rules)."""
BLADE_UP_TO_MM2, WIDE_BLADE_UP_TO_MM2 = 6.0, 10.0
"""What a 6.3 mm and a 9.5 mm tab take (ISO 8092-1; from memory)."""


def wire_words(insulation: str, material: str) -> str:
    """What a wire is called on the parts list."""
    return f"wire, {insulation}" + ("" if material == "copper" else f", {material}")


@record
class WireKind:
    """What is bought on one reel."""

    insulation: str
    material: str
    size: str
    colour: str
    area_mm2: float

    @property
    def what(self) -> str:
        return wire_words(self.insulation, self.material)


@record
class PieceEnd:
    """Where an end goes and what is crimped on it."""

    at: str
    terminal: str


@record
class Piece:
    """One length of wire; ``mark`` is the wire number, with the piece where there are several."""

    mark: str
    run: Run
    owner: str
    circuit: str  # its number, empty for a feeder
    kind: WireKind
    drawn_mm: int
    cut_mm: int
    strip_mm: float
    ends: tuple[PieceEnd, PieceEnd]
    fuse: Fuse | None
    sleeve_mm: tuple[float, float] | None  # as supplied, recovered


def pieces_of(result: Result) -> tuple[Piece, ...]:
    """Every wire to be laid, feeders first. A wire that is there already is left out."""
    fuses = {f.id: f for c in result.circuits for f in c.fuses}
    fuses |= {p.fuse.id: p.fuse for p in result.panels if p.fuse is not None}
    plugs = plugged.ends(plugged.connectors(result))
    found: list[Piece] = []
    for owner, circuit, run in _runs(result):
        if run.unknown:
            continue
        for number in range(1, run.pieces + 1):
            mark = f"{run.id}-{number}" if run.pieces > 1 else run.id
            start, end = (_end(thing, run, number, plugs, result) for thing in (run.from_, run.to))
            found.append(_piece(mark, owner, circuit, run, fuses, (start, end)))
    return tuple(found)


def _end(
    thing: str, run: Run, piece: int, plugs: plugged.Plugs, result: Result
) -> PieceEnd:
    if plugged.end_of(run, thing, plugs):
        contact = plugs[(run.id, thing)].contact or "as its housing takes"
        return PieceEnd(plugged.where(run, thing, plugs, piece), f"connector contact, {contact}")
    return PieceEnd(thing, terminal(thing, run, result))


def _runs(result: Result) -> Iterator[tuple[str, str, Run]]:
    for panel in result.panels:
        for run in panel.feeder:
            yield f"feeder of {panel.id}", "", run
    for circuit in result.circuits:
        for run in circuit.runs:
            yield circuit.label, str(circuit.number), run


def _piece(
    mark: str, owner: str, circuit: str, run: Run, fuses: dict[str, Fuse],
    ends: tuple[PieceEnd, PieceEnd],
) -> Piece:
    kind = WireKind(run.insulation, run.material, run.size, run.colour, run.area_mm2)
    return Piece(
        mark, run, owner, circuit, kind, math.ceil(1000.0 * run.length_m - 1e-6),
        cut_length_mm(run.length_m), next(mm for area, mm in STRIP_MM if run.area_mm2 <= area),
        ends, fuses.get(run.protected_by or ""), sleeve(run.outer_mm),
    )


def cut_length_mm(length_m: float) -> int:
    """Length to cut [mm] for a drawn length [m], never shorter than it."""
    wanted = 1000.0 * (length_m * (1.0 + ROUTING_SHARE) + 2.0 * SLACK_AT_END_M)
    return STEP_MM * math.ceil(wanted / STEP_MM - 1e-6)


def sleeve(outer_mm: float) -> tuple[float, float] | None:
    """Smallest marker sleeve (supplied, recovered) [mm]: recovered < wire < 0.8 of supplied.

    The clearances are the trade's (memory). None: no sleeve of the series fits, use a flag.
    """
    return next((s for s in SLEEVES_MM if s[1] < outer_mm < 0.8 * s[0]), None)


def terminal(at: str, run: Run, result: Result) -> str:
    """What is crimped on the end of ``run`` at ``at``, in words (judgement; the part decides)."""
    panels = {p.id for p in result.panels}
    batteries = {p.fed_from for p in result.panels} | {c.source for c in result.circuits}
    switches = {s.id for s in result.switches}
    area = run.area_mm2
    tab = "6.3 mm tab" if area <= BLADE_UP_TO_MM2 else "9.5 mm tab"
    if at.startswith("splice"):
        return "splice"
    if "chassis" in at or "earth" in at:
        return _ring(run, "M8")
    if at in panels:
        feeder = any(run in p.feeder for p in result.panels)
        if feeder or area > WIDE_BLADE_UP_TO_MM2:
            return _ring(run, "M8")
        return _ring(run) if run.role == "return" else tab
    if at in batteries:
        return _ring(run, "M8")
    if at in switches or at.startswith("relay"):
        return tab if area <= WIDE_BLADE_UP_TO_MM2 else _ring(run, "M6")
    return "connector of the accessory" if area <= BLADE_UP_TO_MM2 else _ring(run, "M6")


def _ring(run: Run, least: str = "M5") -> str:
    return f"ring {studs.choose(run.area_mm2, run.thermal_a, least).name}"


def both_gauges(run: Run) -> tuple[str, str]:
    """(mm², AWG): the size as planned, and in the other gauge the first with no more resistance.

    An em dash says that the other gauge's table ends before that.
    """
    return other_gauges(run.gauge, run.size, run.resistance_20c_ohm_per_m)


def other_gauges(gauge: str, size: str, r20_ohm_per_m: float) -> tuple[str, str]:
    """The same of a size by its gauge, label and highest resistance."""
    american = gauge in ("awg", "sae")
    other = conductors.offered("metric" if american else "awg")
    match = next((c for c in other if c.r20_ohm_per_m <= r20_ohm_per_m * 1.0001), None)
    label = match.label if match is not None else "—"
    return (label, size) if american else (size, label)


def by_kind(pieces: Iterable[Piece]) -> dict[WireKind, list[Piece]]:
    """Pieces cut from the same reel, kinds in the order of size and colour."""
    found: dict[WireKind, list[Piece]] = {}
    for piece in pieces:
        found.setdefault(piece.kind, []).append(piece)
    return dict(sorted(found.items(), key=lambda kv: (-kv[0].area_mm2, kv[0].what, kv[0].colour)))


