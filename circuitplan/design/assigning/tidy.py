"""Among assignments that are equally good: kin in the order in which the plan names them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from itertools import combinations

from circuitplan.design.assigning.program import Program
from circuitplan.design.assigning.row_order import kin


def in_plan_order(
    program: Program, goals: Sequence[dict[int, int]], values: tuple[int, ...]
) -> tuple[int, ...]:
    """The solution with two of a kin changed over wherever the later one sits before the earlier,
    no limit is broken and no goal changes.
    """
    return _Tidier(program, goals, values).run()


class _Tidier:
    """A solution whose items change places."""

    def __init__(
        self, program: Program, goals: Sequence[dict[int, int]], values: tuple[int, ...]
    ) -> None:
        self.program, self.goals, self.held = program, goals, list(values)
        options = program.options
        self.number = {(o.item, o.switch, o.mode, o.panel): n for n, o in enumerate(options)}
        self.chosen = {o.item: n for n, o in enumerate(options) if values[program.x[n]]}
        self.touching: dict[int, list[int]] = defaultdict(list)
        for row, (terms, _, _) in enumerate(program.rows.rows):
            for column in terms:
                self.touching[column].append(row)

    def run(self) -> tuple[int, ...]:
        families: dict[tuple[int, str, str], list[int]] = defaultdict(list)
        for i, n in sorted(self.chosen.items()):
            if self.program.options[n].switch is not None:
                families[kin(self.program.task, i)].append(i)
        for members in families.values():
            for a, b in combinations(members, 2):
                if self._seat(a) > self._seat(b):
                    self._change_over(a, b)
        return tuple(self.held)

    def _seat(self, item: int) -> tuple[int, str]:
        switch = self.program.options[self.chosen[item]].switch
        assert switch is not None
        contact = self.program.task.switches[switch]
        return contact.reach, contact.name

    def _change_over(self, a: int, b: int) -> None:
        """Each takes the way of the other, if it can and nothing is worse."""
        news = {}
        for own, other in ((a, b), (b, a)):
            way = self.program.options[self.chosen[other]]
            new = self.number.get((own, way.switch, way.mode, way.panel))
            if new is None:
                return
            news[own] = new
        x = self.program.x
        columns = {x[self.chosen[i]]: 0 for i in news} | {x[n]: 1 for n in news.values()}
        before = {column: self.held[column] for column in columns}
        self._set(columns)
        moved = [
            sum(goal.get(c, 0) * (new - before[c]) for c, new in columns.items())
            for goal in self.goals
        ]
        touched = {row for column in columns for row in self.touching[column]}
        if any(moved) or not self.program.rows.met(self.held, touched):
            self._set(before)
        else:
            self.chosen |= news

    def _set(self, columns: dict[int, int]) -> None:
        for column, value in columns.items():
            self.held[column] = value
