"""What to leave out: never more than must be, checked against every subset."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from circuitplan.design.supplying.shedding import CHARGING, KEPT, Sheddable, order

loads = st.lists(
    st.tuples(st.sampled_from([1.0, 2.0, 5.0, 9.0, 9.5, CHARGING]), st.integers(1, 12)),
    min_size=0, max_size=7,
).map(lambda rows: [Sheddable(f"L{i}", r, float(a)) for i, (r, a) in enumerate(rows)])  # fmt: skip


def loss(chosen: tuple[Sheddable, ...], ranks: list[float]) -> list[float]:
    """Ampere lost of each priority, the best first."""
    return [sum(x.current_a for x in chosen if x.rank == rank) for rank in ranks]


@given(loads, st.integers(0, 60))
def test_least_loss_of_all_subsets(found: list[Sheddable], short: int) -> None:
    chosen, enough = order(found, float(short))
    may_go = [x for x in found if x.rank > KEPT]
    ranks = sorted({x.rank for x in may_go})
    fits = [
        subset for count in range(len(may_go) + 1) for subset in combinations(may_go, count)
        if sum(x.current_a for x in subset) >= short
    ]
    assert enough == bool(fits)
    assert all(x.rank > KEPT for x in chosen)
    if fits:
        best = min(loss(subset, ranks) for subset in fits)
        assert loss(chosen, ranks) == best
    else:
        assert set(chosen) == set(may_go)


@given(loads, st.integers(0, 60))
def test_least_wanted_goes_first(found: list[Sheddable], short: int) -> None:
    chosen, _ = order(found, float(short))
    assert list(chosen) == sorted(chosen, key=lambda x: (-x.rank, -x.current_a, x.name))
    backwards, _ = order(found[::-1], float(short))
    assert [x.name for x in backwards] == [x.name for x in chosen]


def test_nothing_short() -> None:
    assert order([Sheddable("A", 9.0, 5.0)], 0.0) == ((), True)
