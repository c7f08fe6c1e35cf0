"""The best assignment with proof, the next best ones, or why there is none."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass

from circuitplan.design.assigning.demands import Demand
from circuitplan.design.assigning.program import Program
from circuitplan.design.assigning.task import Choice, Task
from circuitplan.design.assigning.tidy import in_plan_order
from circuitplan.design.rows import Solver

MOST_CONFLICTS = 5
DEFAULT_LIMIT_S = 30.0


@dataclass(frozen=True, slots=True)
class Assigned:
    """``goals`` in the order of program.GOALS; ``proven``: no better one exists, goal by goal."""

    choices: tuple[Choice, ...]
    goals: tuple[int, ...]
    proven: bool
    gap: float  # between this and the best that any could reach, as a share


@dataclass(frozen=True, slots=True)
class Impossible:
    """``conflicts``: sets of demands that cannot hold together, each without one to spare, no
    demand in two of them. ``relief``: what to give up, with the least effort, or () if nothing
    that is safe to give up would do; ``then``: the choice that this allows."""

    conflicts: tuple[tuple[Demand, ...], ...]
    relief: tuple[Demand, ...]
    then: tuple[Choice, ...]


def decide(
    task: Task, alternatives: int = 0, time_limit_s: float = DEFAULT_LIMIT_S
) -> tuple[Assigned, ...] | Impossible:
    """The best assignment first, then as many next best ones (other
    switches for what needs one) as asked for.

    Goals are made least one after the other, each held at its least value for the next
    (lexicographic order): cautions, relays added, copper [g], order in the row of switches.
    """
    open_items = sum(not i.fixed_switch and not i.may_be_plain for i in task.items)
    found: list[Assigned] = []
    bars: list[dict[int, int]] = []
    while len(found) <= alternatives:
        program = Program(task)
        for bar in bars:
            program.rows.add(bar, high=open_items - 1)
        solved = _in_order(program, time_limit_s)
        if solved is None:
            break
        found.append(solved[0])
        bars.append(program.same_switches(solved[1]))
        if not open_items:
            break
    return tuple(found) or explain(task, time_limit_s)


Found = tuple[tuple[int, ...], bool, float]
"""Values of a program's columns, whether they are proven best, and the gap if not."""


def _in_order(
    program: Program, time_limit_s: float
) -> tuple[Assigned, tuple[int, ...]] | None:
    goals = program.goals()
    found = _at_the_bound(program, goals, time_limit_s) or _step_by_step(
        Solver(program.rows, time_limit_s), program, goals
    )
    if found is None:
        return None
    values, proven, gap = found
    values = in_plan_order(program, goals, values)
    reached = tuple(sum(values[c] * v for c, v in goal.items()) for goal in goals)
    return Assigned(program.choices(values), reached, proven, gap), values


def _at_the_bound(
    program: Program, goals: Sequence[dict[int, int]], time_limit_s: float
) -> Found | None:
    """A solution without cautions and with the fewest relays that any can have: these two goals
    are then proven, and only the others are to be searched. None when there is no such one."""
    solver = Solver(program.rows.copy(), time_limit_s)
    for goal, most in zip(goals, (0, program.least_relays), strict=False):
        _hold(solver, program, goal, most)
    with suppress(TimeoutError):
        return _step_by_step(solver, program, goals[2:])
    return None


def _step_by_step(
    solver: Solver, program: Program, goals: Sequence[dict[int, int]]
) -> Found | None:
    """One goal after the other, each held at its least value for the next."""
    proven, gap = True, 0.0
    values: tuple[int, ...] = ()
    for goal in goals:
        solution = solver.least(goal)
        if solution is None:
            return None
        values, proven = solution.values, proven and solution.proven
        if solution.objective > 0 and not solution.proven:
            gap = max(gap, (solution.objective - solution.bound) / solution.objective)
        _hold(solver, program, goal, solution.objective)
    return values, proven, gap


def _hold(solver: Solver, program: Program, goal: dict[int, int], most: int) -> None:
    """A goal at most so much from now on."""
    above, least = program.above_least(goal)
    solver.add(above, high=most - least)
    solver.fix({c: (0, 0) for c, v in above.items() if v > most - least})


# --- why there is none -----------------------------------------------------------------------


def explain(task: Task, time_limit_s: float = DEFAULT_LIMIT_S) -> Impossible:
    """Minimal sets of demands that conflict, and the relief of least effort."""
    program = Program(task, elastic=True)
    solver = Solver(program.rows, time_limit_s)

    def possible(keys: Sequence[str]) -> bool:
        wanted = set(keys)
        solver.fix(
            {c: (0, 0) if k in wanted else (1, 1) for k, c in program.given_up.items()}
        )
        return solver.least({}) is not None

    left = list(program.demands)
    conflicts: list[tuple[Demand, ...]] = []
    while len(conflicts) < MOST_CONFLICTS and not possible(left):
        core = minimal(left, possible)
        conflicts.append(tuple(program.demands[k] for k in core))
        left = [k for k in left if k not in core]
    relief, then = _relief(program, solver)
    return Impossible(tuple(conflicts), relief, then)


def minimal(keys: Sequence[str], possible: Callable[[Sequence[str]], bool]) -> list[str]:
    """A smallest-by-inclusion part of ``keys`` that is not possible, by halving.

    Junker, QuickXplain: preferred explanations and relaxations for over-constrained problems
    (AAAI 2004). ``keys`` as a whole must not be possible.
    """

    def search(ground: list[str], added: bool, doubtful: list[str]) -> list[str]:
        if added and not possible(ground):
            return []
        if len(doubtful) == 1:
            return doubtful
        half = len(doubtful) // 2
        first, second = doubtful[:half], doubtful[half:]
        core_2 = search(ground + first, bool(first), second)
        core_1 = search(ground + core_2, bool(core_2), first)
        return [*core_1, *core_2]

    if not keys or not possible([]):
        return []
    return search([], False, list(keys))


def _relief(
    program: Program, solver: Solver
) -> tuple[tuple[Demand, ...], tuple[Choice, ...]]:
    free = {
        column: (0, 1) if program.demands[key].effort is not None else (0, 0)
        for key, column in program.given_up.items()
    }
    solver.fix(free)
    effort = {
        column: effort
        for key, column in program.given_up.items()
        if (effort := program.demands[key].effort) is not None
    }
    solution = solver.least(effort)
    if solution is None:
        return (), ()
    given_up = tuple(
        program.demands[key] for key, column in program.given_up.items() if solution.values[column]
    )
    return given_up, program.choices(solution.values)
