"""Conflicts: each set impossible, none of its members to spare, the relief enough and least."""

from __future__ import annotations

import itertools

import referee
from hypothesis import given, settings
from hypothesis import strategies as st
from random_tasks import random_task

from circuitplan.design.assigning.decide import Impossible, decide, minimal
from circuitplan.design.assigning.demands import all_demands
from circuitplan.design.assigning.task import Task


def _impossible(seed: int) -> tuple[Task, Impossible] | None:
    task = random_task(seed, 2 + seed % 2, 2, 1 + seed % 2, tight=(1, 1.6, 2.2)[seed % 3])
    found = decide(task)
    return (task, found) if isinstance(found, Impossible) else None


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6))
def test_without_any_one_member_the_rest_of_a_conflict_can_be_met(seed: int) -> None:
    case = _impossible(seed)
    if case is None:
        return
    task, found = case
    every = set(all_demands(task))
    assert found.conflicts
    for conflict in found.conflicts:
        keys = {d.key for d in conflict}
        assert not referee.possible_without(task, every - keys)
        for key in keys:
            assert referee.possible_without(task, every - keys | {key}), (seed, key)
    assert referee.possible_without(task, {d.key for c in found.conflicts for d in c})


def test_the_relief_is_enough_and_nothing_takes_less_effort() -> None:
    seen = 0
    for seed in range(120):
        case = _impossible(seed)
        if case is None:
            continue
        task, found = case
        demands = all_demands(task)
        least = _least_effort(task)
        if least is None:
            assert found.relief == ()
            continue
        effort = sum(demands[d.key].effort or 0 for d in found.relief)
        assert effort == least, seed
        assert referee.faults(task, found.then) <= {d.key for d in found.relief}
        seen += 1
    assert seen > 30


def _least_effort(task: Task) -> int | None:
    """Over all assignments: the sum of efforts of what each breaks, if all may be given up."""
    demands = all_demands(task)
    sums = []
    for choices in referee.every_assignment(task):
        broken = referee.faults(task, choices)
        if "nature" in broken or any(demands[key].effort is None for key in broken):
            continue
        sums.append(sum(demands[key].effort or 0 for key in broken))
    return min(sums, default=None)


@given(st.sets(st.frozensets(st.integers(0, 7), min_size=1, max_size=4), min_size=1, max_size=4))
def test_halving_finds_a_minimal_set_of_any_conflicts(known: set[frozenset[int]]) -> None:
    """Any family of conflicts: what is found is one of the smallest-by-inclusion ones."""
    conflicts = [{str(n) for n in conflict} for conflict in known]

    def possible(keys: object) -> bool:
        assert isinstance(keys, list)
        return not any(conflict <= set(keys) for conflict in conflicts)

    found = set(minimal([str(n) for n in range(8)], possible))
    assert any(conflict == found for conflict in conflicts)
    for size in range(len(found)):
        assert all(set(part) not in conflicts for part in itertools.combinations(found, size))
