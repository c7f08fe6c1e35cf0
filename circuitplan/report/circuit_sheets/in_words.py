"""A circuit's drawing in one sentence each way, for whoever cannot see it."""

from __future__ import annotations

from collections.abc import Sequence

from circuitplan.model.result import Circuit, Connector, Result, Run
from circuitplan.report import show


def said(circuit: Circuit, controls: Sequence[Circuit], result: Result) -> str:
    """The way out, each accessory with its way back, and what works the relay."""
    if any(a.motor for a in circuit.accessories):
        return _motor(circuit, controls)
    start = [f"from {circuit.panel}"]
    start += [f"isolator {show.rating(circuit.isolator_a)} A"] * (circuit.isolator_a is not None)
    start += [f"fuse {f.id} {show.rating(f.rating_a)} A" for f in circuit.fuses]
    start += [f"contact of relay {r.id}" for r in circuit.relays]
    start += [
        f"switch {s.id}" for s in result.switches
        if s.type == "direct" and s.id in circuit.switches
    ]
    parts = [f"Circuit {circuit.number} {circuit.label}: {', '.join(start)}"]
    for a in circuit.accessories:
        plug = next((c for c in circuit.connectors if c.of == a.name), None)
        out = [_wire(r) for r in circuit.runs if r.role == "feed" and a.name in r.accessories]
        back = [_wire(r) for r in circuit.runs if r.role == "return" and a.name in r.accessories]
        end = "the body" if a.back == "chassis" else "negative"
        there, on = _poles(plug, "feed"), _poles(plug, "return")
        parts.append(", ".join([*out, *there, f"to {a.name}", *on, *back, f"to {end}"]))
    for control in controls:
        way = [*(f"fuse {f.id}" for f in control.fuses), *map(_wire, control.runs)]
        parts.append(
            f"coil of {circuit.relays[0].id} worked by {show.listed(control.switches)}: "
            + ", ".join(way)
        )
    return "; ".join(parts) + "."


def _wire(run: Run) -> str:
    size = "size unknown" if run.unknown else run.size
    return f"wire {run.id} {size} {run.colour} {show.near(run.length_m, 2)} m"


def _motor(circuit: Circuit, controls: Sequence[Circuit]) -> str:
    """Of a motor worked in two ways: feed, each wire to it, way back, and each coil."""
    a, (lead, back) = circuit.accessories[0], (circuit.runs[0], circuit.runs[-1])
    by = "relays " + " and ".join(r.id for r in circuit.relays) if circuit.relays else (
        f"switch {circuit.switches[0]}"
    )
    start = [f"from {circuit.panel}", *(f"fuse {f.id} {show.rating(f.rating_a)} A"
                                        for f in circuit.fuses), _wire(lead), f"to {by}"]
    parts = [f"Circuit {circuit.number} {circuit.label}, {a.motor} motor: {', '.join(start)}"]
    for run in circuit.runs:
        if run.at:
            relay = next((f"contact of relay {r.id}, " for r in circuit.relays if r.at == run.at),
                         "")
            parts.append(f"{run.at}: {relay}{_wire(run)} to {run.to}")
    end = "the body" if a.back == "chassis" else "negative"
    rest = "; at rest both wires are on the negative" if a.motor == "reversing" and (
        circuit.relays
    ) else ""
    parts.append(f"back from {back.from_}, {_wire(back)}, to {end}{rest}")
    for control in controls:
        feed, *coils = control.runs
        way = ", ".join([*(f"fuse {f.id}" for f in control.fuses), _wire(feed)])
        parts.append(f"coils by {show.listed(control.switches)}: {way}")
        parts += [f"{r.at}: {_wire(r)} to {r.to}" for r in coils]
    return "; ".join(parts) + "."


def _poles(connector: Connector | None, role: str) -> list[str]:
    if connector is None:
        return []
    return [f"connector {connector.id}:{c.number}" for c in connector.cavities if c.role == role]
