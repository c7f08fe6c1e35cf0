"""An assignment judged from the meaning of a task alone, and all assignments tried one by one.

Nothing of the program's options, rows or goals is used here.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import product

from circuitplan.design.assigning.task import Choice, Contact, Item, Task

ORDER = {"always": 0, "ignition": 1, "engine": 2}


def faults(task: Task, choices: tuple[Choice, ...]) -> set[str]:
    """Keys of the demands that an assignment breaks; "nature" for what cannot be built at all."""
    items = {i.name: i for i in task.items}
    switches = {s.name: s for s in task.switches}
    panels = {p.name: p for p in task.panels}
    broken: set[str] = set()
    for choice in choices:
        broken |= set(_alone(items[choice.item], switches.get(choice.switch), choice, panels))
    ways = dict.fromkeys(panels, 0)
    amps = dict.fromkeys(panels, 0)
    for name, switch in switches.items():
        mine = [c for c in choices if c.switch == name]
        coils = [c for c in mine if c.mode == "coil"]
        carried = [c for c in mine if c.mode in ("carry", "output")]
        if coils and carried:
            broken.add("nature")
        if len({c.panel for c in carried}) > 1:
            broken.add("nature")
        drawn = sum(items[c.item].current_ma for c in carried)
        if switch.fuse_ma is not None and drawn > switch.fuse_ma:
            broken.add(f"rating:{name}")
        if switch.rating_ma is not None:
            for group in (coils, carried):
                load = sum(_load(items[c.item], c) for c in group) + switch.already_ma
                spared = switch.rating_ma - task.spare_ma
                if group and load > switch.rating_ma:
                    broken.add(f"rating:{name}")
                if group is carried and group and task.spare_ma and load > spared:
                    broken.add(f"spare:{name}")
        for panel in {c.panel for c in carried if c.mode == "carry"} & set(panels):
            ways[panel] += 1
        if not switch.control_panel:
            where = {switch.panel or c.panel for c in coils} & set(panels)
            for panel in where:
                ways[panel] += 1
    for choice in choices:
        if choice.panel in panels and choice.mode != "output":
            ways[choice.panel] += choice.mode in ("coil", "plain")
            for panel in {choice.panel, *panels[choice.panel].above}:
                amps[panel] += items[choice.item].thermal_ma
    for name, panel in panels.items():
        if panel.ways is not None and ways[name] > panel.ways:
            broken.add(f"ways:{name}")
        if panel.ways is not None and task.spare_ways and ways[name] > panel.ways - task.spare_ways:
            broken.add(f"spare ways:{name}")
        if panel.room_ma is not None and amps[name] > panel.room_ma:
            broken.add(f"room:{name}")
    at = {c.item: c.switch for c in choices}
    broken |= {f"apart:{a}:{b}" for a, b in task.apart if at[a] and at[a] == at[b]}
    broken |= {f"unlike:{a}:{b}" for a, b in task.unlike if at[a] and at[a] == at[b]}
    broken |= {f"together:{a}:{b}" for a, b in task.together if at[a] != at[b]}
    broken |= {f"follows:{a}:{b}" for a, b in task.follows if at[b] and at[a] != at[b]}
    return broken


def _load(item: Item, choice: Choice) -> int:
    if choice.mode == "coil":
        return item.coil_ma or 1
    return item.carried_ma[choice.switch]


def _alone(
    item: Item, switch: Contact | None, choice: Choice, panels: Mapping[str, object]
) -> Iterator[str]:
    name = item.name
    if item.fixed_switch and choice.switch != item.fixed_switch:
        yield f"fixed:{name}"
    if switch is None and not item.fixed_switch and not item.may_be_plain:
        yield f"switch:{name}"
    if item.only_on and choice.switch not in item.only_on:
        yield f"only:{name}"
    if switch is not None:
        if item.held == "must" and not switch.momentary:
            yield f"held:{name}"
        if item.stays and switch.momentary:
            yield f"stays:{name}"
        if item.for_good:
            yield f"for good:{name}"
        if switch.name in item.never_on:
            yield f"never:{name}"
        if switch.rating_ma is None:
            yield f"rating:{switch.name}"
        if choice.mode == "coil" and item.coil_ma is None:
            yield f"relay:{name}"
        other = choice.mode == "output" or (
            choice.mode == "carry" and switch.panel and switch.panel != choice.panel
        )
        if item.fixed_panel and other and item.fixed_switch != switch.name:
            yield f"fed:{name}"
    if item.live:
        stated = getattr(panels.get(choice.panel), "live", "")
        if switch is None:
            good = (stated or "always") == item.live or (item.fixed_panel and not stated)
        else:
            words = [switch.live or "always", stated or "always"]
            kept = item.fixed_switch == switch.name and not switch.live
            good = kept or max(words, key=ORDER.__getitem__) == item.live
        if not good:
            yield f"live:{name}"


def goals(task: Task, choices: tuple[Choice, ...]) -> tuple[int, ...]:
    """Cautions, relays added, copper, places from home in the row, 10 for each that shares."""
    items = {i.name: i for i in task.items}
    switches = {s.name: s for s in task.switches}
    switched = [c for c in choices if c.switch]
    cautions = sum(
        items[c.item].held == "usual" and not switches[c.switch].momentary for c in switched
    )
    relays = sum(c.mode == "coil" and items[c.item].adds_relay for c in choices)
    copper = sum(
        items[c.item].copper_g.get(
            (c.panel, c.switch if c.mode in ("carry", "output") else ""), 0
        )
        for c in choices
    )
    homes = _homes(task)
    row = [s.name for s in sorted(task.switches, key=lambda s: s.reach)]
    distance = 0
    for choice in switched:
        first, last = homes[choice.item]
        seat = row.index(choice.switch)
        outside = first - seat if seat < first else max(0, seat - last)
        distance += 1 + items[choice.item].weight * outside
    used = {c.switch for c in switched if not switches[c.switch].taken}
    return cautions, relays, copper, distance + 10 * (len(switched) - len(used))


def _homes(task: Task) -> dict[str, tuple[int, int]]:
    """First and last seat of the stretch of each item's kin; what no switch may work has none."""
    switches = {s.name: s for s in task.switches}
    panels = {p.name: p for p in task.panels}
    workable = [
        i for i in task.items
        if any(
            w.switch and not list(_alone(i, switches[w.switch], w, panels)) for w in _ways(task, i)
        )
    ]
    workable.sort(key=lambda i: (-i.weight, i.family, i.place, i.name))
    # Seat n of N items on a row of S switches: n (S - 1) / (N - 1), in whole fractions.
    top, under = len(switches) - 1, max(len(workable) - 1, 1)
    stretches: dict[tuple[int, str, str], tuple[int, int]] = {}
    for n, item in enumerate(workable):
        key = (item.weight, item.family, item.place)
        down, up = n * top // under, -(-n * top // under)
        first, last = stretches.get(key, (down, up))
        stretches[key] = (min(first, down), max(last, up))
    return {i.name: stretches[i.weight, i.family, i.place] for i in workable}


def every_assignment(task: Task) -> Iterator[tuple[Choice, ...]]:
    """All that can be built, whatever demands they break."""
    yield from product(*(list(_ways(task, item)) for item in task.items))


def _ways(task: Task, item: Item) -> Iterator[Choice]:
    for panel in item.panels:
        yield Choice(item.name, "", "plain", panel)
    for switch in task.switches:
        if switch.type == "output":
            yield Choice(item.name, switch.name, "output", "")
            continue
        for panel in item.panels:
            yield Choice(item.name, switch.name, "coil", panel)
        if switch.type == "direct":
            led = switch.panel and not item.fixed_panel
            for panel in [switch.panel] if led else item.panels:
                yield Choice(item.name, switch.name, "carry", panel)


def best(task: Task) -> tuple[int, ...] | None:
    """Least goals over every assignment without faults; None if there is none."""
    found = [goals(task, c) for c in sound(task)]
    return min(found, default=None)


def sound(task: Task) -> Iterator[tuple[Choice, ...]]:
    """Assignments without faults; ways that are at fault alone are left out first."""
    panels = {p.name: p for p in task.panels}
    switches = {s.name: s for s in task.switches}
    lists = [
        [w for w in _ways(task, i) if not list(_alone(i, switches.get(w.switch), w, panels))]
        for i in task.items
    ]
    for combination in product(*lists):
        if not faults(task, combination):
            yield combination


def possible_without(task: Task, ignored: set[str]) -> bool:
    """Whether some assignment breaks none but the ignored demands."""
    return any(faults(task, c) <= ignored for c in every_assignment(task))
