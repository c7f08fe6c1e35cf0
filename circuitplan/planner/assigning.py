"""Which switch works what: the best choice for a plan, as words, as edits, and proved."""

from __future__ import annotations

from circuitplan.design import demand, levels, load, wiring
from circuitplan.design.assigning.burden import Burdens
from circuitplan.design.assigning.decide import Assigned, Impossible, decide
from circuitplan.design.assigning.gather import Wishes, gather
from circuitplan.design.assigning.relief import relief_words
from circuitplan.design.assigning.task import Choice, Item, Task
from circuitplan.design.assume import Ledger
from circuitplan.design.maker import Maker
from circuitplan.design.state import State
from circuitplan.design.ways import Ways
from circuitplan.library import practices
from circuitplan.model.plan import Accessory, Plan
from circuitplan.model.record import record
from circuitplan.model.result import Result
from circuitplan.planfile.changes import CHOSEN
from circuitplan.planfile.edits import Change, Merge, Remove

FORMAT = "circuitplan assign 1"

Edit = tuple[tuple[str, ...], str | None]
"""Path in the plan and its new value; None takes it out."""


@record
class Assignment:
    """What one accessory gets. ``switch`` None: on with its panel, or its own control."""

    accessory: str
    switch: str | None
    relay: bool
    panel: str | None
    decided: bool  # False: the plan's own choice, kept


@record
class Proposal:
    """One whole assignment; ``edits`` bring the plan there."""

    assignments: tuple[Assignment, ...]
    relayed: tuple[str, ...]  # switches that carry today and are to work relays
    cautions: int
    parts_added: int
    copper_g: int
    proven: bool
    gap: float
    edits: tuple[Edit, ...]
    kept: tuple[str, ...] = ()  # what could not be decided here, and why, in words


@record
class Clash:
    """One demand of a conflict, in words and by the names that it is about."""

    demand: str
    about: tuple[str, ...]


@record
class AssignAnswer:
    """``proposals``: the best, then the next best; none when the demands conflict."""

    proposals: tuple[Proposal, ...]
    conflicts: tuple[tuple[Clash, ...], ...]
    relief: tuple[str, ...]


def assign(
    plan: Plan, wishes: Wishes, before: Result | None = None, alternatives: int = 0,
    time_limit_s: float = 30.0,
) -> AssignAnswer:
    """Choose switch, relay or direct feed and panel for each accessory that has no switch.

    ``before``: the study of the plan as it stands; what it finds within its rating is taken so.
    Raises TimeoutError when no assignment is found within the time limit [s].
    """
    ledger = Ledger(())
    practice = practices.get(plan.practice) or practices.get("general")
    assert practice is not None
    maker = Maker(plan, Ways(plan, ledger), ledger)
    drafted = wiring.build(maker, load.resolve_all(plan, ledger))
    ends = levels.supply_levels(plan, drafted, ledger)
    state = State(plan, drafted, ends, demand.reckon(plan, drafted, ends, practice), practice)
    task = gather(state, Burdens(state, maker), wishes, _sound(before))
    found = decide(task, alternatives, time_limit_s)
    if isinstance(found, Impossible):
        conflicts = tuple(
            tuple(Clash(d.words, d.about) for d in conflict) for conflict in found.conflicts
        )
        return AssignAnswer((), conflicts, relief_words(task, found))
    return AssignAnswer(tuple(_proposal(plan, task, one) for one in found), (), ())


def _sound(result: Result | None) -> frozenset[str]:
    if result is None:
        return frozenset()
    switches = [
        s.id for s in result.switches
        if s.rating_a is not None and s.needed_a <= s.rating_a * (1 + 1e-9)
        and (s.usable_a is None or s.current_a <= s.usable_a * (1 + 1e-9))
    ]
    panels = [
        p.id for p in result.panels if p.rating_a is not None and p.current_a <= p.rating_a
    ]
    return frozenset((*switches, *panels))


def _proposal(plan: Plan, task: Task, found: Assigned) -> Proposal:
    items = {item.name: item for item in task.items}
    types = {s.name: s.type for s in plan.switches}
    relayed = sorted(
        {c.switch for c in found.choices if c.mode == "coil" and types[c.switch] == "direct"}
    )
    assignments = [
        Assignment(
            member, choice.switch or None, choice.mode == "coil" and items[choice.item].adds_relay,
            choice.panel or None, _decided(items[choice.item], choice),
        )
        for choice in found.choices
        for member in items[choice.item].members
    ]
    assignments += [
        Assignment(a.name, " or ".join(a.switches), _by_relay(plan, a), a.fed_from, False)
        for a in plan.accessories if a.name not in {m.accessory for m in assignments}
    ]
    cautions, relays, copper_g, _ = found.goals
    there = sum(
        c.mode == "coil" and items[c.item].adds_relay and types[c.switch] == "relay"
        and items[c.item].fixed_switch == c.switch for c in found.choices
    )
    edits: list[Edit] = [
        edit for choice in found.choices for edit in _edits(plan, items[choice.item], choice)
    ]
    edits += [(("switches", name, "type"), "relay") for name in relayed]
    return Proposal(
        tuple(sorted(assignments, key=lambda a: a.accessory)), tuple(relayed), cautions,
        relays - there, copper_g, found.proven, found.gap, tuple(edits),
        tuple(
            f"{a.name} stays on {a.switches[0]} alone: a {a.motor} motor takes both positions of "
            "its switch"
            for a in sorted(plan.accessories, key=lambda a: a.name) if a.motor is not None
        ),
    )


def _by_relay(plan: Plan, settled: Accessory) -> bool:
    """Whether what the plan settles works a relay: all but a motor on a switch that carries it."""
    types = {s.name.casefold(): s.type for s in plan.switches}
    return settled.motor is None or types[settled.switches[0].casefold()] == "relay"


def _decided(item: Item, choice: Choice) -> bool:
    return not item.fixed_switch and not (item.may_be_plain and not choice.switch)


def changes(proposal: Proposal) -> list[Change]:
    """The edits of the plan's text that bring it to a proposal; nothing else is touched."""
    found: list[Change] = []
    for path, value in proposal.edits:
        home, key = path[:-1], path[-1]
        if value is None:
            found.append(Remove(path, missing_ok=True))
        elif found and isinstance(found[-1], Merge) and found[-1].path == home:
            found[-1] = Merge(home, {**found[-1].values, key: value})
        else:
            found.append(Merge(home, {key: value}))
    return found


def words(proposal: Proposal) -> tuple[str, ...]:
    """The edits as ``try --change`` takes them."""
    return tuple(
        f"{path[1]} {path[2].replace('_', ' ')} {value if value is not None else CHOSEN}"
        for path, value in proposal.edits
    )


def _edits(plan: Plan, item: Item, choice: Choice) -> list[Edit]:
    """What the plan does not say already."""
    found: list[Edit] = []
    for name in item.members:
        given = next(a for a in plan.accessories if a.name == name)
        has = given.switches[0] if given.switches else ""
        if choice.switch.casefold() != has.casefold():
            found.append((("accessories", name, "switch"), choice.switch or None))
        several = len(item.panels) > 1 and choice.mode != "output"
        if several and choice.panel and given.fed_from is None:
            found.append((("accessories", name, "fed_from"), choice.panel))
    return found
