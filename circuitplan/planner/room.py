"""What a switch may still carry: the least that it, its relay, fuse, wire, panel and feeder leave.

Everything is read off the finished result, at its safe end: a new load counts as one that is on for
good, drawn through the whole way.
"""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.design.protection.protect import CONTINUOUS_SHARE, ambient_share
from circuitplan.model.record import record
from circuitplan.model.result import Circuit, Fuse, PanelResult, Result, Run, SwitchResult

CONVERTER_SHARE = 0.8
"""Of its input that a converter gives, at the least volts of its input (judgement)."""


@record
class Room:
    """``spare_a`` [A] may be added, or is too much where below zero; None: nobody knows.

    ``limit`` names what leaves no more: "switch", "relay Q1", "fuse F7", "wire 5A", "drop to
    Radio", "cab panel".
    """

    spare_a: float | None
    limit: str


def rooms(result: Result) -> dict[str, Room]:
    """Switch -> what it may still carry. A signal of the vehicle carries nothing and is left out.

    A switch that works nothing yet may be fed from any panel: the fullest counts.
    """
    return {s.id: _room(s, result) for s in result.switches if s.type != "signal"}


def panel_room(panel: PanelResult, result: Result) -> Room:
    """What a panel may still carry: itself, its feeder and fuse, and those that feed it."""
    return _least(list(_upstream(panel.id, result)))


def _room(switch: SwitchResult, result: Result) -> Room:
    mine = [
        c for c in result.circuits
        if switch.id in c.switches and any(a.name in switch.works for a in c.accessories)
    ]
    found = [Room(switch.spare_a, "switch")]
    for circuit in mine:
        found += _along(circuit, switch, result)
    if not mine:
        found += [panel_room(p, result) for p in result.panels]
    return _least(found)


def _least(found: list[Room]) -> Room:
    """What is unknown of the switch itself stays unknown, unless something else is full already."""
    known = [r for r in found if r.spare_a is not None]
    least = min(known, key=lambda r: r.spare_a or 0.0, default=Room(None, "rating not given"))
    if any(r.spare_a is None for r in found) and (least.spare_a or 0.0) > 0.0:
        return Room(None, "rating not given")
    if least.spare_a is not None and least.limit != "switch":
        return Room(max(0.0, least.spare_a), least.limit)  # full, for one more that stays on
    return least


def _along(circuit: Circuit, switch: SwitchResult, result: Result) -> Iterator[Room]:
    for relay in circuit.relays:
        if switch.id in relay.switches:
            yield Room(relay.contact_a - relay.needed_a, f"relay {relay.id}")
    for fuse in circuit.fuses:
        yield _fuse(fuse, circuit.current_a)
    feeds = [r for r in circuit.runs if r.role != "control"]
    whole = max((len(r.accessories) for r in feeds), default=0)
    for run in feeds:
        # A tail to one of several things is no place to hang more on; what serves all is.
        if len(run.accessories) == whole:
            yield _wire(run)
    for drop in circuit.drops:
        yield _drop(drop.accessory, drop.total_v, drop.percent, drop.limit_percent,
                    circuit.current_a)
    yield from _upstream(circuit.panel, result)


def _fuse(fuse: Fuse, carried_a: float) -> Room:
    """0.8 of its rating at its own warmth, as for any load that stays on."""
    usable_a = CONTINUOUS_SHARE * ambient_share(fuse.ambient_c) * fuse.rating_a
    return Room(usable_a - max(carried_a, fuse.current_a or 0.0), f"fuse {fuse.id}")


def _wire(run: Run) -> Room:
    return Room(run.ampacity_a - max(run.current_a, run.thermal_a), f"wire {run.id}")


def _drop(name: str, total_v: float, percent: float, limit: float, current_a: float) -> Room:
    """A further ampere takes at most ``total_v / current_a`` volts: what it passes carries that
    current or more."""
    if total_v <= 0.0 or current_a <= 0.0:
        return Room(float("inf"), f"drop to {name}")
    return Room(current_a * (limit - percent) / percent, f"drop to {name}")


def _upstream(name: str, result: Result) -> Iterator[Room]:
    """The panel ``name`` and every panel above it; a battery or output is no panel."""
    panels = {p.id: p for p in result.panels}
    seen: set[str] = set()
    taken = 1.0  # amperes at this level for one more where the load hangs
    while name in panels and name not in seen:
        seen.add(name)
        panel = panels[name]
        if panel.spare_a is not None:
            yield Room(panel.spare_a / taken, panel.id)
        if panel.output_v is not None:
            taken *= max(1.0, panel.output_v / (CONVERTER_SHARE * result.plan.nominal_v))
        elif panel.fuse is not None:
            found = _fuse(panel.fuse, panel.current_a)
            yield Room((found.spare_a or 0.0) / taken, found.limit)
        for run in panel.feeder:
            if run.role != "control":
                found = _wire(run)
                yield Room((found.spare_a or 0.0) / taken, found.limit)
        name = panel.fed_from
