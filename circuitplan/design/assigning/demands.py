"""What the plan asks of an assignment, each demand in words and with what giving it up means."""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.design.assigning.task import Contact, Feeder, Item, Task


@dataclass(frozen=True, slots=True)
class Demand:
    """``effort`` orders what could be given up, least first (judgement); None: never proposed,
    because it would be unsafe or against nature."""

    key: str
    words: str
    relief: str
    effort: int | None
    about: tuple[str, ...]


WISH, CHOICE, PURCHASE, FEED, REBUILD = 1, 2, 4, 5, 6


def all_demands(task: Task) -> dict[str, Demand]:
    """Every demand of the task by its key, in a fixed order."""
    found = [d for item in task.items for d in _of_item(item, bool(task.switches))]
    found += [d for switch in task.switches for d in _of_switch(task, switch)]
    found += [d for panel in task.panels for d in _of_panel(task, panel)]
    for a, b in task.apart:
        found.append(
            Demand(
                f"apart:{a}:{b}", f"{a} and {b} are never on together", "", None, (a, b)
            )
        )
    for a, b in task.unlike:
        words = f"{a} must not come on with {b}, because it moves or locks something"
        found.append(Demand(f"unlike:{a}:{b}", words, "", None, (a, b)))
    for a, b in task.together:
        words = f"{a} and {b} are to share a switch"
        found.append(Demand(f"together:{a}:{b}", words, f"let {a} and {b} part", WISH, (a, b)))
    for a, b in task.follows:
        words = f"{a} works only together with {b}"
        found.append(Demand(f"follows:{a}:{b}", words, "", None, (a, b)))
    return {d.key: d for d in found}


def _of_item(item: Item, any_switch: bool) -> list[Demand]:
    name, about = item.name, (item.name,)
    found = []
    if item.fixed_switch:
        found.append(
            Demand(
                f"fixed:{name}", f"{name} is on {item.fixed_switch}",
                f"let {name} move from {item.fixed_switch}", CHOICE, (name, item.fixed_switch),
            )
        )
    elif not item.may_be_plain:
        words = f"{name} needs a switch" + ("" if any_switch else ", and the plan lists none")
        relief = f"fit one more switch, for {name}"
        found.append(Demand(f"switch:{name}", words, relief, REBUILD, about))
    if item.fixed_panel:
        where = item.panels[0] or "the battery"
        found.append(
            Demand(
                f"fed:{name}", f"{name} is fed from {where}",
                f"feed {name} from somewhere else than {where}", CHOICE, about,
            )
        )
    if item.held == "must":
        found.append(
            Demand(f"held:{name}", f"{name} works only while held", "", None, about)
        )
    if item.stays:
        found.append(
            Demand(f"stays:{name}", f"{name} stays on when the control is let go", "", None, about)
        )
    if item.live:
        words = f"{name} is to be live {_when(item.live)}"
        found.append(
            Demand(
                f"live:{name}", words, f"find {name} a feed that is live {_when(item.live)}",
                FEED, about,
            )
        )
    if item.for_good:
        words = f"{name} is fed for good: it has its own control, or no switch may cut it"
        found.append(Demand(f"for good:{name}", words, "", None, about))
    if item.only_on:
        words = f"{name} works only together with {' or '.join(item.only_on)}"
        found.append(Demand(f"only:{name}", words, "", None, (name, *item.only_on)))
    if item.never_on:
        words = f"{name} must not come on with what {' or '.join(item.never_on)} works"
        found.append(Demand(f"never:{name}", words, "", None, (name, *item.never_on)))
    if item.coil_ma is None:
        found.append(
            Demand(
                f"relay:{name}", f"no relay of the table bears {name}", "", None, about,
            )
        )
    return found


def _when(live: str) -> str:
    return {"always": "always", "ignition": "with the ignition", "engine": "with the engine"}[live]


def _of_switch(task: Task, switch: Contact) -> list[Demand]:
    name, about = switch.name, (switch.name,)
    rating = "has no stated rating" if switch.rating_ma is None else (
        f"is rated {switch.rating_ma / 1000:g} A"
    )
    found = [
        Demand(
            f"rating:{name}", f"{name} {rating}", f"fit a larger switch at {name}", PURCHASE, about
        )
    ]
    if task.spare_ma:
        words = f"{task.spare_ma / 1000:g} A of contact are to stay free on {name}"
        found.append(Demand(f"spare:{name}", words, f"leave less free on {name}", WISH, about))
    return found


def _of_panel(task: Task, panel: Feeder) -> list[Demand]:
    name, about = panel.name, (panel.name,)
    found = []
    if panel.ways is not None:
        words = f"{name} has {panel.ways} ways for these circuits"
        found.append(
            Demand(f"ways:{name}", words, f"fit a panel with more ways at {name}", PURCHASE, about)
        )
        if task.spare_ways:
            words = f"{task.spare_ways} ways are to stay free on {name}"
            found.append(
                Demand(f"spare ways:{name}", words, f"leave fewer ways free on {name}", WISH, about)
            )
    if panel.room_ma is not None:
        words = f"{name} may carry {panel.room_ma / 1000:g} A for these circuits"
        found.append(
            Demand(f"room:{name}", words, f"fit a larger panel at {name}", PURCHASE, about)
        )
    return found
