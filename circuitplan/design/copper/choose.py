"""The least cost of a task, the fewest sizes among equals.

What shares no limit is solved apart. Wires are taken out one by one (``eliminate``); where that
would take too much, by integer programming: columns x[wire, size], one a wire; rows, one a limit.
Source of the form: a knapsack with one choice of each class and several limits (multiple-choice
multidimensional knapsack; Kellerer, Pferschy, Pisinger, Knapsack Problems, Springer 2004, chapters
9 and 11; from memory).
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass

from circuitplan.design.copper.eliminate import KnottedError, eliminate
from circuitplan.design.copper.task import Chosen, Limit, Task
from circuitplan.design.copper.tidy import Fewest
from circuitplan.design.rows import Rows, Solver

DEFAULT_LIMIT_S = 30.0


def least_copper(
    task: Task, time_limit_s: float = DEFAULT_LIMIT_S, tidy: bool = True
) -> Chosen | None:
    """The cheapest sizes that keep every limit; None where none do.

    ``tidy``: of equals one with few different sizes. Raises TimeoutError when no choice is found
    in the time.
    """
    apart = _apart(task)
    found: list[tuple[int, ...]] = []
    cost = bound = 0
    proven = True
    for part, _ in apart:
        try:
            chosen = eliminate(part)
        except KnottedError:
            chosen = by_program(part, time_limit_s)
        if chosen is None:
            return None
        found.append(chosen.sizes)
        cost, bound, proven = cost + chosen.cost, bound + chosen.bound, proven and chosen.proven
    if tidy and proven:
        with suppress(KnottedError):
            found = Fewest([part for part, _ in apart], found).sizes()
    sizes = {w: i for (_, members), mine in zip(apart, found, strict=True)
             for w, i in zip(members, mine, strict=True)}
    return Chosen(tuple(sizes[w] for w in range(len(task.wires))), cost, bound, proven)


def _apart(task: Task) -> list[tuple[Task, list[int]]]:
    """The task in parts that share no limit, with the wires of each by their numbers."""
    head = list(range(len(task.wires)))

    def of(w: int) -> int:
        while head[w] != w:
            head[w] = head[head[w]]
            w = head[w]
        return w

    for limit in task.limits:
        first, *others = limit.uses
        for w in others:
            head[of(w)] = of(first)
    members: dict[int, list[int]] = defaultdict(list)
    for w in range(len(task.wires)):
        members[of(w)].append(w)
    limits: dict[int, list[Limit]] = defaultdict(list)
    for limit in task.limits:
        limits[of(next(iter(limit.uses)))].append(limit)
    parts = []
    for one, wires in members.items():
        number = {w: n for n, w in enumerate(wires)}
        inside = tuple(
            Limit(x.name, {number[w]: uses for w, uses in x.uses.items()}, x.most)
            for x in limits[one]
        )
        parts.append((Task(tuple(task.wires[w] for w in wires), inside), wires))
    return parts


@dataclass(slots=True)
class _Program:
    """``x``: of each wire the column of each size; ``thin``: columns that a limit alone rules out;
    ``above``: cost above each wire's cheapest size."""

    rows: Rows
    x: list[dict[int, int]]
    thin: dict[int, tuple[int, int]]
    above: dict[int, int]


def _program(task: Task) -> _Program | None:
    """Rows and columns of a task; None where the thickest sizes break a limit."""
    rows = Rows()
    x = [{i: rows.column() for i in wire.allowed} for wire in task.wires]
    if not all(x):
        return None
    for columns in x:
        rows.add(dict.fromkeys(columns.values(), 1), 1, 1)
    thin: dict[int, tuple[int, int]] = {}
    for limit in task.limits:
        # Counted from what the thickest sizes use up: the row then shows what is too thin alone.
        thick = {w: uses[max(x[w])] for w, uses in limit.uses.items()}
        spare = limit.most - sum(thick.values())
        if spare < 0:
            return None
        terms = {x[w][i]: uses[i] - thick[w] for w, uses in limit.uses.items() for i in x[w]}
        thin |= {column: (0, 0) for column, value in terms.items() if value > spare}
        if sum(uses[min(x[w])] - thick[w] for w, uses in limit.uses.items()) > spare:
            rows.add(terms, high=spare)
    above = {
        column: wire.cost[i] - wire.floor
        for wire, columns in zip(task.wires, x, strict=True) for i, column in columns.items()
    }
    return _Program(rows, x, thin, above)


def by_program(task: Task, time_limit_s: float) -> Chosen | None:
    """The same by the integer program, for limits that knot many wires together."""
    program = _program(task)
    if program is None:
        return None
    solver = Solver(program.rows, time_limit_s)
    solver.fix(program.thin)
    solution = solver.least(program.above)
    if solution is None:
        return None
    floor = sum(wire.floor for wire in task.wires)
    cost = solution.objective + floor
    bound = cost if solution.proven else floor + max(0, math.ceil(solution.bound - 1e-6))
    return Chosen(_sizes(program, solution.values), cost, bound, solution.proven)


def _sizes(program: _Program, values: Sequence[int]) -> tuple[int, ...]:
    return tuple(
        next(i for i, column in columns.items() if values[column]) for columns in program.x
    )
