"""Phrases that several sections print, so that each is worded once."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.model.plan import Plan
from circuitplan.model.result import Circuit, Fuse, PanelResult, Relay, Result, Run
from circuitplan.report import show


def heading(plan: Plan) -> str:
    """The plan's title, else its file name without folder, else the document's kind."""
    return plan.title or plan.file.replace("\\", "/").rsplit("/", 1)[-1] or "Wiring summary"


def revision(plan: Plan) -> str:
    """The running line's revision: "Revision B", or blank."""
    return f"Revision {plan.revision}" if plan.revision else "Revision not given"


def identity(plan: Plan) -> str:
    """Job number and the plan's checksum: which data this sheet was made from."""
    parts = [f"Job {plan.job.number}" if plan.job.number else "", f"plan {plan.sha256[:12]}"]
    return " · ".join(p for p in parts if p)


def fuse_text(fuse: Fuse) -> str:
    """Rating, type and colour word: "15 A light blue, type C"."""
    colour = f" {fuse.colour}" if fuse.colour else ""
    kind = fuse.type if len(fuse.type) > 5 or fuse.type == "output" else f"type {fuse.type}"
    return f"{show.rating(fuse.rating_a)} A{colour}, {kind}"


def all_fuses(result: Result) -> Iterator[tuple[str, Fuse]]:
    """Every protective device with what it belongs to, feeders first."""
    for panel in result.panels:
        if panel.fuse:
            yield f"feeder of {panel.id}", panel.fuse
    for circuit in result.circuits:
        for fuse in circuit.fuses:
            yield circuit_name(circuit), fuse


def all_runs(result: Result) -> Iterator[tuple[str, Run]]:
    """Every wire with what it belongs to, feeders first."""
    for panel in result.panels:
        for run in panel.feeder:
            yield f"feeder of {panel.id}", run
    for circuit in result.circuits:
        for run in circuit.runs:
            yield circuit_name(circuit), run


def all_relays(result: Result) -> Iterator[tuple[Circuit, Relay]]:
    """Every relay with its circuit."""
    for circuit in result.circuits:
        for relay in circuit.relays:
            yield circuit, relay


def circuit_name(circuit: Circuit) -> str:
    """Number and label: "12 Work lamps"."""
    return f"{circuit.number} {circuit.label}"


def unprotected(result: Result) -> Iterator[tuple[str, str]]:
    """What has no protective device, and the reason on record."""
    owners: list[tuple[str, PanelResult | Circuit]] = [
        *((f"feeder of {p.id}", p) for p in result.panels if p.fuse is None),
        *((circuit_name(c), c) for c in result.circuits if not c.fuses),
    ]
    for name, owner in owners:
        yield name, owner.fuse_reason or "no reason on record"


def switch_names(result: Result) -> dict[str, str]:
    """Identifier -> "S4 Roof"; an identifier that is its own label stands alone."""
    return {s.id: s.id if s.label in ("", s.id) else f"{s.id} {s.label}" for s in result.switches}
