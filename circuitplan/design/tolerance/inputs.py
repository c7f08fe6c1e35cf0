"""What goes into the arithmetic of a block of samples: the design's own values, or drawn ones."""

from __future__ import annotations

import math
from collections.abc import Collection
from dataclasses import dataclass
from typing import get_args

import numpy as np
from numpy.typing import NDArray

from circuitplan.design.draft import Segment
from circuitplan.design.load import Load
from circuitplan.design.protection.protect import Device
from circuitplan.design.state import BODY_JOINT, VEHICLE_FEED_V, State
from circuitplan.design.tolerance.frozen import Frozen
from circuitplan.design.tolerance.variables import NORMAL, Family, Variable, rows
from circuitplan.library import contacts
from circuitplan.physics import sampling
from circuitplan.physics.sampling import LogNormal

Floats = NDArray[np.float64]

PLACE_CORRELATION = 0.5
"""Between the temperatures of two places: half of the scatter is the day's (judgement)."""
AIR_OUTSIDE_C = 20.0
"""No place is taken as colder than this, unless a day of the plan says so (judgement)."""
SAG_MULTIPLE = 1.5
"""Of the warm resistance that the design reckons sag with."""


@dataclass(slots=True)
class Inputs:
    """One value a row and sample; rows are those of the frozen arrays, shape (rows, samples).

    Joints, body and battery come twice, because the design takes them at different ends for drop
    and for a short circuit; drawn ones are the same in both.
    """

    length: Floats  # factor on each leg
    spool: Floats  # factor on the highest resistance at 20 °C
    contact_ohm: Floats  # of each wire
    fault_contact_ohm: Floats
    chassis_ohm: Floats  # (1, samples)
    fault_chassis_ohm: Floats
    place_k: Floats  # added to the planned temperature
    draw: Floats  # factor on the current that sized the circuit
    falling: Floats  # exponents of the loads whose exponent is not known
    rising: Floats
    supply: Floats  # (1, samples), 0 at the low end, 1 at the high end
    sag: Floats  # battery resistance over 1.5 times the warm one
    fault_ohm: Floats  # battery resistance
    clearing: Floats  # 0 a fuse at its fastest, 1 at its slowest


@dataclass(slots=True)
class Drawing:
    """All variables of a plan and the distributions of their rows."""

    frozen: Frozen
    fuse_names: tuple[str, ...]
    variables: tuple[Variable, ...]
    contacts: list[LogNormal]
    chassis: LogNormal
    draws: list[tuple[float, float, float]]  # low, middle, high; uniform where middle is NaN
    batteries: list[LogNormal]

    def inputs(self, points: Floats, normal: Floats) -> Inputs:
        """Drawn inputs.

        ``points`` (shares, samples) and ``normal`` (normal scores, samples) hold one row a
        variable, in the order of ``variables`` within each of the two.
        """
        table = rows()
        at = self._split(points, normal)
        place = sampling.correlated(at["day"], at["place"], PLACE_CORRELATION)
        low, high = table["ambient"].ends()
        contact = _lognormals(self.contacts, at["contact"])
        chassis = self.chassis.at(at["chassis"])
        battery = _lognormals(self.batteries, at["battery"])
        exponent = sampling.uniform(at["exponent"], *table["motor exponent"].ends())
        names = self.frozen.battery_names.rows
        levels = self.frozen.state.levels.batteries
        warm = np.array([[levels[name].warm_ohm] for name in names])
        low_length, high_length = table["length"].ends()
        return Inputs(
            sampling.triangular(at["length"], low_length, table["length"].peak(), high_length),
            sampling.uniform(at["spool"], *table["r20"].ends()),
            contact, contact, chassis, chassis,
            _triangular_of_normal(place, low, table["ambient"].peak(), high),
            self._draws(at["draw"]),
            exponent, exponent, at["supply"], battery / (SAG_MULTIPLE * warm), battery,
            at["fuse"],
        )

    def _draws(self, u: Floats) -> Floats:
        low, middle, high = np.array(self.draws).reshape(-1, 3, 1).transpose(1, 0, 2)
        given = np.isnan(middle[:, 0])
        found = np.empty_like(u)
        found[given] = sampling.uniform(u[given], low[given], high[given])
        kinds = ~given
        found[kinds] = sampling.triangular(u[kinds], low[kinds], middle[kinds], high[kinds])
        return found

    def _split(self, points: Floats, normal: Floats) -> dict[str, Floats]:
        found: dict[str, Floats] = {}
        counts = {True: 0, False: 0}
        for family in get_args(Family):
            size = sum(1 for v in self.variables if v.family == family)
            source = normal if family in NORMAL else points
            start = counts[family in NORMAL]
            found[family] = source[start : start + size]
            counts[family in NORMAL] += size
        return found

    def design_point(self, supply: float) -> Inputs:
        """The values that the design reckons with, at the low (0) or high (1) supply end."""
        frozen, state = self.frozen, self.frozen.state
        pairs = [_contact_pair(state, s, d) for s, d in self._devices()]
        levels = [state.levels.batteries[name] for name in frozen.battery_names.rows]
        varying = frozen.loads.varying

        def column(values: Collection[float]) -> Floats:
            return np.array(list(values), dtype=np.float64).reshape(-1, 1)

        return Inputs(
            np.ones((len(frozen.wires.leg_names), 1)), np.ones((len(frozen.wires.spool_names), 1)),
            column([p[0] for p in pairs]), column([p[1] for p in pairs]),
            column([state.chassis_ohm(False)]), column([state.chassis_ohm(True)]),
            np.zeros((len(frozen.place_names), 1)), np.ones((len(frozen.loads.loads), 1)),
            frozen.loads.falling[varying], frozen.loads.rising[varying], column([supply]),
            np.ones((len(levels), 1)), column([level.high_ohm for level in levels]),
            np.ones((len(self.fuse_names), 1)),
        )

    def _devices(self) -> list[tuple[Segment, Device | None]]:
        return _with_devices(self.frozen)


def outside_c(frozen: Frozen) -> float:
    """Coldest air that a place can have [°C]: of the plan's coldest day, or assumed."""
    days = [d.temperature_c for d in frozen.state.plan.days if d.temperature_c is not None]
    return min(days, default=AIR_OUTSIDE_C)


def drawing(frozen: Frozen, fuses: dict[str, str], wires: dict[str, str]) -> Drawing:
    """Variables of a frozen design. ``fuses``: slot key -> its name; ``wires``: key -> number."""
    state = frozen.state
    found: list[Variable] = []

    def add(family: Family, names: Collection[str]) -> None:
        found.extend(Variable(family, name, row) for row, name in enumerate(names))

    add("length", frozen.wires.leg_names.rows)
    add("spool", frozen.wires.spool_names.rows)
    add("contact", [wires[s.key] for s in frozen.wires.segments])
    add("chassis", [""])
    add("place", frozen.place_names.rows)
    add("day", [""])
    add("draw", [load.name for load in frozen.loads.loads])
    add("exponent", [frozen.loads.loads[i].name for i in frozen.loads.varying])
    add("supply", [""])
    add("battery", frozen.battery_names.rows)
    add("fuse", [fuses[key] for key in sorted(fuses)])
    return Drawing(
        frozen, tuple(sorted(fuses)), tuple(found),
        [_contact(state, s, d) for s, d in _with_devices(frozen)],
        _chassis(state), [_range_of(load) for load in frozen.loads.loads],
        [_battery(state, name) for name in frozen.battery_names.rows],
    )


def _with_devices(frozen: Frozen) -> list[tuple[Segment, Device | None]]:
    state = frozen.state
    devices: dict[str, Device | None] = {}
    for node in state.wiring.nodes.values():
        devices.update(state.devices_at(node))
    for circuit in state.wiring.circuits:
        devices.update(state.devices_at(circuit))
    return [(s, devices.get(s.key)) for s in frozen.wires.segments]


def _contact_pair(state: State, segment: Segment, device: Device | None) -> tuple[float, float]:
    wire = state.wire[segment.key]
    return (
        state.contact_ohm(segment, wire, device),
        state.contact_ohm(segment, wire, device, worst=True, alone=True),
    )


def _contact(state: State, segment: Segment, device: Device | None) -> LogNormal:
    """Joints of one wire: each is drawn for itself, their sum is one lognormal."""
    half = rows()["contact"].peak()
    parts: list[tuple[int, LogNormal]] = []

    def put(count: int, design_ohm: float, worst_ohm: float) -> None:
        if count and design_ohm > 0.0:
            parts.append((count, sampling.lognormal_of(half * design_ohm, worst_ohm)))

    crimp = contacts.crimp(state.wire[segment.key].conductor.area_mm2)
    put(segment.crimps, crimp.design_ohm, crimp.worst_ohm)
    for item in segment.contacts:
        put(1, *contacts.resistance(item))
    constant, common = 0.0, state.common(segment)
    if device is not None:
        put(1, common * device.design_ohm, common * device.worst_ohm)
        constant = VEHICLE_FEED_V / device.rating_a if device.type == "output" else 0.0
    put(1, *(common * ohm for ohm in state.relay_contact_ohm(segment)))
    if segment.kind == "earth lead":
        own = rows()["chassis own part"]
        parts.append((1, sampling.lognormal_of(own.peak(), own.high or own.peak())))
        put(segment.route.joints, *contacts.resistance(BODY_JOINT))
    whole = sampling.sum_of(parts, constant)
    pieces = segment.pieces
    return LogNormal(whole.median / pieces, whole.sigma, whole.shift / pieces)


def _chassis(state: State) -> LogNormal:
    """The shared body; a measured one is kept as it is (its own earth points still vary)."""
    if state.plan.chassis_ohm is not None:
        return LogNormal(0.0, 0.0, state.plan.chassis_ohm)
    row = rows()["chassis common part"]
    return sampling.lognormal_of(row.peak(), row.high or row.peak())


def _battery(state: State, name: str) -> LogNormal:
    level = state.levels.batteries[name]
    return sampling.lognormal_of(
        rows()["battery resistance"].peak() * level.warm_ohm, level.high_ohm
    )


def _range_of(load: Load) -> tuple[float, float, float]:
    """(low, middle, high) as factors on the sizing current; middle NaN: uniform."""
    given = load.accessory.current_a is not None or load.accessory.power_w is not None
    kind = load.kind
    if given or kind is None or kind.high_a <= 0.0:
        low, high = rows()["draw given"].ends()
        return low, math.nan, high
    middle = min(1.0, load.typical_a / load.rated_a)
    return min(middle, kind.low_a / kind.high_a), middle, 1.0


def _lognormals(rows_: list[LogNormal], z: Floats) -> Floats:
    """One distribution a row of normal scores."""
    median = np.array([d.median for d in rows_]).reshape(-1, 1)
    sigma = np.array([d.sigma for d in rows_]).reshape(-1, 1)
    found: Floats = np.exp(sigma * z)
    found *= median
    found += np.array([d.shift for d in rows_]).reshape(-1, 1)
    return found


def _triangular_of_normal(z: Floats, low: float, middle: float, high: float) -> Floats:
    from scipy.special import ndtr  # type: ignore[import-untyped]

    found: Floats = sampling.triangular(ndtr(z), low, middle, high)
    return found
