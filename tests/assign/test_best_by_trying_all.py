"""The choice against all assignments of small plans, tried one by one by a referee of its own."""

from __future__ import annotations

import pytest
import referee
from random_tasks import random_task

from circuitplan.design.assigning.decide import Assigned, Impossible, decide
from circuitplan.design.assigning.task import Contact, Feeder, Item, Task

BLOCKS = 12
WANTED = 26  # of each block, so that more than 300 plans with an answer are compared


@pytest.mark.parametrize("block", range(BLOCKS))
def test_no_assignment_is_better(block: int) -> None:
    solved = 0
    for seed in range(block * 1000, block * 1000 + 1000):
        tight = (0.6, 1, 1.5)[seed % 3]
        task = random_task(seed, 2 + seed % 3, 2 + seed % 2, 1 + seed % 2, tight=tight)
        least = referee.best(task)
        if least is None:
            if seed % 10 == 0:  # some of these; why they are impossible is tested elsewhere
                assert isinstance(decide(task), Impossible)
            continue
        found = decide(task)
        assert not isinstance(found, Impossible), seed
        assert found[0].proven
        assert found[0].goals == least == referee.goals(task, found[0].choices), seed
        assert referee.faults(task, found[0].choices) == set(), seed
        solved += 1
        if solved == WANTED:
            break
    assert solved == WANTED


def test_the_next_best_come_in_order_and_use_other_switches() -> None:
    more = 0
    for seed in range(80):
        task = random_task(seed, 3, 3, 1, tight=0.5)
        found = decide(task, alternatives=3)
        if isinstance(found, Impossible):
            continue
        goals = [one.goals for one in found]
        assert goals == sorted(goals)
        open_items = {i.name for i in task.items if not i.fixed_switch and not i.may_be_plain}
        seen = {tuple(c.switch for c in one.choices if c.item in open_items) for one in found}
        assert len(seen) == len(found)
        for one in found:
            assert referee.faults(task, one.choices) == set()
            assert referee.goals(task, one.choices) == one.goals
        second = _second_best(task, open_items)
        assert (found[1].goals if len(found) > 1 else None) == second
        more += len(found) - 1
    assert more > 20


def _second_best(task: Task, open_items: set[str]) -> tuple[int, ...] | None:
    """Least goals over assignments whose switches differ from those of the best one found."""
    found = decide(task)
    assert not isinstance(found, Impossible)
    used = [c.switch for c in found[0].choices if c.item in open_items]
    others = [
        referee.goals(task, choices)
        for choices in referee.sound(task)
        if [c.switch for c in choices if c.item in open_items] != used
    ]
    return min(others, default=None)


def _lamp(name: str, carried_ma: int, **more: object) -> Item:
    return Item(
        name, (name,), "lamp", "", {"S1": carried_ma, "S2": carried_ma}, carried_ma, carried_ma,
        180, ("P",), **more,  # type: ignore[arg-type]
    )  # fmt: skip


TWO = (Contact("S1", "direct", 20000, reach=1), Contact("S2", "direct", 10000, reach=2))


def _only(task: Task) -> Assigned:
    found = decide(task)
    assert not isinstance(found, Impossible)
    return found[0]


def test_a_load_on_the_limit_is_carried_and_one_above_works_a_relay() -> None:
    panel = (Feeder("P"),)
    assert _only(Task((_lamp("A", 20000),), TWO, panel)).goals[1] == 0
    assert _only(Task((_lamp("A", 20001),), TWO, panel)).goals[1] == 1


def test_an_empty_task_is_met() -> None:
    assert _only(Task((), TWO, (Feeder("P"),))).choices == ()


def test_two_that_are_never_on_together_part() -> None:
    choices = _only(Task((_lamp("A", 1000), _lamp("B", 1000)), TWO, (Feeder("P"),),
                         apart=(("A", "B"),))).choices  # fmt: skip
    assert {c.switch for c in choices} == {"S1", "S2"}


def test_one_way_does_not_feed_two_switches() -> None:
    found = decide(Task((_lamp("A", 1000), _lamp("B", 15000)), TWO, (Feeder("P", ways=1),),
                        apart=(("A", "B"),)))  # fmt: skip
    assert isinstance(found, Impossible)
    assert {d.key for d in found.conflicts[0]} == {"apart:A:B", "ways:P"}
