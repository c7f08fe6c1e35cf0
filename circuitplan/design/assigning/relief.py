"""What to give up when demands conflict, in words and with the figures that it takes."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.design.assigning.decide import Impossible
from circuitplan.design.assigning.task import Choice, Task


def relief_words(task: Task, found: Impossible) -> tuple[str, ...]:
    """One sentence for each demand to give up, least effort in sum."""
    return tuple(_words(task, found.then, d.key, d.relief) for d in found.relief)


def _words(task: Task, then: tuple[Choice, ...], key: str, relief: str) -> str:
    sort, _, name = key.partition(":")
    if sort == "rating":
        needed = max(_loads(task, then, name), default=0)
        return f"{relief}, for {needed / 1000:.4g} A of contact or coils" if needed else relief
    if sort == "fixed":
        choice = next((c for c in then if c.item == name), None)
        if choice is not None and choice.switch:
            return f"{relief} to {choice.switch}"
    if sort == "room":
        panels = {p.name: p for p in task.panels}
        drawn = sum(
            item.thermal_ma
            for item, c in zip(task.items, then, strict=True)
            if c.mode != "output" and c.panel in panels
            and name in (c.panel, *panels[c.panel].above)
        )
        return f"{relief}, for {drawn / 1000:.4g} A of these circuits"
    return relief


def _loads(task: Task, then: tuple[Choice, ...], name: str) -> Iterator[int]:
    """What a switch carries and what its coils draw [mA]."""
    switch = next(s for s in task.switches if s.name == name)
    mine = [(i, c) for i, c in zip(task.items, then, strict=True) if c.switch == name]
    carried = sum(i.carried_ma[name] for i, c in mine if c.mode != "coil")
    coils = sum(i.coil_ma or 0 for i, c in mine if c.mode == "coil")
    for amount in (carried, coils):
        if amount:
            yield amount + switch.already_ma
