"""The sized design as arrays: what a block of samples is multiplied with.

Rows: loads as in the wiring, wires (segments) by key, bodies (wires that are equally warm), legs,
spools and places by name. Nothing here varies; see ``tolerance_inputs`` for what does.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from circuitplan.design import levels as level_tools
from circuitplan.design import paths
from circuitplan.design.assume import Ledger
from circuitplan.design.draft import Segment
from circuitplan.design.load import COLD_COIL_FACTOR, Load
from circuitplan.design.state import State
from circuitplan.design.tolerance_heat import WarmLaw, warm_law
from circuitplan.design.ways import Ways
from circuitplan.design.wire import Candidate, Surroundings
from circuitplan.physics.exclusion import Exclusion

Floats = NDArray[np.float64]
Groups = tuple[tuple[NDArray[np.intp], Floats], ...]


@dataclass(slots=True)
class Names:
    """Row numbers of names, in the order of the names."""

    rows: dict[str, int]

    @staticmethod
    def of(names: set[str]) -> Names:
        return Names({name: row for row, name in enumerate(sorted(names))})

    def __len__(self) -> int:
        return len(self.rows)


@dataclass(slots=True)
class Incidence:
    """A matrix of few entries, multiplied with blocks of samples in one thread."""

    matrix: Any

    @staticmethod
    def of(dense: Floats) -> Incidence:
        from scipy.sparse import csr_array  # type: ignore[import-untyped]

        return Incidence(csr_array(dense))

    def __matmul__(self, block: Floats) -> Floats:
        found: Floats = self.matrix @ block
        return found


@dataclass(slots=True)
class Loads:
    """Columns of shape (loads, 1). ``varying``: rows whose exponent is drawn."""

    loads: list[Load]
    rated_a: Floats
    rated_v: Floats
    falling: Floats
    rising: Floats
    varying: NDArray[np.intp]
    frozen_a: Floats  # worst current of the design, rated draw
    frozen_ends_v: Floats  # (loads, 2): volts at which it is reckoned
    limit_v: Floats
    conductor_limit_v: Floats  # inf where there is none
    least_v: Floats  # -inf where there is none
    groups: Groups  # interlocks


@dataclass(slots=True)
class Wires:
    """All wires: ``legs`` (wires, legs) metres of each leg; the others (wires, 1)."""

    segments: list[Segment]
    row: dict[str, int]
    leg_names: Names
    legs: Incidence
    spool_names: Names
    spool: NDArray[np.intp]
    r20_ohm_per_m: Floats  # over its equal wires side by side
    alpha_per_k: Floats
    body: NDArray[np.intp]


@dataclass(slots=True)
class Bodies:
    """Wires that are equally warm: ``carries`` (bodies, loads) turns currents into heating ones."""

    carries: Floats
    carried: Incidence  # the same
    constant_a: Floats
    law: WarmLaw
    class_c: Floats
    planned_c: Floats
    place: NDArray[np.intp]
    spool: NDArray[np.intp]
    wires: list[tuple[Candidate, Surroundings]]
    cycled: list[tuple[int, int, float, float, float]]  # body, load, pieces, on, off [s]


@dataclass(slots=True)
class Case:
    """Loads of one source that are solved together, with the supply ends of ``here``.

    ``members`` begin with ``square`` constant-power loads; ``position``, ``by_exponent``, ``drawn``
    and ``critical_position`` count among the members, ``drawn_rows`` among the drawn exponents,
    ``critical`` among the critical loads.
    """

    members: NDArray[np.intp]
    here: NDArray[np.intp]
    position: NDArray[np.intp]
    square: int
    by_exponent: list[tuple[float, NDArray[np.intp]]]
    drawn: NDArray[np.intp]
    drawn_rows: NDArray[np.intp]
    critical: NDArray[np.intp]
    critical_position: NDArray[np.intp]
    uses: Floats  # (members, shared parts)
    battery: int | None  # row among the batteries; None: a converter
    emf_v: float  # at rest, or a converter's output
    least_sag_v: float
    sag_v: float  # at 1.5 times the warm resistance
    high_v: float
    top: int  # which source: cases of one source share their highest volts


@dataclass(slots=True)
class Net:
    """Own and shared resistances as incidence on wires; who uses which part is in the cases."""

    own: Incidence  # (loads, wires)
    own_chassis: Floats  # (loads, 1)
    shared: Incidence  # (parts, wires)
    shared_chassis: Floats  # (parts, 1)
    cases: list[Case]
    critical: NDArray[np.intp]
    own_critical: Incidence  # (critical loads, wires)


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
    loads = _loads(state)
    spools = Names.of({spool_name(state.wire[s.key]) for s in _wired(state)})
    bodies, body_of = _bodies(state, ways, spools, places)
    wires = _wires(state, spools, body_of)
    return Frozen(
        state, loads, wires, bodies, _net(state, wires, batteries, loads), places, batteries
    )


def spool_name(wire: Candidate) -> str:
    """Wire of one size, insulation and material comes from one spool."""
    material = "" if wire.material.name == "copper" else f", {wire.material.name}"
    return f"{wire.conductor.label} {wire.insulation.label}{material}"


def slot_place(place: str | None) -> str:
    return place or "no place given"


def _wired(state: State) -> list[Segment]:
    found = {s.key: s for s in state.wiring.segments() if s.key in state.wire}
    return [found[key] for key in sorted(found)]


def _slots(state: State) -> list:  # type: ignore[type-arg]
    found = [n.slot for n in state.wiring.nodes.values() if n.slot is not None]
    for circuit in state.wiring.circuits:
        found += [circuit.slot] if circuit.slot is not None else []
        found += circuit.inline
    return found


def _column(values: list[float]) -> Floats:
    return np.array(values, dtype=np.float64).reshape(-1, 1)


def _loads(state: State) -> Loads:
    loads, demand, ends = state.wiring.loads, state.demand, state.levels
    cold = [COLD_COIL_FACTOR if load.model == "solenoid" else 1.0 for load in loads]
    never = demand.never_with
    floors = [
        (max(ends.low_v[i] - demand.limits[i].total_v, 0.5 * demand.limits[i].nominal_v),
         ends.high_v[i])
        for i in range(len(loads))
    ]
    inf = float("inf")
    return Loads(
        loads,
        _column([load.rated_a * c for load, c in zip(loads, cold, strict=True)]),
        _column([load.rated_v for load in loads]),
        _column([min(load.exponents) for load in loads]),
        _column([max(load.exponents) for load in loads]),
        np.array([i for i, load in enumerate(loads) if len(load.exponents) > 1], dtype=np.intp),
        demand.worst_a.reshape(-1, 1).copy(),
        np.array(floors, dtype=np.float64).reshape(-1, 2),
        _column([limit.total_v for limit in demand.limits]),
        _column([inf if x.conductor_v is None else x.conductor_v for x in demand.limits]),
        _column([-inf if x.least_v is None else x.least_v for x in demand.limits]),
        () if never is None else Exclusion.of(never).groups,
    )


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
        _column([w.r20 / s.pieces for w, s in zip(wires, segments, strict=True)]),
        _column([w.material.alpha_per_k for w in wires]),
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
            _column([state.control_a.get(s.key, 0.0) if s.kind == "control" else 0.0
                     for s in first]),
            warm_law(design),
            _column([wire.insulation.class_c for wire, _ in wires]),
            _column([around.ambient_c for _, around in wires]),
            np.array([places.rows[_hottest(ways, s, state.around(s).ambient_c)] for s in first],
                     dtype=np.intp),
            np.array([spools.rows[spool_name(wire)] for wire, _ in wires], dtype=np.intp),
            wires, cycled,
        ),
        body_of,
    )


def _net(state: State, wires: Wires, batteries: Names, loads: Loads) -> Net:
    net = paths.network(state)
    count = len(loads.loads)
    own = np.zeros((count, len(wires.segments)))
    own_chassis = np.zeros((count, 1))
    shared: dict[tuple[int, ...], Floats] = {}
    chassis_of: set[tuple[int, ...]] = set()
    last = len(net.links)
    for column in range(last + 1):
        users = tuple(int(i) for i in np.flatnonzero(net.paths[:, column]))
        row = wires.row[net.links[column].segment.key] if column < last else None
        if len(users) == 1 and row is not None:
            own[users[0], row] = 1.0
        elif len(users) == 1:
            own_chassis[users[0], 0] = 1.0
        elif users:
            part = shared.setdefault(users, np.zeros(len(wires.segments)))
            if row is None:
                chassis_of.add(users)
            else:
                part[row] = 1.0
    order = sorted(shared)
    uses = np.zeros((count, len(order)))
    for part_row, users in enumerate(order):
        uses[list(users), part_row] = 1.0
    critical = np.flatnonzero(np.isfinite(loads.conductor_limit_v[:, 0]))
    return Net(
        Incidence.of(own), own_chassis,
        Incidence.of(
            np.array([shared[users] for users in order]).reshape(len(order), len(wires.segments))
        ),
        _column([1.0 if users in chassis_of else 0.0 for users in order]),
        _cases(state, batteries, loads, critical, uses), critical,
        Incidence.of(own[critical]),
    )


def _cases(
    state: State, batteries: Names, loads: Loads, critical: NDArray[np.intp], uses: Floats
) -> list[Case]:
    wiring, levels = state.wiring, state.levels
    roots = sorted(set(wiring.root.values()))
    found: dict[tuple[int, float, float], list[int]] = {}
    sags: dict[tuple[int, float, float], float] = {}
    for index, load in enumerate(wiring.loads):
        root = wiring.nodes[wiring.root[index]]
        sag = 0.0
        if root.panel is None:
            # The sag of the scenario that ruled the low end, before the least of the table.
            draws = level_tools._battery_draws(state.plan, wiring, root.name, Ledger())
            current_a, _ = level_tools._worst_draw(draws, load.name)
            sag = level_tools.SAG_FACTOR * levels.batteries[root.name].warm_ohm * current_a
        key = (roots.index(root.name), levels.low_v[index], levels.high_v[index])
        found.setdefault(key, []).append(index)
        sags[key] = max(sags.get(key, 0.0), sag)
    cases = []
    for (top, low_v, high_v), here in sorted(found.items()):
        root = wiring.nodes[roots[top]]
        level = levels.batteries[root.name] if root.panel is None else None
        varying = set(loads.varying.tolist())
        members = [i for i in range(len(wiring.loads)) if wiring.root[i] == root.name]
        squares = [i for i in members if i not in varying and loads.falling[i, 0] == -1.0]
        members = squares + [i for i in members if i not in squares]
        place = {load: row for row, load in enumerate(members)}
        exponents: dict[float, list[int]] = {}
        for index in members:
            if index not in varying:
                exponents.setdefault(float(loads.rising[index, 0]), []).append(place[index])
        drawn = [r for r, i in enumerate(loads.varying.tolist()) if i in place]
        mine = [r for r, i in enumerate(critical.tolist()) if i in here]
        cases.append(
            Case(
                _rows(members), _rows(here), _rows([place[i] for i in here]), len(squares),
                [(m, _rows(at)) for m, at in sorted(exponents.items())],
                _rows([place[int(loads.varying[r])] for r in drawn]), _rows(drawn),
                _rows(mine), _rows([place[int(critical[r])] for r in mine]), uses[members],
                None if level is None else batteries.rows[root.name],
                low_v if level is None else level.low_emf_v,
                0.0 if level is None else level.sag_v, sags[top, low_v, high_v], high_v, top,
            )
        )
    return cases


def _rows(values: list[int]) -> NDArray[np.intp]:
    return np.array(values, dtype=np.intp)
