"""Everything a plan needs bought besides the accessories: counted from the finished result.

What the result does not fix (studs, tubes, spares) follows rules of the trade, each named where it
is used; the part's own sheet rules over all of them.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from circuitplan.design.bench import plugged
from circuitplan.design.bench.cutting import Reel, cut, metres
from circuitplan.design.bench.pieces import Piece, both_gauges, by_kind, pieces_of
from circuitplan.library import studs
from circuitplan.model.plan import Plan
from circuitplan.model.record import record
from circuitplan.model.result import Fuse, Result

TUBES_MM = (4.5, 7.5, 10.0, 13.0, 17.0, 22.0, 29.0, 37.0, 50.0)
"""Bores of split loom tube (common practice)."""
FILL = 0.7
"""Share of a tube's bore that wires may fill (from memory)."""
RINGS_ON_A_STUD = 4
"""At most (ABYC E-11 and AC 43.13-1B; from memory)."""
FITTED_PER_SPARE = 5


@record
class PartLine:
    """``quantity`` pieces, or metres where ``unit`` is "m"; ``size_2`` is the other gauge."""

    group: str
    what: str
    size: str
    size_2: str
    colour: str
    quantity: float
    unit: str
    note: str = ""


def part_lines(
    plan: Plan, result: Result, reels: Sequence[Reel], vehicles: int = 1, *,
    by_metre: bool = False,
) -> tuple[PartLine, ...]:
    """Parts for so many vehicles; reels are shared between them, spares belong to each.

    ``by_metre``: what would leave more than half a reel is bought by the metre.
    """
    pieces = pieces_of(result)
    found = list(_wire(pieces, reels, vehicles, by_metre))
    for line in (
        *_terminals(pieces), *_connectors(result, pieces), *_fuses(result), *_relays(result),
        *_motor_switches(plan, result), *_sleeves(pieces), *_looms(plan, pieces), *_earths(pieces),
    ):
        found.append(
            PartLine(line.group, line.what, line.size, line.size_2, line.colour,
                     line.quantity * vehicles, line.unit, line.note)
        )
    return tuple(found)


def _wire(
    pieces: Sequence[Piece], reels: Sequence[Reel], vehicles: int, by_metre: bool
) -> Iterator[PartLine]:
    for kind, members in by_kind(pieces).items():
        metric, awg = both_gauges(members[0].run)
        cutting = cut([p.cut_mm for p in members] * vehicles, reels)
        if by_metre:
            cutting = metres(cutting)
        counted = Counter(r.length_mm for r in cutting.reels if not r.by_metre)
        loose_m = sum(r.length_mm for r in cutting.reels if r.by_metre) / 1000.0
        bought = " + ".join((
            *(f"reel {n} × {mm / 1000:g} m" for mm, n in sorted(counted.items())),
            *((f"{loose_m:g} m by the metre",) if loose_m else ()),
        ))
        loose = sum(p.cut_mm for p in members) * vehicles - sum(
            r.length_mm - r.left_mm for r in cutting.reels
        )
        extra = f"; {loose / 1000:.2f} m in lengths beyond any reel" if cutting.too_long else ""
        other = awg if kind.size == metric else metric
        yield PartLine(
            "Wire", kind.what, kind.size, other, kind.colour,
            round(sum(p.cut_mm for p in members) * vehicles / 1000.0, 2), "m", f"{bought}{extra}",
        )


def _terminals(pieces: Sequence[Piece]) -> Iterator[PartLine]:
    counted: Counter[tuple[str, str, str]] = Counter()
    for piece in pieces:
        metric, awg = both_gauges(piece.run)
        for end in piece.ends:
            if not end.terminal.startswith(("splice", "connector")):
                counted[(end.terminal, metric, awg)] += 1
    for (what, metric, awg), n in sorted(counted.items()):
        yield PartLine("Terminals", what, metric, awg, "", n, "pc")
    splices = {e.at for p in pieces for e in p.ends if e.terminal == "splice"}
    backs = {p.circuit for p in pieces for e in p.ends if e.terminal == "splice"}
    if splices:
        yield PartLine(
            "Terminals", "splice, sealed", "", "", "", 2 * len(splices), "pc",
            f"feed and return of {', '.join(sorted(splices))}" if backs else "",
        )


def _connectors(result: Result, pieces: Sequence[Piece]) -> Iterator[PartLine]:
    gauges = {p.run.id: both_gauges(p.run) for p in pieces}
    counted: Counter[tuple[str, str, str, str]] = Counter()
    for connector in plugged.connectors(result):
        for need in plugged.needs(connector):
            sizes = gauges.get(need.run or "", ("", ""))
            counted[(need.what, *sizes, need.note)] += need.quantity
    for (what, metric, awg, note), n in sorted(counted.items()):
        yield PartLine("Connectors", what, metric, awg, "", n, "pc", note)


def _all_fuses(result: Result) -> list[Fuse]:
    found = [f for c in result.circuits for f in c.fuses]
    return [f for f in found + [p.fuse for p in result.panels if p.fuse] if f.type != "output"]


def _fuses(result: Result) -> Iterator[PartLine]:
    fuses = _all_fuses(result)
    counted = Counter((f.type, f.rating_a, f.colour or "") for f in fuses)
    for (kind, rating, colour), n in sorted(counted.items()):
        what = "circuit-breaker" if kind == "breaker" else f"fuse, {_type_words(kind)}"
        spares = 0 if kind == "breaker" else math.ceil(n / FITTED_PER_SPARE)
        note = f"{n} fitted, {spares} spare" if spares else f"{n} fitted"
        yield PartLine("Fuses", what, f"{rating:g} A", "", colour, n + spares, "pc", note)
    panels = {p.id for p in result.panels}
    loose = Counter(f.type for f in fuses if not any(f.position.startswith(p) for p in panels))
    for kind, n in sorted(loose.items()):
        yield PartLine("Fuses", f"holder for {_type_words(kind)}", "", "", "", n, "pc",
                       "outside the panels")


def _type_words(kind: str) -> str:
    return kind if len(kind) > 5 else f"type {kind}"


def _relays(result: Result) -> Iterator[PartLine]:
    relays = [r for c in result.circuits for r in c.relays]
    counted = Counter((r.type, r.contact_a) for r in relays)
    for (what, contact_a), n in sorted(counted.items()):
        yield PartLine("Relays", what, f"{contact_a:g} A", "", "", n, "pc")
    plugged = sum(1 for r in relays if "contactor" not in r.type)
    if plugged:
        yield PartLine("Relays", "relay socket", "", "", "", plugged, "pc", "6.3 mm, with clips")
    if relays:
        yield PartLine("Relays", "coil suppression", "", "", "", len(relays), "pc",
                       "diode or resistor across 86 and 85, unless the relay holds one")
    shared = sum(len(r.switches) for r in relays if len(r.switches) > 1)
    if shared:
        yield PartLine("Relays", "blocking diode, 1 A", "", "", "", shared, "pc",
                       "one a switch where several work one relay, so that none feeds another")


    for circuit in result.circuits:
        if len(circuit.relays) > 1:
            ids = " and ".join(r.id for r in circuit.relays)
            reversing = circuit.relays[0].break_a is not None
            links = [(circuit.runs[0], "87" if reversing else "30")]
            links += [(circuit.runs[-1], "87a")] * reversing
            for run, pin in links:
                yield PartLine("Relays", "link between two relay sockets", *both_gauges(run),
                               run.colour, 1, "pc", f"{ids}, {pin} to {pin}")


def _motor_switches(plan: Plan, result: Result) -> Iterator[PartLine]:
    """What kind of switch a motor of two directions or speeds asks for."""
    given = {s.name: s for s in plan.switches}
    for circuit in result.circuits:
        for a in circuit.accessories:
            if a.motor is None:
                continue
            switch = given[circuit.switches[0]]
            double = a.motor == "reversing" and not circuit.relays
            poles = "two poles, crossed over" if double else "one pole"
            ways = "(ON)-OFF-(ON), springs back" if switch.momentary else "ON-OFF-ON"
            size = "" if switch.rating_a is None else f"{switch.rating_a:g} A"
            works = f"{switch.name}: {a.name}" + (", by relays" if circuit.relays else "")
            yield PartLine("Switches", f"switch {ways}, {poles}", size, "", "", 1, "pc", works)


def _sleeves(pieces: Sequence[Piece]) -> Iterator[PartLine]:
    counted = Counter(p.sleeve_mm for p in pieces)
    for size, n in sorted(counted.items(), key=lambda kv: kv[0] or (0.0, 0.0)):
        if size is None:
            yield PartLine("Marking", "flag label", "", "", "", 2 * n, "pc", "no sleeve fits")
        else:
            yield PartLine("Marking", "heat-shrink marker sleeve, 2:1", f"{size[0]:g} mm", "", "",
                           2 * n, "pc", "30 mm each, one at each end")


@record
class Bundle:
    """What runs along one way: ``outer_mm`` of all of it laid together."""

    way: tuple[str, str]
    length_m: float
    wires: int
    outer_mm: float
    tube_mm: float | None
    grommet_mm: float


def bundles(plan: Plan, pieces: Iterable[Piece]) -> tuple[Bundle, ...]:
    """Diameter of the loom along every way of the plan [mm].

    D = 1.25 √Σd², never below the largest d or the sum of the two largest (geometry of packed
    circles; 1.25 is on the safe side from three wires up). A tube is filled 70 % at most; a grommet
    is 1 mm wider.
    """
    members: dict[frozenset[str], list[float]] = {}
    for piece in pieces:
        places = piece.run.places
        for way in pairwise(places):
            members.setdefault(frozenset(way), []).append(piece.run.outer_mm)
    found = []
    for leg in plan.legs:
        sizes = sorted(members.pop(frozenset((leg.a, leg.b)), []), reverse=True)
        if not sizes:
            continue
        squares = math.sqrt(sum(d * d for d in sizes))
        outer = sizes[0] if len(sizes) == 1 else max(1.25 * squares, sizes[0] + sizes[1])
        least = max(outer, squares / math.sqrt(FILL))
        tube = next((t for t in TUBES_MM if t >= least), None)
        found.append(Bundle((leg.a, leg.b), leg.length_m, len(sizes), outer, tube, outer + 1.0))
    return tuple(found)


def _looms(plan: Plan, pieces: Sequence[Piece]) -> Iterator[PartLine]:
    for b in bundles(plan, pieces):
        way = f"{b.way[0]} to {b.way[1]}, {b.wires} wires, {b.outer_mm:.1f} mm together"
        if b.tube_mm is None:
            yield PartLine("Looms", "sleeving, more than one tube", "", "", "",
                           round(b.length_m, 2), "m", f"{way}: split the loom")
        else:
            yield PartLine("Looms", "loom tube, split", f"{b.tube_mm:g} mm bore", "", "",
                           round(b.length_m, 2), "m", way)
        yield PartLine("Looms", "grommet", f"{math.ceil(b.grommet_mm)} mm bore or more", "", "", 1,
                       "pc", f"for the wall between {b.way[0]} and {b.way[1]}, if there is one")


def _earths(pieces: Sequence[Piece]) -> Iterator[PartLine]:
    """Earth points and bolted ends: rings stacked, at most four on a stud."""
    stacks: dict[tuple[str, str], int] = {}
    for piece in pieces:
        for end in piece.ends:
            if end.terminal.startswith("ring"):
                key = end.at, end.terminal.removeprefix("ring ")
                stacks[key] = stacks.get(key, 0) + 1
    for (at, stud), rings in sorted(stacks.items()):
        pieces_of_it = math.ceil(rings / RINGS_ON_A_STUD)
        many = f"{rings} ring{'s' if rings > 1 else ''}, largest lowest"
        yield PartLine("Studs", f"stud or busbar screw at {at}", stud, "", "", pieces_of_it, "pc",
                       f"{many}; {studs.named(stud).torque_nm:g} N·m unless its sheet says "
                       "otherwise")
