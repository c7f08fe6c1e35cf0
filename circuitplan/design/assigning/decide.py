"""The best assignment with proof, the next best ones, or why there is none."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from circuitplan.design.assigning.demands import Demand
from circuitplan.design.assigning.program import Program
from circuitplan.design.assigning.rows import Solution, Solver
from circuitplan.design.assigning.task import Choice, Task

MOST_CONFLICTS = 5
DEFAULT_LIMIT_S = 30.0


@dataclass(frozen=True, slots=True)
class Assigned:
    """``goals`` in the order of program.GOALS; ``proven``: no better one exists, goal by goal."""

    choices: tuple[Choice, ...]
    goals: tuple[int, ...]
    proven: bool
    bounds: tuple[float, ...] = ()


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
    """The best assignment first, then as many next best ones (other switches) as asked for.

    Goals are made least one after the other, each held at its least value for the next
    (lexicographic order): cautions, relays added, copper [g], grouping, reach.
    """
    found: list[Assigned] = []
    bars: list[dict[int, int]] = []
    while len(found) <= alternatives:
        program = Program(task)
        goals = program.goals()
        for bar in bars:
            program.rows.add(bar, high=len(task.items) - 1)
        solved = _in_order(program, Solver(program.rows, time_limit_s), goals)
        if solved is None:
            break
        found.append(solved[0])
        bars.append(program.same_switches(solved[1]))
    return tuple(found) or explain(task, time_limit_s)


def _in_order(
    program: Program, solver: Solver, goals: Sequence[dict[int, int]]
) -> tuple[Assigned, tuple[int, ...]] | None:
    reached: list[Solution] = []
    for goal in goals:
        solution = solver.least(goal)
        if solution is None:
            return None
        reached.append(solution)
        solver.add(goal, high=solution.objective)
    last = reached[-1].values
    return (
        Assigned(
            program.choices(last), tuple(s.objective for s in reached),
            all(s.proven for s in reached), tuple(s.bound for s in reached),
        ),
        last,
    )


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
