"""A mixed-integer program as rows of whole numbers, and its solution by HiGHS."""

from __future__ import annotations

import math
import os
import sys
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

Terms = Mapping[int, int]


@dataclass(slots=True)
class Rows:
    """Columns of 0 or 1 and rows ``low <= sum <= high``; None is no bound."""

    columns: int = 0
    rows: list[tuple[dict[int, int], int | None, int | None]] = field(default_factory=list)

    def column(self) -> int:
        self.columns += 1
        return self.columns - 1

    def copy(self) -> Rows:
        """The same program, to which other rows may be added."""
        return Rows(self.columns, list(self.rows))

    def add(self, terms: Terms, low: int | None = None, high: int | None = None) -> None:
        self.rows.append(({c: v for c, v in terms.items() if v}, low, high))

    def met(self, values: Sequence[int], numbers: Iterable[int] | None = None) -> bool:
        """Whether values of all columns keep the rows, or those of some numbers."""
        for row in self.rows if numbers is None else (self.rows[n] for n in numbers):
            terms, low, high = row
            total = sum(values[c] * v for c, v in terms.items())
            if (low is not None and total < low) or (high is not None and total > high):
                return False
        return True


@contextmanager
def _unheard() -> Iterator[None]:
    """Whatever the solver's own code prints goes nowhere: standard output is the answer's."""
    sys.stdout.flush()
    kept, nowhere = os.dup(1), os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    try:
        yield
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nowhere)


@dataclass(frozen=True, slots=True)
class Solution:
    """``values`` are 0 or 1; ``bound`` is the best that any solution could reach."""

    values: tuple[int, ...]
    objective: int
    bound: float
    proven: bool


class Solver:
    """One program kept in the solver; goals, bounds and rows may change between runs.

    HiGHS (branch and cut, exact within its tolerances) with a fixed seed and one thread, so that
    the same task gives the same answer. Solutions are rounded and checked in whole numbers. Every
    goal is a whole number too: a bound less than one below a solution proves it.
    """

    def __init__(self, rows: Rows, time_limit_s: float) -> None:
        import highspy  # type: ignore[import-untyped]
        import numpy as np

        self._rows, self._np, self._kit = rows, np, highspy
        self._low = [0] * rows.columns
        self._high = [1] * rows.columns
        self._limit_s = time_limit_s
        self._highs: Any = highspy.Highs()
        for name, value in (
            ("output_flag", False), ("threads", 1), ("parallel", "off"), ("random_seed", 0),
            ("mip_rel_gap", 0.0), ("mip_abs_gap", 0.99), ("mip_feasibility_tolerance", 1e-7),
            ("primal_feasibility_tolerance", 1e-7),
        ):  # fmt: skip
            self._highs.setOptionValue(name, value)
        self._highs.passModel(self._model())

    def _model(self) -> Any:
        np, kit = self._np, self._kit
        lp = kit.HighsLp()
        lp.num_col_, lp.num_row_ = self._rows.columns, len(self._rows.rows)
        lp.col_cost_ = np.zeros(self._rows.columns)
        lp.col_lower_ = np.zeros(self._rows.columns)
        lp.col_upper_ = np.ones(self._rows.columns)
        # All of them, also those that would be whole by themselves: of such left continuous, a
        # later release of the solver makes wrong use (tests/assign finds better assignments).
        lp.integrality_ = [kit.HighsVarType.kInteger] * self._rows.columns
        inf = kit.kHighsInf
        lp.row_lower_ = np.array([-inf if low is None else low for _, low, _ in self._rows.rows])
        lp.row_upper_ = np.array([inf if high is None else high for *_, high in self._rows.rows])
        starts, index, value = [0], [], []
        for terms, _, _ in self._rows.rows:
            index += list(terms)
            value += list(terms.values())
            starts.append(len(index))
        lp.a_matrix_.format_ = kit.MatrixFormat.kRowwise
        lp.a_matrix_.start_ = np.array(starts)
        lp.a_matrix_.index_ = np.array(index)
        lp.a_matrix_.value_ = np.array(value, dtype=float)
        return lp

    def add(self, terms: Terms, low: int | None = None, high: int | None = None) -> None:
        """One more row, kept for all later runs."""
        np, inf = self._np, self._kit.kHighsInf
        terms = {c: v for c, v in terms.items() if v}
        self._rows.add(terms, low, high)
        self._highs.addRow(
            -inf if low is None else low, inf if high is None else high, len(terms),
            np.array(list(terms), dtype=np.int32), np.array(list(terms.values()), dtype=float),
        )

    def fix(self, values: Mapping[int, tuple[int, int]]) -> None:
        """Bounds of some columns."""
        for column, (low, high) in values.items():
            if (self._low[column], self._high[column]) != (low, high):
                self._low[column], self._high[column] = low, high
                self._highs.changeColBounds(column, low, high)

    def least(self, goal: Terms, limit_s: float | None = None) -> Solution | None:
        """The least value of ``goal``; None when nothing satisfies the rows.

        ``limit_s``: in place of the solver's own time limit [s]. Raises TimeoutError when it
        passes without any solution.
        """
        if not self._rows.columns:  # the solver takes no empty program
            met = all((low or 0) <= 0 and (high is None or high >= 0)
                      for _, low, high in self._rows.rows)
            return Solution((), 0, 0.0, True) if met else None
        np, highs = self._np, self._highs
        cost = np.zeros(self._rows.columns)
        for column, value in goal.items():
            cost[column] = value
        everything = np.arange(self._rows.columns, dtype=np.int32)
        highs.changeColsCost(len(everything), everything, cost)
        kinds = self._kit.HighsModelStatus
        status = self._run(limit_s or self._limit_s)
        if status in (kinds.kInfeasible, kinds.kUnboundedOrInfeasible):
            return None
        info = highs.getInfo()
        solution = highs.getSolution()
        if status != kinds.kOptimal and not (math.isfinite(info.objective_function_value)
                                             and solution.value_valid):
            raise TimeoutError("no assignment was found in the time allowed")
        values = tuple(round(v) for v in solution.col_value)
        if not self._rows.met(values):
            raise ArithmeticError("the solver's answer breaks a limit by a rounding")
        objective = sum(values[c] * v for c, v in goal.items())
        bound = float(info.mip_dual_bound)
        if not math.isfinite(bound):
            bound = 0.0
        proven = status == kinds.kOptimal and objective - bound < 1.0
        return Solution(values, objective, bound, proven)

    def _run(self, limit_s: float) -> Any:
        """The solver's status after at most so long [s]. A release gives up on some tiny programs
        without a cost that it solves when it does not simplify them first."""
        highs, gave_up = self._highs, self._kit.HighsModelStatus.kSolveError
        status = gave_up
        for presolve in ("choose", "off"):
            highs.setOptionValue("presolve", presolve)
            highs.setOptionValue("time_limit", highs.getRunTime() + limit_s)
            # No start from an earlier run: a later release makes wrong use of it.
            highs.clearSolver()
            with _unheard():
                highs.run()
            status = highs.getModelStatus()
            if status != gave_up:
                break
        return status
