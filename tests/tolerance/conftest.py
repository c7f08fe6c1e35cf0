"""Plans for the tolerance study, sized once."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from circuitplan.design import demand, levels, load, numbering, solve, switchgear, wiring
from circuitplan.design.assume import Ledger
from circuitplan.design.maker import Maker
from circuitplan.design.sizing import Sizer
from circuitplan.design.state import State
from circuitplan.design.tolerance.limits import Margins, margins_of
from circuitplan.design.ways import Ways
from circuitplan.library import practices
from circuitplan.model.plan import Plan


@dataclass(frozen=True)
class Sized:
    """A sized plan with the design's own electrical solution, and its limits."""

    state: State
    solved: solve.Solved
    margins: Margins


def size(plan: Plan) -> Sized:
    """As the planner does it, all steps in sight."""
    ledger = Ledger()
    practice = practices.get(plan.practice)
    assert practice is not None
    ways = Ways(plan, ledger)
    drafted = wiring.build(Maker(plan, ways, ledger), load.resolve_all(plan, ledger))
    ends = levels.supply_levels(plan, drafted, ledger)
    state = State(plan, drafted, ends, demand.reckon(plan, drafted, ends, practice), practice)
    switchgear.choose_relays(state)
    sizer = Sizer(state, ways)
    sizer.run()
    margins = margins_of(state, sizer, ways, numbering.give(state))
    return Sized(state, solve.electrical(state), margins)


@pytest.fixture(scope="session", name="size")
def _size() -> object:
    return size
