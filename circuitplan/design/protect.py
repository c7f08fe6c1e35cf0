"""Protection of wires: what a fuse must carry, ride through, clear, and keep from harm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from circuitplan.design.load import Load
from circuitplan.design.wire import OVERLOAD_K, Candidate, Surroundings
from circuitplan.library import fuses as fuse_tables
from circuitplan.physics import fuses, transient

SLACK = 1.0 + 1e-9
CONTINUOUS_SHARE = 0.8
"""Of its rating that a fuse carries for good at 20 °C (NEC 210.20(A) 125 % rule; from memory)."""
RIDE_THROUGH = 0.7
"""Share of the minimum melting energy that a start may use (judgement)."""
LONGEST_CLEARING_S = 5.0
"""IEC 60364-4-43, 434.5.2: the adiabatic equation holds to 5 s (from memory)."""
PROVED_FROM = 2.0
OVERLOAD_FROM = 1.35
PREFERENCE = ("C", "F", "E", "bolt-in", "SF30", "SF51", "class T")
"""Cheapest first where several families fit (judgement)."""


@dataclass(frozen=True, slots=True)
class Device:
    """A fuse of a family and a rating, in a place."""

    type: str
    rating_a: float
    ambient_c: float

    @property
    def family(self) -> fuse_tables.Family:
        return fuse_tables.family(self.type)

    @property
    def gates(self) -> tuple[fuses.Gate, ...]:
        return gates_of(self.type)

    @property
    def design_ohm(self) -> float:
        return self.family.drop_v_design / self.rating_a + self.family.holder_design_ohm

    @property
    def worst_ohm(self) -> float:
        return self.family.drop_v_worst / self.rating_a + self.family.holder_worst_ohm

    @property
    def breaking_a(self) -> float | None:
        return self.family.breaking_capacity_a


@cache
def gates_of(type_: str) -> tuple[fuses.Gate, ...]:
    """Gates as plain tuples; a vehicle's output is timed as a blade fuse of type C (judgement)."""
    known = "C" if type_ == "output" else type_
    return tuple((g.multiple, g.t_min_s, g.t_max_s) for g in fuse_tables.gates(known))


def ambient_share(ambient_c: float) -> float:
    """Share of the rating that is left in a hot place; above the table its last value."""
    found = fuse_tables.ambient_factor(min(ambient_c, fuse_tables.HOTTEST_C))
    assert found is not None
    return found


def least_rating(currents: list[tuple[Load | None, float]], ambient_c: float) -> float:
    """In >= sum of I/(f ka): f 0.8 for a continuous load, 1 of its rms for a short-time one [A]."""
    share = ambient_share(ambient_c)
    total = 0.0
    for load, current_a in currents:
        if load is None or load.continuous:
            thermal = current_a * (load.thermal_factor if load is not None else 1.0)
            total += thermal / (CONTINUOUS_SHARE * share)
        else:
            total += current_a * load.thermal_factor / share
    return total


def start_share(device: Device, currents: list[tuple[Load | None, float]]) -> float | None:
    """Largest sum of dt/t_melt over the start or run of any one load while the others run.

    None where no inrush is known. Above 0.7 the fuse may age or melt at a start.
    """
    gates = device.gates
    if not gates:
        return None
    steady = sum(i * (1.0 if load is None or load.continuous else 0.0) for load, i in currents)
    worst: float | None = None
    for load, current_a in currents:
        if load is None:
            continue
        others = steady - (current_a if load.continuous else 0.0)
        share = 0.0
        known = False
        if not load.continuous and load.on_s:
            held = max(current_a, load.peak_a or 0.0) + others
            share += fuses.ride_through(gates, device.rating_a, [(held, load.on_s)])
            known = True
        if load.inrush_a is not None and load.inrush_known and load.inrush_s > 0.0:
            running = current_a + others
            multiple = (load.inrush_a + others) / running if running > 0.0 else 1.0
            if multiple > 1.0:
                share += fuses.decaying_inrush(
                    gates, device.rating_a, running, multiple, load.inrush_s
                )
            known = True
        if known:
            worst = share if worst is None else max(worst, share)
    return worst


def clearing(device: Device, fault_a: float) -> float:
    """Latest clearing time of a far-end fault [s]; inf if nothing proves that it clears."""
    gates = device.gates
    return fuses.clears_by_s(gates, fault_a / device.rating_a) if gates else math.inf


def withstand(wire: Candidate, fault_a: float) -> float:
    """Longest time that the wire bears the fault: min(5 s, (kS/I)²)."""
    adiabatic = transient.adiabatic_time_s(
        wire.adiabatic_k, wire.conductor.area_mm2, fault_a
    )
    return min(LONGEST_CLEARING_S, adiabatic)


def band_peak(
    device: Device, wire: Candidate, around: Surroundings, from_multiple: float, fault_a: float
) -> float:
    """Hottest conductor until the clearing bound, over all currents of a band [°C].

    The wire starts at its temperature at 0.8 of the fuse's rating.
    """
    gates = device.gates
    if not gates or wire.ampacity(around) <= 0.0:
        return math.inf
    start_c = wire.temperature(CONTINUOUS_SHARE * device.rating_a, around)
    if math.isinf(start_c):
        return math.inf
    body = wire.body(around)
    hottest = start_c
    for current_a, seconds in fuses.clearing_corners(
        gates, device.rating_a, from_multiple, fault_a
    ):
        if math.isinf(seconds):
            return math.inf
        hottest = max(hottest, transient.temperature_after(body, start_c, current_a, seconds))
    return hottest


def overload_proved(device: Device, wire: Candidate, around: Surroundings) -> bool:
    """Whether 1.35 to 2 times the rating keeps the wire within class + 50 K."""
    peak = band_peak(
        device, wire, around, OVERLOAD_FROM, PROVED_FROM * device.rating_a * (1.0 - 1e-9)
    )
    return peak <= (wire.insulation.class_c + OVERLOAD_K) * SLACK


def fits_wire(
    device: Device, wire: Candidate, around: Surroundings, fault_a: float, largest_a: float
) -> str | None:
    """None if the fuse guards this wire; else what fails: "fault" or "fuse" (coordination).

    ``fault_a``: far-end fault at its weakest; ``largest_a``: the same at its strongest.
    """
    if clearing(device, fault_a) > withstand(wire, fault_a) * SLACK:
        return "fault"
    peak = band_peak(device, wire, around, PROVED_FROM, max(largest_a, fault_a))
    if peak > (wire.insulation.class_c + OVERLOAD_K) * SLACK:
        return "fuse"
    return None


def devices(
    least_a: float, ambient_c: float, *, family: str | None, rating_a: float | None,
    type_: str | None, highest_v: float, continuous_a: float, breaking_a: float | None,
) -> list[Device]:
    """Fuses that carry the load, in order of rating, then of preference.

    A given rating or type is kept. ``breaking_a`` leaves out families that could not break that
    current; ``family`` is the panel's.
    """
    wanted = type_ or family
    families = [wanted] if wanted else [f for f in PREFERENCE if f != "F"]
    found: list[tuple[float, int, Device]] = []
    for name in families:
        known = fuse_tables.family(name)
        if highest_v > max(known.rated_v, default=math.inf) * SLACK:
            continue
        if breaking_a is not None and (known.breaking_capacity_a or 0.0) < breaking_a:
            continue
        ratings = (rating_a,) if rating_a is not None else fuse_tables.ratings(name)
        if rating_a is not None and type_ is None and fuse_tables.ratings(name) and (
            rating_a not in fuse_tables.ratings(name)
        ):
            continue
        for rating in ratings:
            if rating_a is None and rating * SLACK < least_a:
                continue
            too_warm = known.max_continuous_a is not None and continuous_a > known.max_continuous_a
            if rating_a is None and wanted is None and too_warm:
                continue
            order = PREFERENCE.index(name) if name in PREFERENCE else len(PREFERENCE)
            found.append((rating, order, Device(name, rating, ambient_c)))
    return [device for _, _, device in sorted(found, key=lambda item: item[:2])]
