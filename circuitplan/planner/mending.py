"""The cheapest fix of a plan that does not hold: found by trying changes on the whole plan.

The search takes the least effort first; every step is designed and judged whole, so that what is
proposed has passed.
"""

from __future__ import annotations

import heapq
from dataclasses import replace

from circuitplan.errors import InputError
from circuitplan.model.plan import Plan
from circuitplan.model.record import record
from circuitplan.model.result import Result
from circuitplan.planfile import read_text
from circuitplan.planfile.changes import CHOSEN, change
from circuitplan.planfile.edits import apply
from circuitplan.planner.remedies import Words, anew, candidates, effort_of
from circuitplan.planner.story import counted, design

MOST_TRIED = 16
"""Plans designed in one search; then it stops and says so."""
DEEPEST = 3
NOT_MENDED_BY_A_CHANGE = ("U01",)

Keys = frozenset[tuple[str, str]]


@record
class Fix:
    """``changes`` as ``try --change`` takes them, tried together on the whole plan.

    ``whole``: with them nothing fails any more; else what the trial brought is mended and what
    failed before it still fails. ``gives``: sizes and fuses that were chosen again, in words.
    """

    changes: Words
    effort: float
    whole: bool
    tried: int
    gives: Words = ()


@record
class Search:
    """A fix, or None; how many plans were designed; whether no cheaper way was left untried."""

    fix: Fix | None
    tried: int
    exhausted: bool


def cheapest(text: str, plan: Plan, result: Result, before: Result | None = None) -> Search:
    """Search the least effort that makes a failing plan pass.

    ``text`` and ``result`` are those of the failing plan; ``before``: the plan before the trial,
    whose own failures may stay if nothing mends all.

    First everything that the plan fixes of what fails is chosen again, which shows at once that
    something mends it; then single changes and their like are tried for less effort.
    """
    had: Keys = frozenset() if before is None else _keys(before)
    start = _Step(text, plan, result, _keys(result))
    greedy, tried = _rewired(start)
    waiting: list[tuple[float, int, Words, _Step, Words]] = []
    number, second = 0, None
    seen = {frozenset[str]()}

    def put(effort: float, done: Words, at: _Step) -> None:
        nonlocal number
        for more, words in candidates(at.plan, at.result):
            both = frozenset((*done, *words))
            if both in seen or len(done) >= DEEPEST:
                continue
            seen.add(both)
            number += 1
            heapq.heappush(waiting, (effort + more, number, (*done, *words), at, words))

    put(0.0, (), start)
    while waiting and tried < MOST_TRIED:
        effort, _, done, at, fresh = heapq.heappop(waiting)
        if greedy is not None and effort >= greedy.effort:
            heapq.heappush(waiting, (effort, 0, done, at, fresh))
            break
        found = _step(at, fresh)
        if found is None:
            continue
        tried += 1
        if not found.keys:
            return Search(Fix(done, effort, True, tried, _gives(done, found)), tried, True)
        if second is None and had and found.keys <= had and not start.keys <= had:
            second = (done, effort)
        if found.keys < at.keys:  # some progress, and nothing new fails
            put(effort, done, found)
    if greedy is not None:
        cheaper = bool(waiting) and waiting[0][0] < greedy.effort
        return Search(replace(greedy, tried=tried), tried, not cheaper)
    fix = None if second is None else Fix(second[0], second[1], False, tried)
    return Search(fix, tried, not waiting)


@record
class _Step:
    """A plan on the way to one that passes, and what fails in it."""

    text: str
    plan: Plan
    result: Result
    keys: Keys


def _step(at: _Step, words: Words) -> _Step | None:
    """The plan with changes, designed and judged; None where they change nothing or do not fit."""
    try:
        changed = apply(at.text, [edit for one in words for edit in change(at.plan, one)])
        if changed == at.text:
            return None
        new = read_text(changed, at.plan.file)
        found = design(new, (), whole=False).result
    except InputError:
        return None
    return _Step(changed, new, found, _keys(found))


def _rewired(start: _Step) -> tuple[Fix | None, int]:
    """What is fixed chosen again, then what still fails mended one by one; and how many tried."""
    done = anew(start.plan, start.result)
    here = _step(start, done) if len(done) > 1 else None
    if here is None:
        return None, 0
    effort, tried = sum(map(effort_of, done)), 1
    while here.keys and tried < MOST_TRIED // 2:
        for more, words in candidates(here.plan, here.result):
            there = _step(here, words)
            tried += there is not None
            if there is not None and there.keys < here.keys:
                here, done, effort = there, (*done, *words), effort + more
                break
            if tried >= MOST_TRIED // 2:
                break
        else:
            return None, tried
    return (None if here.keys else Fix(done, effort, True, tried, _gives(done, here))), tried


def _gives(changes: Words, step: _Step) -> Words:
    """What became of the sizes and fuses that changes leave to the program."""
    again = {c.rpartition(" ")[0].rpartition(" ")[0] for c in changes if c.endswith(f" {CHOSEN}")}
    found = [
        (a.name, [r for r in c.runs if r.role == "feed" and a.name in r.accessories], c.fuses)
        for c in step.result.circuits for a in c.accessories if a.name in again
    ]
    found += [
        (p.id, list(p.feeder), () if p.fuse is None else (p.fuse,))
        for p in step.result.panels if p.id in again
    ]
    return tuple(
        ", ".join([
            f"{name} {max(runs, key=lambda r: r.area_mm2).size}",
            *(f"fuse {f.rating_a:g} A {f.type}" for f in fuses[:1]),
        ])
        for name, runs, fuses in found if runs
    )


def _keys(result: Result) -> Keys:
    return frozenset(
        (f.rule, f.subject) for f in counted(result.findings)
        if f.rule not in NOT_MENDED_BY_A_CHANGE
    )
