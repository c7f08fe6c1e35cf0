"""The cut list: every wire with its ends, then what is cut from which reel."""

from __future__ import annotations

from collections.abc import Sequence

from circuitplan.design.bench.cutting import CutReel, Cutting, cut, metres, reels_of
from circuitplan.design.bench.pieces import Piece, WireKind, both_gauges, by_kind, pieces_of
from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.report.paper.sheet import Block, Sheet, csv_text
from circuitplan.report.table import Cell, Column, Table, cells

USUAL_REELS_MM = (5_000, 10_000, 25_000, 50_000, 100_000)
"""Lengths that wire is commonly sold in (common practice)."""

HEAD = (
    "wire", "vehicle", "owner", "from", "to", "size", "mm2", "awg", "colour", "insulation",
    "drawn_mm", "cut_mm", "strip_mm", "terminal_from", "terminal_to", "sleeve", "through", "reel",
)


def cuttings(
    result: Result, vehicles: int, reels: Sequence[int] = ()
) -> dict[WireKind, tuple[list[tuple[int, Piece]], Cutting]]:
    """For each kind of wire its pieces as (vehicle, piece), and the cutting of their lengths.

    ``reels``: lengths to cut from [mm], kept to; none: the usual ones, and by the metre where more
    than half of a reel would be left.
    """
    lengths = reels_of(tuple(reels) or USUAL_REELS_MM)
    found = {}
    for kind, pieces in by_kind(pieces_of(result)).items():
        all_pieces = [(v, p) for v in range(1, vehicles + 1) for p in pieces]
        cutting = cut([p.cut_mm for _, p in all_pieces], lengths)
        found[kind] = all_pieces, cutting if reels else metres(cutting)
    return found


def view(plan: Plan, result: Result, vehicles: int = 1, reels: Sequence[int] = ()) -> Sheet:
    """``reels``: lengths to cut from [mm]; none: the usual ones."""
    plans = cuttings(result, vehicles, reels)
    blocks = [
        Block("Wires", tables=(_wires(result),), words=(
            "Slide the marker sleeve on before crimping. Cut lengths hold 5 % for bends and "
            "80 mm of slack at each end.",
            *_existing(result),
        )),
        Block("Reels", words=_reel_words(reels, plans), tables=(_reels(plans, vehicles),)),
    ]
    lead = (
        f"{len(pieces_of(result)) * vehicles} pieces for "
        + ("one vehicle." if vehicles == 1 else f"{vehicles} vehicles of this plan."),
    )
    return Sheet("Cut list", lead, tuple(blocks))


def _existing(result: Result) -> tuple[str, ...]:
    runs = [r.id for c in result.circuits for r in c.runs if r.unknown]
    runs += [r.id for p in result.panels for r in p.feeder if r.unknown]
    return (f"In the vehicle already, not cut: {', '.join(runs)}.",) if runs else ()


def _reel_words(
    reels: Sequence[int], plans: dict[WireKind, tuple[list[tuple[int, Piece]], Cutting]]
) -> tuple[str, ...]:
    sold = ", ".join(f"{n / 1000:g}" for n in reels or USUAL_REELS_MM)
    metre = "" if reels else "; by the metre where more than half of one would be left"
    open_ = [
        f"{_kind(kind)} at most {100 * cutting.gap:.1f} % more than the least"
        for kind, (_, cutting) in plans.items() if not cutting.proven
    ]
    proof = (
        f"Proven least of these reels, but: {'; '.join(open_)}." if open_
        else "No other choice of these reels buys less wire: proven."
    )
    return (f"Reels of {sold} m{metre}. {proof}",)


def _kind(kind: WireKind) -> str:
    return f"{kind.size} {kind.colour}, {kind.insulation}"


def _wires(result: Result) -> Table:
    rows = []
    for p in pieces_of(result):
        metric, awg = both_gauges(p.run)
        sleeve = f"{p.sleeve_mm[0]:g} mm sleeve" if p.sleeve_mm else "flag label"
        via = through(p, result)
        rows.append(cells(
            Cell(p.mark, p.owner),
            Cell(f"{p.ends[0].at} → {p.ends[1].at}", _via(via)),
            Cell(metric, awg), p.kind.colour, Cell(f"{p.cut_mm}", f"drawn {p.drawn_mm}"),
            Cell(
                f"{p.ends[0].terminal} / {p.ends[1].terminal}",
                f"strip {p.strip_mm:g} mm, {sleeve}",
            ),
        ))
    return Table("Every wire of one vehicle", (
        Column("Wire", 17), Column("From → to", 33), Column("Size", 10), Column("Colour", 8),
        Column("Cut [mm]", 10, "right"), Column("Terminals from / to", 22),
    ), tuple(rows), "No wire to cut.")


def _via(switch: str) -> str:
    return f"through {switch}: cut there, crimp both ends" if switch else ""


def through(piece: Piece, result: Result) -> str:
    """The switch that a wire passes on its way, where the plan draws it as one wire."""
    run = piece.run
    if run.role != "feed" or len(run.accessories) != 1 or not piece.circuit:
        return ""
    circuit = next(c for c in result.circuits if str(c.number) == piece.circuit)
    first = next((r for r in circuit.runs if r.role == "feed"), None)
    direct = {s.id for s in result.switches if s.type == "direct"} & set(circuit.switches)
    ends = {r.from_ for r in circuit.runs} | {r.to for r in circuit.runs}
    return ", ".join(sorted(direct - ends)) if first is run else ""


def _reels(
    plans: dict[WireKind, tuple[list[tuple[int, Piece]], Cutting]], vehicles: int
) -> Table:
    rows = []
    for kind, (pieces, cutting) in plans.items():
        total = sum(p.cut_mm for _, p in pieces)
        many = f"{len(pieces)} piece{'s' if len(pieces) > 1 else ''}"
        name = Cell(f"{kind.size} {kind.colour}",
                    f"{kind.insulation}; {total / 1000:.2f} m in {many}")
        for reel in cutting.reels:
            bought = f"{reel.length_mm / 1000:g}"
            rows.append(cells(
                name, Cell(bought, "by the metre" if reel.by_metre else "reel"),
                _listed(reel, pieces, vehicles), f"{reel.left_mm / 1000:.2f}",
            ))
            name = Cell(f"{kind.size} {kind.colour}", "next reel")
        for i in cutting.too_long:
            rows.append(cells(
                name, "–",
                Cell(_name(pieces[i], vehicles), "longer than any reel: order this length",
                     "too long"), "–",
            ))
    return Table("What to buy, and what to cut from it", (
        Column("Wire", 26), Column("Buy [m]", 11, "right"),
        Column("Cut in this order: wire (mm)", 56), Column("Left [m]", 9, "right"),
    ), tuple(rows), "No wire to buy.")


def _listed(reel: CutReel, pieces: list[tuple[int, Piece]], vehicles: int) -> str:
    return ", ".join(_name(pieces[i], vehicles) for i in reel.pieces)


def _name(entry: tuple[int, Piece], vehicles: int) -> str:
    vehicle, piece = entry
    return f"{f'{vehicle}/' if vehicles > 1 else ''}{piece.mark} ({piece.cut_mm})"


def as_csv(result: Result, vehicles: int = 1, reels: Sequence[int] = ()) -> str:
    """The cut list as CSV, a row a piece, with the reel that it comes from."""
    rows = []
    for kind, (pieces, cutting) in cuttings(result, vehicles, reels).items():
        home = {
            i: f"{kind.size} {kind.colour} "
               f"{'metre goods' if reel.by_metre else 'reel'} {n} of {reel.length_mm / 1000:g} m"
            for n, reel in enumerate(cutting.reels, start=1)
            for i in reel.pieces
        }
        for index, (vehicle, p) in enumerate(pieces):
            metric, awg = both_gauges(p.run)
            rows.append((
                p.mark, vehicle, p.owner, p.ends[0].at, p.ends[1].at, p.kind.size, metric, awg,
                p.kind.colour, p.kind.insulation, p.drawn_mm, p.cut_mm, p.strip_mm,
                p.ends[0].terminal, p.ends[1].terminal,
                f"{p.sleeve_mm[0]:g} mm" if p.sleeve_mm else "", through(p, result),
                home.get(index, "longer than any reel"),
            ))
    return csv_text(HEAD, rows)
