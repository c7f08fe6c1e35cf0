"""Whose key in the plan a fuse, a size or a length is: the name that a change begins with."""

from __future__ import annotations

from circuitplan.design.draft import CircuitDraft, Node, Slot
from circuitplan.design.groups import Group
from circuitplan.design.load import Load


def whose_fuse(owner: CircuitDraft | Node, slot: Slot, loads: list[Load]) -> str | None:
    """The name in the plan whose ``fuse`` stands in a slot; None where the plan has no such key."""
    if isinstance(owner, Node):
        return None if owner.assumed else owner.name
    if slot is not owner.slot or len(owner.loads) == 1:
        return loads[slot.loads[0]].name if slot.loads else None
    if owner.style in ("direct", "output"):
        return owner.switches[0].name
    return loads[owner.loads[0]].name if owner.loads else None


def whose_wire(owner: CircuitDraft | Node, group: Group, loads: list[Load]) -> str | None:
    """The name in the plan whose ``size`` and ``length`` a group of stretches has."""
    if isinstance(owner, Node):
        return None if owner.assumed else owner.name
    return loads[group.load].name if group.load is not None else None
