"""The least cost of a task by taking its wires out one by one: exact, in whole numbers throughout.

A wire that shares limits with few others is settled for every choice of these others; what it then
costs is a table over them, and the next wire is taken out (non-serial dynamic programming: Bertelè,
Brioschi, Nonserial Dynamic Programming, Academic Press 1972; from memory). On a tree of feeders,
leads and branches a table spans the wires above one wire, so that whole plans take tenths of a
second; where limits knot too many wires together the integer program is used instead.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from circuitplan.design.copper.task import Chosen, Task

MOST_CELLS = 4_000_000
"""Of one table; what would need more is left to the integer program."""
MOST_WORK = 60_000_000
"""Cells of all tables together."""
NEVER = 1 << 50
"""In place of the cost of what breaks a limit; no sum of costs comes near it."""

Ints = NDArray[np.int64]


class KnottedError(Exception):
    """The wires share too many limits for this way."""


@dataclass(slots=True)
class _Table:
    """What a choice of the wires in ``scope`` costs, an axis each."""

    scope: tuple[int, ...]
    cost: Ints


@dataclass(slots=True)
class _Taken:
    """A wire taken out: its best choice for every choice of the wires in ``scope``."""

    wire: int
    scope: tuple[int, ...]
    best: NDArray[np.intp]


def eliminate(task: Task) -> Chosen | None:
    """The cheapest sizes that keep every limit; None where none do. Of equals the thinnest of the
    wire that is settled last, then of the one before. Raises KnottedError where tables would grow
    too large."""
    sizes = _open(task)
    if sizes is None:
        return None
    floor = sum(min(w.cost[i] for i in mine) for w, mine in zip(task.wires, sizes, strict=True))
    limits = _live(task, sizes)
    order = _order(sizes, [set(uses) for uses, _ in limits])
    tables: list[_Table] = []
    taken: list[_Taken] = []
    for w in order:
        mine = [x for x in limits if w in x[0]]
        limits = [x for x in limits if w not in x[0]]
        near = [t for t in tables if w in t.scope]
        tables = [t for t in tables if w not in t.scope]
        others = {v for uses, _ in mine for v in uses} | {v for t in near for v in t.scope}
        scope = (*sorted(others - {w}), w)
        cost = np.array([task.wires[w].cost[i] for i in sizes[w]], dtype=np.int64)
        whole = np.zeros([len(sizes[v]) for v in scope], dtype=np.int64) + (cost - cost.min())
        for table in near:
            whole = np.minimum(whole + _spread(table.cost, table.scope, scope), NEVER)
        for uses, most in mine:
            used = np.zeros([1] * len(scope), dtype=np.int64)
            for v, each in uses.items():
                used = used + _spread(each, (v,), scope)
            whole += np.where(used > most, NEVER, 0)
        taken.append(_Taken(w, scope[:-1], whole.argmin(axis=-1)))
        tables.append(_Table(scope[:-1], np.minimum(whole.min(axis=-1), NEVER)))
    above = sum(int(t.cost) for t in tables)
    if above >= NEVER:
        return None
    chosen: dict[int, int] = {}
    for step in reversed(taken):
        chosen[step.wire] = int(step.best[tuple(chosen[v] for v in step.scope)])
    found = tuple(sizes[w][chosen[w]] for w in range(len(task.wires)))
    return Chosen(found, floor + above, floor + above, True)


def _open(task: Task) -> list[list[int]] | None:
    """The sizes of each wire that some sizes of the others might allow; None where there are
    none."""
    sizes = [list(w.allowed) for w in task.wires]
    changed = all(sizes)
    while changed:
        changed = False
        for limit in task.limits:
            least = {w: min(uses[i] for i in sizes[w]) for w, uses in limit.uses.items()}
            spare = limit.most - sum(least.values())
            if spare < 0:
                return None
            for w, uses in limit.uses.items():
                kept = [i for i in sizes[w] if uses[i] - least[w] <= spare]
                changed = changed or len(kept) < len(sizes[w])
                sizes[w] = kept
    return sizes if all(sizes) else None


def _live(
    task: Task, sizes: list[list[int]]
) -> list[tuple[dict[int, Ints], int]]:
    """The limits that some open sizes break, each over the wires that have a choice."""
    found = []
    for limit in task.limits:
        if sum(max(uses[i] for i in sizes[w]) for w, uses in limit.uses.items()) <= limit.most:
            continue
        fixed = sum(uses[sizes[w][0]] for w, uses in limit.uses.items() if len(sizes[w]) == 1)
        found.append((
            {w: np.array([uses[i] for i in sizes[w]], dtype=np.int64)
             for w, uses in limit.uses.items() if len(sizes[w]) > 1},
            limit.most - fixed,
        ))
    return found


def _order(sizes: list[list[int]], scopes: list[set[int]]) -> list[int]:
    """The order of taking out: always the wire whose table is the smallest now."""
    near: dict[int, set[int]] = {w: set() for w in range(len(sizes))}
    for scope in scopes:
        for w in scope:
            near[w] |= scope - {w}
    cells = {w: _cells(w, near, sizes) for w in near}
    order: list[int] = []
    work = 0
    while cells:
        w = min(cells, key=lambda w: (cells[w], w))
        work += cells[w]
        if cells[w] > MOST_CELLS or work > MOST_WORK:
            raise KnottedError
        others = near.pop(w)
        del cells[w]
        order.append(w)
        for v in others:
            near[v] |= others - {v}
            near[v].discard(w)
        for v in others:
            cells[v] = _cells(v, near, sizes)
    return order


def _cells(w: int, near: Mapping[int, set[int]], sizes: list[list[int]]) -> int:
    return len(sizes[w]) * math.prod(len(sizes[v]) for v in near[w])


def _spread(values: Ints, scope: tuple[int, ...], onto: tuple[int, ...]) -> Ints:
    """A table with its axes where a larger scope has them, one long elsewhere."""
    at = {v: k for k, v in enumerate(scope)}
    ordered = values.transpose([at[v] for v in onto if v in at])
    lengths = iter(ordered.shape)
    return ordered.reshape([next(lengths) if v in at else 1 for v in onto])
