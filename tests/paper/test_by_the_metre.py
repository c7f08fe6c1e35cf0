"""What is bought by the metre: no reel of which more than half would be left."""

from __future__ import annotations

from collections.abc import Callable

from circuitplan.design.bench.cutting import cut, metres, reels_of
from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.report.cuts.view import USUAL_REELS_MM, cuttings
from circuitplan.report.cuts.view import view as cuts
from circuitplan.report.parts_list.view import lines

Worked = tuple[Plan, Result]


def test_by_hand() -> None:
    """0.69 m of a 5 m reel: 1 m by the metre; 3 m of it: the reel."""
    short = metres(cut([690], reels_of([5_000])))
    assert [(r.length_mm, r.left_mm, r.by_metre) for r in short.reels] == [(1_000, 310, True)]
    half = metres(cut([2_500], reels_of([5_000])))
    assert [(r.length_mm, r.by_metre) for r in half.reels] == [(5_000, False)]
    long = metres(cut([3_000], reels_of([5_000])))
    assert [(r.length_mm, r.left_mm, r.by_metre) for r in long.reels] == [(5_000, 2_000, False)]


def test_no_reel_is_bought_for_a_short_end(worked: Worked) -> None:
    _, result = worked
    for pieces, cutting in cuttings(result, 1).values():
        for reel in cutting.reels:
            used = sum(pieces[i][1].cut_mm for i in reel.pieces)
            assert used + reel.left_mm == reel.length_mm
            if reel.by_metre:
                assert reel.left_mm < 1_000
            else:
                assert reel.length_mm in USUAL_REELS_MM
                assert 2 * reel.left_mm <= reel.length_mm


def test_reels_that_the_user_has_are_kept_to(work_of: Callable[[str], Worked]) -> None:
    _, result = work_of("owner")
    for _, cutting in cuttings(result, 1, (25_000,)).values():
        assert {r.length_mm for r in cutting.reels} == {25_000}
        assert not any(r.by_metre for r in cutting.reels)


def test_one_table_for_all_reels_and_the_parts_say_the_same(worked: Worked) -> None:
    plan, result = worked
    (block,) = [b for b in cuts(plan, result).blocks if b.heading == "Reels"]
    assert len(block.tables) == 1
    found = cuttings(result, 1)
    wanted = {w for pieces, _ in found.values() for _, w in pieces}
    shown = " ".join(row[2].text for row in block.tables[0].rows)
    assert all(f"{p.mark} (" in shown for p in wanted)
    loose = {
        (kind.size, kind.colour, kind.what)
        for kind, (_, c) in found.items() if any(r.by_metre for r in c.reels)
    }
    notes = {
        (x.line.size, x.line.colour, x.line.what)
        for x in lines(plan, result, 1, (), ()) if "by the metre" in x.line.note
    }
    assert loose == notes
