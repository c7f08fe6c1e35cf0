"""Labels, cut list, parts, panels: everything of the result stands where it belongs."""

from __future__ import annotations

import csv
import io
import math
from collections import Counter
from collections.abc import Callable

import pytest

from circuitplan.design.bench.cutting import reels_of
from circuitplan.design.bench.fittings import TUBES_MM, bundles, part_lines
from circuitplan.design.bench.pieces import both_gauges, cut_length_mm, pieces_of, sleeve
from circuitplan.library import conductors
from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.report.cuts import view as cuts
from circuitplan.report.fonts import CAP_HEIGHT_EM
from circuitplan.report.labels import view as labels
from circuitplan.report.panels_map.view import ways
from circuitplan.report.parts_list.view import as_csv as parts_csv
from circuitplan.report.words import all_fuses, all_runs

Worked = tuple[Plan, Result]


def _rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_every_wire_is_cut_and_labelled_twice(worked: Worked) -> None:
    _, result = worked
    wanted = Counter(
        {r.id: r.pieces for _, r in all_runs(result) if not r.unknown}
    )
    cut_rows = _rows(cuts.as_csv(result))
    assert Counter(row["wire"].split("-")[0] for row in cut_rows) == wanted
    label_rows = _rows(labels.as_csv(result))
    assert Counter(row["wire"].split("-")[0] for row in label_rows) == Counter(
        {wire: 2 * n for wire, n in wanted.items()}
    )
    for row in label_rows:
        assert row["here"] in row["line_2"] or "splice" in row["line_2"]
        assert row["fuse"] in row["line_1"]
    for row in cut_rows:
        assert int(row["cut_mm"]) > int(row["drawn_mm"])


def test_several_vehicles(work_of: Callable[[str], Worked]) -> None:
    plan, result = work_of("workboat")
    one, three = (_rows(cuts.as_csv(result, n)) for n in (1, 3))
    assert len(three) == 3 * len(one)
    assert {row["vehicle"] for row in three} == {"1", "2", "3"}
    metres = {
        n: sum(float(r["quantity"]) for r in _rows(parts_csv(plan, result, n))
               if r["group"] == "Wire")
        for n in (1, 3)
    }
    assert metres[3] == pytest.approx(3 * metres[1])


def test_letters_that_survive_shrinking(work_of: Callable[[str], Worked]) -> None:
    """A 3.2 mm sleeve shrinks to half: letters end no lower than 1.3 mm (0.05 in)."""
    _, result = work_of("rescue-pickup")
    stock = labels.stocks()["sleeve"]
    thin = [x for x in labels.labels_of(result) if x.piece.sleeve_mm == (3.2, 1.6)]
    assert thin
    for label in thin:
        svg = labels.draw(label, stock)
        sizes = [float(part.split('"')[0]) for part in svg.split('font-size="')[1:]]
        assert min(sizes) * CAP_HEIGHT_EM * stock.shrinks_to >= 1.3 - 1e-2
        assert label.piece.mark in svg


@pytest.mark.parametrize("outer_mm", [1.9, 2.5, 3.7, 6.0, 9.4, 14.4, 19.0])
def test_sleeve_goes_on_and_shrinks_tight(outer_mm: float) -> None:
    """Recovered bore below the wire, wire below 0.8 of the bore as supplied."""
    found = sleeve(outer_mm)
    assert found is not None
    assert found[1] < outer_mm < 0.8 * found[0]


def test_the_other_gauge_is_never_thinner(worked: Worked) -> None:
    _, result = worked
    for piece in pieces_of(result):
        metric, awg = both_gauges(piece.run)
        assert piece.kind.size in (metric, awg)
        other = awg if piece.kind.size == metric else metric
        match = next(
            c for g in ("metric", "awg") for c in conductors.offered(g) if c.label == other
        )
        assert match.r20_ohm_per_m <= piece.run.resistance_20c_ohm_per_m * 1.001


def test_cut_length_by_hand() -> None:
    """2 m drawn: 5 % of bends is 100 mm, slack at the ends 160 mm: 2260 mm."""
    assert cut_length_mm(2.0) == 2260


def test_bundle_covers_exact_packing(work_of: Callable[[str], Worked]) -> None:
    """Equal circles in a circle: D/d of 3 is 2.155, of 7 is 3 (exact geometry)."""
    for count, exact in ((3, 2.155), (4, 2.414), (7, 3.0), (12, 4.030), (19, 4.864)):
        assert 1.25 * math.sqrt(count) >= exact * 0.999
    plan, result = work_of("rescue-pickup")
    found = bundles(plan, pieces_of(result))
    assert {frozenset(b.way) for b in found} == {frozenset((leg.a, leg.b)) for leg in plan.legs}
    for b in found:
        assert b.tube_mm is None or b.tube_mm >= b.outer_mm
        assert b.tube_mm in (*TUBES_MM, None)


def test_fuses_and_relays_are_bought_with_spares(worked: Worked) -> None:
    plan, result = worked
    lines = part_lines(plan, result, reels_of([25_000]))
    fitted = [f for _, f in all_fuses(result) if f.type != "output"]
    bought = sum(x.quantity for x in lines if x.group == "Fuses" and "holder" not in x.what)
    assert bought > len(fitted)
    kinds = {(f.rating_a, f.colour or "") for f in fitted}
    assert {(float(x.size.split()[0]), x.colour) for x in lines if "fuse," in x.what} == kinds
    relays = sum(len(c.relays) for c in result.circuits)
    assert sum(x.quantity for x in lines if x.what == "coil suppression") == relays


def test_every_fuse_sits_in_its_way_or_outside(worked: Worked) -> None:
    _, result = worked
    seated = [f.id for p in result.panels for f, _, _ in ways(result, p).values()]
    assert len(seated) == len(set(seated))
    for _, fuse in all_fuses(result):
        in_panel = any(fuse.position.startswith(f"{p.id}, way") for p in result.panels)
        assert (fuse.id in seated) == in_panel


@pytest.mark.parametrize(
    "ends",
    [
        "vehicle's reverse lamp → diode, relay at cab panel",
        "diode, relay at cab panel → vehicle's reverse lamp",
        "Front work lamps → relay at engine bay panel",
        "S5 → Rear work lamps",
    ],
)
def test_a_label_says_both_ends_or_the_other_one_whole(ends: str) -> None:
    stock = labels.stocks()["flag"]
    em = stock.least_cap_mm / stock.shrinks_to / labels.CAP_HEIGHT_EM
    room = (stock.width_mm - 10.0) / 2 - 2.0
    count = max(1, min(4, int((stock.height_mm - 0.6) // (em * 1.02))) - 2)
    lines = labels._ends(ends, count, em, room)
    assert len(lines) <= count
    assert "…" not in "".join(lines)
    there = labels.brief(ends.partition("→ ")[2])
    assert " ".join(lines).endswith((there, ends.partition("→ ")[2]))


def test_what_is_far_too_long_loses_whole_words() -> None:
    lines = labels._ends("S1 → " + "enormous " * 12, 2, 2.6, 23.0)
    assert len(lines) <= 2
    assert {w for line in lines for w in line.split()} <= {"→", "enormous", "…"}
