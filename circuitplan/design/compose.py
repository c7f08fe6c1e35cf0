"""The part of the story that every study shares: a plan drafted, and everything in it sized."""

from __future__ import annotations

from circuitplan.design import demand, levels, load, switchgear, wiring
from circuitplan.design.assume import Ledger
from circuitplan.design.maker import Maker
from circuitplan.design.sizing import Sizer
from circuitplan.design.state import State
from circuitplan.design.ways import Ways
from circuitplan.library import practices
from circuitplan.model.plan import Plan


def sized(plan: Plan, ledger: Ledger) -> tuple[State, Sizer]:
    """Loads, ways, wiring, supply ends, relays, then wires and fuses; assumptions in ``ledger``."""
    practice = practices.get(plan.practice) or practices.get("general")
    assert practice is not None  # the table holds it
    ways = Ways(plan, ledger)
    drafted = wiring.build(Maker(plan, ways, ledger), load.resolve_all(plan, ledger))
    ends = levels.supply_levels(plan, drafted, ledger)
    state = State(plan, drafted, ends, demand.reckon(plan, drafted, ends, practice), practice)
    switchgear.choose_relays(state)
    sizer = Sizer(state, ways)
    sizer.run()
    return state, sizer
