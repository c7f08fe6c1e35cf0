"""What a result chose, as edits that write it into its plan: numbers, sizes, fuses."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from circuitplan.model.plan import Plan
from circuitplan.model.result import Circuit, Fuse, PanelResult, Result, Run
from circuitplan.planfile.edits import Change, Merge
from circuitplan.planfile.scalars import Value


def chosen(plan: Plan, result: Result, without: Collection[str] = ()) -> list[Change]:
    """Circuit numbers, wire sizes and fuses that the plan did not give, as edits.

    Only things that the plan names get keys: an assumed panel is left to be assumed again. Of the
    circuits and panels ``without`` (their ids), which do not hold, only the numbers are written.
    """
    named = {a.name: a for a in plan.accessories}
    found: list[Change] = []
    for circuit in result.circuits:
        bad = circuit.id in without
        for name in (a.name for a in circuit.accessories if a.name in named):
            values = dict(_of_accessory(plan, circuit, name))
            if bad:
                values = {key: value for key, value in values.items() if key == "number"}
            if values:
                found.append(Merge(("accessories", name), values))
        found += [] if bad else _of_shared(plan, circuit)
    found += [
        Merge(("panels", panel.id), values)
        for panel in result.panels
        if panel.id not in without and (values := dict(_of_panel(plan, panel)))
    ]
    return found


def _of_accessory(plan: Plan, circuit: Circuit, name: str) -> Iterator[tuple[str, Value]]:
    given = next(a for a in plan.accessories if a.name == name)
    if given.number is None:
        yield "number", str(circuit.number)
    own = [r for r in circuit.runs if r.role != "control" and r.accessories == (name,)]
    if own and not given.wire.given and not any(r.given or r.unknown for r in own):
        yield "size", max(own, key=lambda r: r.area_mm2).size
    if given.fuse is None:
        ids = {r.id for r in own}
        fuse = next((f for f in circuit.fuses if f.protects in ids and not f.given), None)
        if fuse is None and len(circuit.accessories) == 1 and circuit.fuses:
            fuse = circuit.fuses[0] if not circuit.fuses[0].given else None
        if fuse is not None and not _on_switch(plan, circuit, fuse):
            yield "fuse", fuse_words(fuse)


def _trunk(circuit: Circuit) -> Run | None:
    """The lead that all accessories of a circuit share."""
    feeds = [r for r in circuit.runs if r.role == "feed" and len(r.accessories) > 1]
    return feeds[0] if feeds else None


def _on_switch(plan: Plan, circuit: Circuit, fuse: Fuse) -> bool:
    trunk = _trunk(circuit)
    return fuse.type == "output" or (trunk is not None and fuse.protects == trunk.id)


def _of_shared(plan: Plan, circuit: Circuit) -> list[Change]:
    """The shared wire of a switch or of a circuit, and the fuse before it."""
    trunk = _trunk(circuit)
    if trunk is None:
        return []
    shared = next((c for c in plan.circuits if c.number == circuit.number), None)
    if shared is not None:
        values: dict[str, Value] = {}
        if not shared.wire.given and not trunk.given:
            values["size"] = trunk.size
        own = next((f for f in circuit.fuses if f.protects == trunk.id and not f.given), None)
        if own is not None and shared.fuse is None:
            values["fuse"] = fuse_words(own)
        return [Merge(("circuits", shared.name), values)] if values else []
    switch = next((s for s in plan.switches if s.name in circuit.switches[:1]), None)
    if switch is None:
        return []
    changes: list[Change] = []
    if not switch.lead.given and not trunk.given:
        changes.append(Merge(("switches", switch.name, "lead"), {"size": trunk.size}))
    fuse = next((f for f in circuit.fuses if f.protects == trunk.id and not f.given), None)
    if fuse is not None and switch.fuse is None and fuse.type != "output":
        changes.append(Merge(("switches", switch.name), {"fuse": fuse_words(fuse)}))
    return changes


def _of_panel(plan: Plan, panel: PanelResult) -> Iterator[tuple[str, Value]]:
    given = next((p for p in plan.panels if p.name == panel.id), None)
    if given is None or panel.assumed:
        return
    feeds = [run for run in panel.feeder if run.role == "feed"]
    if feeds and not given.wire.given and not feeds[0].given:
        yield "size", max(panel.feeder, key=lambda r: r.area_mm2).size
    if panel.fuse is not None and given.fuse is None and not panel.fuse.given:
        yield "fuse", fuse_words(panel.fuse)


def fuse_words(fuse: Fuse) -> str:
    """A fuse as the plan writes it: "40 A E"."""
    return f"{fuse.rating_a:g} A {fuse.type}"
