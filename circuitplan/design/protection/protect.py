"""Protection of wires: what a fuse must carry, ride through, clear, and keep from harm."""

from __future__ import annotations

import math
from functools import cache

from circuitplan.design.load import Load
from circuitplan.design.wire import OVERLOAD_K, Candidate, Surroundings
from circuitplan.library import fuses as fuse_tables
from circuitplan.model.plan import FuseSpec
from circuitplan.model.record import record
from circuitplan.physics import fuses, starting, transient
from circuitplan.physics.breakers import stepped

SLACK = 1.0 + 1e-9
CONTINUOUS_SHARE = 0.8
"""Of its rating that a fuse carries for good at 20 °C (NEC 210.20(A) 125 % rule; from memory)."""
RIDE_THROUGH = 0.7
"""Share of the minimum melting energy that a start may use (judgement)."""
LONGEST_CLEARING_S = 5.0
"""IEC 60364-4-43, 434.5.2: the adiabatic equation holds to 5 s (from memory)."""
PROVED_FROM = 2.0
NEAR_END = 100.0
"""Times its rating: far beyond the last gate of every family."""
OVERLOAD_FROM = 1.35
PREFERENCE = ("C", "F", "E", "bolt-in", "SF30", "SF51", "class T")
"""Cheapest first where several families fit (judgement)."""


@record
class Device:
    """A fuse of a family and a rating, in a place."""

    type: str
    rating_a: float
    ambient_c: float
    curve: tuple[fuses.Gate, ...] | None = None  # its maker's, in place of the standard's gates
    breaks_a: float | None = None  # by its maker

    @property
    def family(self) -> fuse_tables.Family:
        return fuse_tables.family(self.type)

    @property
    def gates(self) -> tuple[fuses.Gate, ...]:
        return gates_of(self.type) if self.curve is None else self.curve

    @property
    def design_ohm(self) -> float:
        return self.family.drop_v_design / self.rating_a + self.family.holder_design_ohm

    @property
    def worst_ohm(self) -> float:
        return self.family.drop_v_worst / self.rating_a + self.family.holder_worst_ohm

    @property
    def breaking_a(self) -> float | None:
        return self.family.breaking_capacity_a if self.breaks_a is None else self.breaks_a


@cache
def gates_of(type_: str) -> tuple[fuses.Gate, ...]:
    """Gates as plain tuples; a vehicle's output is timed as a blade fuse of type C (judgement)."""
    known = "C" if type_ == "output" else type_
    return tuple((g.multiple, g.t_min_s, g.t_max_s) for g in fuse_tables.gates(known))


CARRIED = (1.0, 1e9, None)
"""A breaker carries its rating for good: the gate before its maker's first point."""


@cache
def curve_gates(spec: FuseSpec) -> tuple[fuses.Gate, ...] | None:
    """A maker's curve as gates, from the current on that the device carries for good."""
    if spec.curve is None:
        return None
    points = spec.curve.points
    if spec.type == "breaker":
        return stepped((CARRIED, *points))
    first = gates_of(spec.type or "C")[:1]
    carried = first[0] if first and first[0][0] < points[0][0] else CARRIED
    least, falling = math.inf, []
    for multiple, melts_s, clears_s in points:
        # Read off paper, I^2 t may seem to rise with the current: the lower value stays.
        least = min(least, melts_s * multiple * multiple)
        falling.append((multiple, least / (multiple * multiple), clears_s))
    return (carried, *falling)


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


def start_of(load: Load, running_a: float, high_v: float | None) -> starting.Start | None:
    """The start of one load; None where none is known.

    A start that the plan gives was measured at the rated volts: at the highest supply it is more,
    wire resistance not counted (low R, high volts). That of a kind is the upper end of its range.
    """
    if load.inrush_a is None or not load.inrush_known or load.inrush_s <= 0.0:
        return None
    given = load.accessory.inrush_a is not None
    volts = max(high_v or 0.0, load.rated_v) if given else load.rated_v
    return starting.behind_wire(load.inrush_a, load.rated_v, load.inrush_s, running_a, volts)


def start_share(
    device: Device, currents: list[tuple[Load | None, float]], high_v: float | None = None
) -> float | None:
    """Largest sum of dt/t_melt over the start or run of any one load while the others run.

    ``high_v``: highest supply volts. None where no inrush is known. Above 0.7 the fuse may age or
    melt at a start.
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
        start = start_of(load, current_a, high_v)
        if start is not None:
            running = current_a + others
            multiple = (start.peak_a + others) / running if running > 0.0 else 1.0
            if multiple > 1.0:
                share += _start_alone(device, load, running, multiple, start.tau_s)
            known = True
        if known:
            worst = share if worst is None else max(worst, share)
    return worst


def _start_alone(
    device: Device, load: Load, running_a: float, multiple: float, tau_s: float
) -> float:
    """Sum of dt/t_melt of a start. A short-time load may run above what the fuse carries for good:
    its start is then counted step by step until it has died down, its run apart."""
    if load.continuous or running_a < device.gates[0][0] * device.rating_a:
        return fuses.decaying_inrush(device.gates, device.rating_a, running_a, multiple, tau_s)
    step_s = tau_s / 20.0
    steps = [
        (running_a * (1.0 + (multiple - 1.0) * math.exp(-step / 20.0)), step_s)
        for step in range(100)
    ]
    return fuses.ride_through(device.gates, device.rating_a, steps)


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
    # A standard fuse's clearing I²t does not rise with the current; a maker's curve of a breaker
    # may, and counts as it is drawn.
    fastest_s = 0.0 if device.curve is None else fuses.FASTEST_CLEARING_S
    for current_a, seconds in fuses.clearing_corners(
        gates, device.rating_a, from_multiple, fault_a, fastest_s
    ):
        if math.isinf(seconds):
            return math.inf
        hottest = max(hottest, transient.temperature_after(body, start_c, current_a, seconds))
    return hottest


def short_peak(
    device: Device, wire: Candidate, around: Surroundings, largest_a: float
) -> float:
    """Hottest conductor in any short from twice the rating up [°C].

    A short may lie anywhere along the wire, also right behind its fuse, where far more flows than
    ``largest_a``, the strongest at its far end: a standard fuse is looked at up to where more
    current means no more I²t.
    """
    top = largest_a
    if device.curve is None:
        top = max(top, NEAR_END * device.rating_a)
    return band_peak(device, wire, around, PROVED_FROM, top)


def breaks(device: Device, fault_a: float) -> bool:
    """Whether a device is known to break that current."""
    return device.breaking_a is not None and fault_a <= device.breaking_a * SLACK


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
    peak = short_peak(device, wire, around, max(largest_a, fault_a))
    if peak > (wire.insulation.class_c + OVERLOAD_K) * SLACK:
        return "fuse"
    return None


def devices(
    least_a: float, ambient_c: float, *, family: str | None, rating_a: float | None,
    type_: str | None, highest_v: float, continuous_a: float, breaking_a: float | None,
    spec: FuseSpec | None = None, full_a: float = 0.0,
) -> list[Device]:
    """Fuses that carry the load, in order of rating, then of preference.

    A given rating or type is kept. ``breaking_a`` leaves out families that could not break that
    current; ``family`` is the panel's; ``spec`` may hold a maker's curve and breaking capacity.
    ``full_a``: all loads on; a device without gates, whose ride through a short duty cannot be
    proved, must carry that.
    """
    own = (None, None) if spec is None else (curve_gates(spec), spec.breaking_a)
    wanted = type_ or family
    families = [wanted] if wanted else [f for f in PREFERENCE if f != "F"]
    found: list[tuple[float, int, Device]] = []
    for name in families:
        known = fuse_tables.family(name)
        if highest_v > max(known.rated_v, default=math.inf) * SLACK:
            continue
        breaks = known.breaking_capacity_a if own[1] is None else own[1]
        if breaking_a is not None and (breaks or 0.0) < breaking_a:
            continue
        ratings = (rating_a,) if rating_a is not None else fuse_tables.ratings(name)
        if rating_a is not None and type_ is None and fuse_tables.ratings(name) and (
            rating_a not in fuse_tables.ratings(name)
        ):
            continue
        for rating in ratings:
            proved = bool(own[0] or fuse_tables.gates(name))
            if rating_a is None and rating * SLACK < max(least_a, 0.0 if proved else full_a):
                continue
            too_warm = known.max_continuous_a is not None and continuous_a > known.max_continuous_a
            if rating_a is None and wanted is None and too_warm:
                continue
            order = PREFERENCE.index(name) if name in PREFERENCE else len(PREFERENCE)
            found.append((rating, order, Device(name, rating, ambient_c, *own)))
    return [device for _, _, device in sorted(found, key=lambda item: item[:2])]
