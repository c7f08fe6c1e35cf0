"""The choice against a second, independent solver: constraint programming with CP-SAT.

The model below is written from the meaning of a task, over switches, modes and panels of each
item; it shares neither the options nor the rows of the program under test.
"""

from __future__ import annotations

import dataclasses
from typing import Any

import pytest
import referee
from random_tasks import random_task

from circuitplan.design.assigning.decide import Impossible, decide
from circuitplan.design.assigning.task import Choice, Task

cp_model = pytest.importorskip("ortools.sat.python.cp_model")


def best_by_constraints(task: Task) -> tuple[int, ...] | None:
    """Least goals in order, each held for the next; None when nothing satisfies the task."""
    model = cp_model.CpModel()
    panels = {p.name: p for p in task.panels}
    switches = {s.name: s for s in task.switches}
    here: dict[tuple[str, Choice], Any] = {}
    for item in task.items:
        for choice in referee._ways(task, item):
            if not list(referee._alone(item, switches.get(choice.switch), choice, panels)):
                here[item.name, choice] = model.new_bool_var("")
    for item in task.items:
        model.add_exactly_one([v for (name, _), v in here.items() if name == item.name])
    items = {i.name: i for i in task.items}

    def on(name: str, switch: str) -> Any:
        return sum(v for (n, c), v in here.items() if n == name and c.switch == switch)

    ways: dict[str, list[Any]] = {p: [] for p in panels}
    for name, switch in switches.items():
        mine = [(items[n], c, v) for (n, c), v in here.items() if c.switch == name]
        coil = model.new_bool_var("")
        feeds: dict[str, Any] = {}
        controls: dict[str, Any] = {}
        for _, choice, used in mine:
            model.add_implication(used, coil if choice.mode == "coil" else ~coil)
            if choice.mode == "carry":
                feed = feeds.setdefault(choice.panel, model.new_bool_var(""))
                model.add_implication(used, feed)
            if choice.mode == "coil" and not switch.control_panel:
                at = switch.panel or choice.panel
                model.add_implication(used, controls.setdefault(at, model.new_bool_var("")))
        model.add_at_most_one(feeds.values())
        for where in (feeds, controls):
            for panel, used in where.items():
                if panel in panels:
                    ways[panel].append(used)
        if switch.rating_ma is not None:
            room = max(0, switch.rating_ma - switch.already_ma)
            model.add(sum((i.coil_ma or 1) * v for i, c, v in mine if c.mode == "coil") <= room)
            carried = sum(i.carried_ma[name] * v for i, c, v in mine if c.mode != "coil")
            model.add(carried <= max(0, room - task.spare_ma))
        if switch.fuse_ma is not None:
            drawn = sum(i.current_ma * v for i, c, v in mine if c.mode != "coil")
            model.add(drawn <= switch.fuse_ma)
    for name, panel in panels.items():
        fed = [(items[n], c, v) for (n, c), v in here.items() if c.mode != "output"]
        own = [v for _, c, v in fed if c.panel == name and c.mode != "carry"]
        if panel.ways is not None:
            model.add(sum(own) + sum(ways[name]) <= panel.ways - task.spare_ways)
        if panel.room_ma is not None:
            through = [
                i.thermal_ma * v
                for i, c, v in fed
                if c.panel in panels and name in (c.panel, *panels[c.panel].above)
            ]
            model.add(sum(through) <= panel.room_ma)
    for a, b in (*task.apart, *task.unlike):
        for name in switches:
            model.add(on(a, name) + on(b, name) <= 1)
    for a, b in task.together:
        for name in ["", *switches]:
            model.add(on(a, name) == on(b, name))
    for a, b in task.follows:
        for name in ["", *switches]:
            model.add(on(a, name) <= on(b, name) + on(b, ""))
    alone = dataclasses.replace(
        task, switches=tuple(dataclasses.replace(s, taken=False) for s in task.switches)
    )
    costs = {key: referee.goals(alone, (key[1],)) for key in here}
    used = {name: model.new_bool_var("") for name in switches}
    for name, one in used.items():
        if switches[name].taken:
            model.add(one == 0)
        model.add(sum(v for (_, c), v in here.items() if c.switch == name) >= one)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    reached: list[int] = []
    for level in range(4):
        goal = sum(costs[key][level] * v for key, v in here.items())
        if level == 3:
            goal += 10 * (sum(v for (_, c), v in here.items() if c.switch) - sum(used.values()))
        model.minimize(goal)
        status = solver.solve(model)
        if status == cp_model.INFEASIBLE:
            return None
        assert status == cp_model.OPTIMAL
        reached.append(round(solver.objective_value))
        model.add(goal <= reached[-1])
    return tuple(reached)


@pytest.mark.slow
@pytest.mark.parametrize("block", range(10))
def test_two_solvers_agree(block: int) -> None:
    solved = 0
    for seed in range(100 * block, 100 * block + 100):
        size = 12 + seed % 7
        task = random_task(seed, size, 6 + seed % 4, 2, tight=0.55, wishes=seed % 3 == 0)
        expected = best_by_constraints(task)
        found = decide(task)
        if expected is None:
            assert isinstance(found, Impossible), seed
            continue
        assert not isinstance(found, Impossible), seed
        assert found[0].proven, seed
        assert found[0].goals == expected, seed
        assert referee.faults(task, found[0].choices) == set()
        solved += 1
        if solved == 6:
            break
    assert solved == 6
