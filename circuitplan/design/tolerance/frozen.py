"""The sized design as arrays: what a block of samples is multiplied with.

Rows: loads as in the wiring, wires (segments) by key, bodies (wires that are equally warm), legs,
spools and places by name. Nothing here varies; see ``tolerance_inputs`` for what does.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from circuitplan.design.draft import Segment, Slot
from circuitplan.design.state import State
from circuitplan.design.tolerance.arrays import (
    Floats,
    Incidence,
    Loads,
    Names,
    Rows,
    column,
    loads_of,
)
from circuitplan.design.tolerance.heat import WarmLaw, warm_law
from circuitplan.design.tolerance.net import Net, net_of
from circuitplan.design.ways import Ways
from circuitplan.design.wire import Candidate, Surroundings


@dataclass(slots=True)
class Wires:
    """All wires: ``legs`` (wires, legs) metres of each leg; the others (wires, 1)."""

    segments: list[Segment]
    row: dict[str, int]
    leg_names: Names
    legs: Incidence
    spool_names: Names
    spool: Rows
    r20_ohm_per_m: Floats  # over its equal wires side by side
    alpha_per_k: Floats
    body: Rows


@dataclass(slots=True)
class Bodies:
    """Wires that are equally warm: ``carries`` (bodies, loads) turns currents into heating ones."""

    carries: Floats
    carried: Incidence  # the same
    constant_a: Floats
    law: WarmLaw
    class_c: Floats
    planned_c: Floats
    place: Rows
    spool: Rows
    wires: list[tuple[Candidate, Surroundings]]
    cycled: list[tuple[int, int, float, float, float]]  # body, load, pieces, on, off [s]


@dataclass(slots=True)
class Frozen:
    """A sized design, ready for samples."""

    state: State
    loads: Loads
    wires: Wires
    bodies: Bodies
    net: Net
    place_names: Names
    battery_names: Names


def freeze(state: State, ways: Ways) -> Frozen:
    """Arrays of a sized state."""
    batteries = Names.of(set(state.levels.batteries))
    places = Names.of(
        {_hottest(ways, s, state.around(s).ambient_c) for s in _wired(state)}
        | {slot_place(slot.place) for slot in _slots(state)}
    )
    loads = loads_of(state)
    spools = Names.of({spool_name(state.wire[s.key]) for s in _wired(state)})
    bodies, body_of = _bodies(state, ways, spools, places)
    wires = _wires(state, spools, body_of)
    return Frozen(
        state, loads, wires, bodies, net_of(state, wires.row, batteries, loads), places, batteries
    )


def spool_name(wire: Candidate) -> str:
    """Wire of one size, insulation and material comes from one spool."""
    material = "" if wire.material.name == "copper" else f", {wire.material.name}"
    return f"{wire.conductor.label} {wire.insulation.label}{material}"


def slot_place(place: str | None) -> str:
    """Name of a fuse's place; all that have none share one."""
    return place or "no place given"


def _wired(state: State) -> list[Segment]:
    found = {s.key: s for s in state.wiring.segments() if s.key in state.wire}
    return [found[key] for key in sorted(found)]


def _slots(state: State) -> list[Slot]:
    found = [n.slot for n in state.wiring.nodes.values() if n.slot is not None]
    for circuit in state.wiring.circuits:
        found += [circuit.slot] if circuit.slot is not None else []
        found += circuit.inline
    return found


def _wires(state: State, spools: Names, body_of: dict[str, int]) -> Wires:
    segments = _wired(state)
    known_legs = {"–".join(sorted((leg.a, leg.b))) for leg in state.plan.legs}
    route_names: dict[int, str] = {}
    pieces: list[list[tuple[str, float]]] = []
    for segment in segments:
        own = route_names.setdefault(id(segment.route), segment.key.rsplit(" ", 1)[0])
        pieces.append(
            [
                (f"the way {s.bundle}" if s.bundle in known_legs else f"the wires of {own}",
                 s.length_m)
                for s in segment.route.stretches
            ]
        )
    names = Names.of({name for row in pieces for name, _ in row})
    legs = np.zeros((len(segments), len(names)))
    for row, parts in enumerate(pieces):
        for name, length_m in parts:
            legs[row, names.rows[name]] += length_m
    wires = [state.wire[s.key] for s in segments]
    return Wires(
        segments, {s.key: row for row, s in enumerate(segments)}, names, Incidence.of(legs), spools,
        np.array([spools.rows[spool_name(w)] for w in wires], dtype=np.intp),
        column([w.r20 / s.pieces for w, s in zip(wires, segments, strict=True)]),
        column([w.material.alpha_per_k for w in wires]),
        np.array([body_of[s.key] for s in segments], dtype=np.intp),
    )


def _hottest(ways: Ways, segment: Segment, ambient_c: float) -> str:
    """The place whose temperature rules a wire; by name where several do."""
    names = sorted(segment.route.places)
    return next((n for n in names if ways.ambient(n)[0] == ambient_c), slot_place(None))


def _bodies(
    state: State, ways: Ways, spools: Names, places: Names
) -> tuple[Bodies, dict[str, int]]:
    segments = _wired(state)
    rows: dict[tuple[object, ...], int] = {}
    body_of: dict[str, int] = {}
    first: list[Segment] = []
    for segment in segments:
        wire, around = state.wire[segment.key], state.around(segment)
        place = _hottest(ways, segment, around.ambient_c)
        own = segment.key if segment.kind == "control" else ""
        key = (id(wire), around, segment.loads, segment.pieces, place, own)
        if key not in rows:
            rows[key] = len(first)
            first.append(segment)
        body_of[segment.key] = rows[key]
    loads = state.wiring.loads
    carries = np.zeros((len(first), len(loads)))
    cycled = []
    for row, segment in enumerate(first):
        for index in segment.loads:
            carries[row, index] = loads[index].thermal_factor / segment.pieces
        load = loads[segment.loads[0]] if len(segment.loads) == 1 else None
        if load is not None and not load.continuous and load.on_s and load.period_s:
            off_s = max(load.period_s - load.on_s, 0.0)
            cycled.append((row, segment.loads[0], float(segment.pieces), load.on_s, off_s))
    wires = [(state.wire[s.key], state.around(s)) for s in first]
    design = [
        (wire, around, state.current(s, thermal=True))
        for (wire, around), s in zip(wires, first, strict=True)
    ]
    return (
        Bodies(
            carries, Incidence.of(carries),
            column([state.control_a.get(s.key, 0.0) if s.kind == "control" else 0.0
                     for s in first]),
            warm_law(design),
            column([wire.insulation.class_c for wire, _ in wires]),
            column([around.ambient_c for _, around in wires]),
            np.array([places.rows[_hottest(ways, s, state.around(s).ambient_c)] for s in first],
                     dtype=np.intp),
            np.array([spools.rows[spool_name(wire)] for wire, _ in wires], dtype=np.intp),
            wires, cycled,
        ),
        body_of,
    )
