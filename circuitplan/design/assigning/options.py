"""Every way in which one item can be fed and worked, and the demands that each way breaks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from circuitplan.design.assigning.task import Contact, Item, Mode, Task


@dataclass(frozen=True, slots=True)
class Option:
    """One way for one item; ``breaks`` are keys of demands, ``caution`` counts doubtful uses."""

    item: int
    switch: int | None
    mode: Mode
    panel: str
    breaks: tuple[str, ...]
    caution: int
    relays: int
    copper_g: int


def options(task: Task) -> list[Option]:
    """All ways of all items, in a fixed order; those that break a demand included."""
    return [o for i, item in enumerate(task.items) for o in _of(task, i, item)]


def _of(task: Task, index: int, item: Item) -> Iterator[Option]:
    for panel in item.panels:
        yield _option(task, index, item, None, "plain", panel)
    for s, switch in enumerate(task.switches):
        if switch.type == "output":
            yield _option(task, index, item, s, "output", "")
            continue
        modes: tuple[Mode, ...] = ("carry", "coil") if switch.type == "direct" else ("coil",)
        for mode in modes:
            led = mode == "carry" and switch.panel != "" and not item.fixed_panel
            for panel in (switch.panel,) if led else item.panels:
                yield _option(task, index, item, s, mode, panel)


def _option(
    task: Task, index: int, item: Item, s: int | None, mode: Mode, panel: str
) -> Option:
    switch = None if s is None else task.switches[s]
    breaks = list(_broken(task, item, switch, mode, panel))
    caution = int(switch is not None and item.held == "usual" and not switch.momentary)
    relays = int(mode == "coil" and item.adds_relay)
    contact = switch.name if switch is not None and mode != "coil" else ""
    copper_g = item.copper_g.get((panel, contact), 0)
    return Option(index, s, mode, panel, tuple(breaks), caution, relays, copper_g)


def _broken(
    task: Task, item: Item, switch: Contact | None, mode: Mode, panel: str
) -> Iterator[str]:
    name = item.name
    if switch is None:
        if item.fixed_switch:
            yield f"fixed:{name}"
        elif not item.may_be_plain:
            yield f"switch:{name}"
    else:
        if item.fixed_switch and switch.name != item.fixed_switch:
            yield f"fixed:{name}"
        if item.held == "must" and not switch.momentary:
            yield f"held:{name}"
        if item.stays and switch.momentary:
            yield f"stays:{name}"
        if item.for_good:
            yield f"for good:{name}"
        if switch.rating_ma is None:
            yield f"rating:{switch.name}"
        if mode == "coil" and item.coil_ma is None:
            yield f"relay:{name}"
        if item.fixed_panel and switch.name != item.fixed_switch and (
            mode == "output" or (mode == "carry" and switch.panel not in ("", panel))
        ):
            yield f"fed:{name}"
    if item.only_on and (switch is None or switch.name not in item.only_on):
        yield f"only:{name}"
    if switch is not None and switch.name in item.never_on:
        yield f"never:{name}"
    if item.live and not _live(task, item, switch, mode, panel):
        yield f"live:{name}"


def _live(task: Task, item: Item, switch: Contact | None, mode: Mode, panel: str) -> bool:
    """Whether a way is live when the item is to be. What nobody stated is live always."""
    feeder = task.panel(panel)
    fed = (feeder.live if feeder is not None else "") or "always"
    if switch is None:
        stated = feeder is not None and feeder.live != ""
        return fed == item.live or (item.fixed_panel and not stated)
    if item.fixed_switch == switch.name and not switch.live:
        return True  # the plan's own choice, and nothing stated against it
    order = ("always", "ignition", "engine")
    narrowest = max(order.index(switch.live or "always"), order.index(fed))
    return order[narrowest] == item.live
