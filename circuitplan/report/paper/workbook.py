"""The lists of the paper as sheets of the workbook: cuts, parts, labels, panels, tests."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from circuitplan.design.bench.chain import chains, sized
from circuitplan.design.bench.readings import expected
from circuitplan.model.plan import Plan
from circuitplan.model.readings import COLUMNS, EXPECTED
from circuitplan.model.result import Result
from circuitplan.report import workbook
from circuitplan.report.paper.bench import Wishes
from circuitplan.report.paper.sheet import PRECEDENCE
from circuitplan.report.spreadsheet import Sheet, Value, both_sizes, mm2, write_sheets
from circuitplan.report.words import all_fuses, circuit_name

PARTS = ("cuts", "parts", "labels", "panels", "test")
"""What ``print --only`` can write as a workbook of its own, beside the analysis."""


def write_workbook(
    plan: Plan, result: Result, wishes: Wishes, path: Path, only: str | None = None
) -> None:
    """Write every list to ``path``, or with ``only`` the sheets of one part."""
    found = all_sheets(plan, result, wishes) if only is None else part(only, plan, result, wishes)
    write_sheets(plan, found, path, result.answer == "ok")


def all_sheets(plan: Plan, result: Result, wishes: Wishes) -> Iterator[Sheet]:
    """First what this is, then the lists as computed, then the lists to work by."""
    yield _about(plan, result, wishes)
    yield from workbook.sheets(result)
    for word in PARTS:
        yield from part(word, plan, result, wishes)


def part(word: str, plan: Plan, result: Result, wishes: Wishes) -> Iterator[Sheet]:
    """The sheets of one part; ``word`` is one of PARTS."""
    if word == "cuts":
        yield _cuts(result, wishes)
    elif word == "parts":
        yield _parts(plan, result, wishes)
    elif word == "labels":
        yield _labels(result, wishes)
    elif word == "panels":
        yield _panels(result)
    else:
        yield from _tests(plan, result)


def _about(plan: Plan, result: Result, wishes: Wishes) -> Sheet:
    job = plan.job
    rows: list[tuple[Value, ...]] = [
        ("verdict", f"{result.answer.upper()}: {result.because}"),
        ("precedence", PRECEDENCE),
        ("title", plan.title), ("revision", plan.revision), ("job", job.number),
        ("owner", job.owner), ("vehicle", job.vehicle), ("by", job.by), ("date", job.date),
        ("system V", result.plan.nominal_v), ("practice", result.plan.practice),
        ("vehicles in cuts, parts and labels", wishes.vehicles),
        ("plan checksum (SHA-256)", plan.sha256),
        ("mm² and AWG", "one is the size as planned; the other is the first of its gauge with no "
                        "more resistance"),
        ("test", "fill in the blanks; circuitplan test PLAN WORKBOOK judges them"),
    ]
    return "about", ("what", "value"), rows


def _cuts(result: Result, wishes: Wishes) -> Sheet:
    from circuitplan.report.cuts.view import cuttings, through

    rows: list[tuple[Value, ...]] = []
    for pieces, cutting in cuttings(result, wishes.vehicles, wishes.reels_mm).values():
        home = {i: (n, reel.length_mm / 1000.0) for n, reel in enumerate(cutting.reels, start=1)
                for i in reel.pieces}
        for index, (vehicle, p) in enumerate(pieces):
            rows.append((
                p.mark, vehicle, _number(p.circuit), p.owner, p.ends[0].at, p.ends[1].at,
                p.kind.size, *both_sizes(p.run), p.kind.colour, p.kind.insulation, p.drawn_mm,
                p.cut_mm, p.strip_mm, p.ends[0].terminal, p.ends[1].terminal,
                p.sleeve_mm[0] if p.sleeve_mm else None, through(p, result),
                *home.get(index, (None, None)), None,
            ))
    return "cuts", _heads(
        "wire, vehicle, circuit, owner, from, to, size, mm², AWG, colour, insulation, drawn mm, "
        "cut mm, strip mm, terminal from, terminal to, sleeve mm, through, reel, reel m, done"
    ), rows


def _parts(plan: Plan, result: Result, wishes: Wishes) -> Sheet:
    from circuitplan.report.parts_list.view import lines

    rows: list[tuple[Value, ...]] = []
    for p in lines(plan, result, wishes.vehicles, wishes.reels_mm, wishes.prices):
        line, long = p.line, p.line.unit == "m"
        sizes = (line.size, line.size_2)
        metric = next((x for x in map(mm2, sizes) if x is not None), None)
        awg = next((x for x in sizes if x.endswith((" AWG", " SAE"))), None)
        plain = None if metric or awg else line.size
        rows.append((
            line.group, line.what, plain, metric, awg, line.colour,
            None if long else line.quantity, line.quantity if long else None, line.note,
            p.each, p.amount, p.currency or None, p.minutes or None,
        ))
    return "parts", _heads(
        "group, what, size, mm², AWG, colour, pieces, length m, note, price each or a metre, "
        "amount, currency, minutes"
    ), rows


def _labels(result: Result, wishes: Wishes) -> Sheet:
    from circuitplan.report.labels.view import labels_of

    rows: list[tuple[Value, ...]] = [
        (
            x.piece.mark, x.end, x.here, x.there, *x.lines, _number(x.piece.circuit),
            x.piece.fuse.id if x.piece.fuse else None,
            x.piece.fuse.rating_a if x.piece.fuse else None, *both_sizes(x.piece.run),
            x.piece.kind.colour, x.piece.sleeve_mm[0] if x.piece.sleeve_mm else None,
            x.piece.run.outer_mm, x.vehicle,
        )
        for x in labels_of(result, wishes.vehicles)
    ]
    return "labels", _heads(
        "wire, end, here, there, line 1, line 2, line 3, circuit, fuse, fuse A, mm², AWG, colour, "
        "sleeve mm, wire outside mm, vehicle"
    ), rows


def _panels(result: Result) -> Sheet:
    """A row a way, free ones too, then the relays of the panel; last what sits elsewhere."""
    from circuitplan.report.panels_map.view import ways

    rows: list[tuple[Value, ...]] = []
    seated: set[str] = set()
    for panel in result.panels:
        used = ways(result, panel)
        for way in range(1, max([panel.ways or 0, *used]) + 1):
            if way not in used:
                rows.append((panel.id, way, "free", *[None] * 6, panel.place))
                continue
            fuse, number, what = used[way]
            seated.add(fuse.id)
            rows.append((panel.id, way, fuse.id, fuse.rating_a, fuse.type, fuse.colour,
                         _number(number), what, None, panel.place))
        rows += [
            (panel.id, None, relay.id, relay.contact_a, relay.type, None, c.number, c.label,
             relay.terminals, panel.place)
            for c in result.circuits for relay in c.relays if relay.position == panel.id
        ]
    rows += [
        (None, None, f.id, f.rating_a, f.type, f.colour, None, name, None, f.position)
        for name, f in all_fuses(result) if f.id not in seated
    ]
    panels = {p.id for p in result.panels}
    rows += [
        (None, None, r.id, r.contact_a, r.type, None, c.number, c.label, r.terminals,
         r.position)
        for c in result.circuits for r in c.relays if r.position not in panels
    ]
    return "panels", _heads(
        "panel, way, device, rated A, type, colour, circuit, feeds, terminals, where"
    ), rows


def _tests(plan: Plan, result: Result) -> Iterator[Sheet]:
    """Blanks to fill in; the first sheet is read back by ``test``."""
    from circuitplan.report.test_sheet.polarity import rows as polarity
    from circuitplan.report.test_sheet.view import at_battery, supplies, truth

    yield "test", (*COLUMNS, *EXPECTED), [
        (
            f"{chain.circuit} {chain.title}", *[None] * 6, state, e.supply_v,
            *([None] * 5 if chain.no_load else
              [e.low_a, e.high_a, e.least_v, e.most_plus_v, e.most_minus_v]), e.parked_a,
        )
        for chain in chains(sized(plan))
        for e, state in ((expected(chain, volts), state) for volts, state in supplies(chain))
    ]
    circuits = {f.id: circuit_name(c) for c in result.circuits for f in c.fuses}
    yield "test fuses", _heads("fuse, rated A, type, colour, where, protects, seen initials"), [
        (f.id, f.rating_a, f.type, f.colour, f.position, circuits.get(f.id, name), None)
        for name, f in all_fuses(result)
    ]
    poles = polarity(result)
    if poles:
        yield "test connectors", _heads("cavity, of, pole, wire, colour, seen initials"), [
            (*row, None) for row in poles
        ]
    yield "test switches", _heads("set, must be, live and conditions, OK initials"), [
        (*row, None) for row in truth(result)
    ]
    yield "test supply", _heads(
        "scenario, state, drawn at most A, alternator gives A, least V, most V, read V, read A"
    ), [
        (x.name, x.state, x.drawn_a, x.alternator_a, x.least_v, x.most_v, None, None)
        for x in at_battery(plan, result)
    ]


def _number(circuit: str) -> int | None:
    """A feeder belongs to no circuit."""
    return int(circuit) if circuit else None


def _heads(text: str) -> tuple[str, ...]:
    return tuple(text.split(", "))
