"""Finding a fault with the fewest measurements, from the network itself.

Each likely fault changes the volts at points along the way of the current. A measurement tells the
faults apart by what it would read with each; the plan of measurements with the fewest at worst,
then on average, is found by trying every order.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache
from typing import Literal, TypeAlias

from circuitplan.design.bench import plugged
from circuitplan.design.bench.chain import Chain, Stretch
from circuitplan.model.record import record
from circuitplan.model.result import Circuit, Result

OPEN_OHM = 1e7
"""An open joint: a hand meter's own 10 MΩ is all that still closes the circuit."""
WEAK_SHARE = 0.3
"""A bad joint that is noticed takes about this share of the volts (judgement)."""
FULL, NONE = 0.9, 0.1
"""Shares of the source's volts that count as full and as none (judgement)."""

Reads = Literal["full", "part", "none"]
Symptom = Literal["dead", "weak"]
Best: TypeAlias = tuple[int, float, int | None]
"""Measurements at worst, their weighted sum over the faults, which measurement comes first."""


@record
class Element:
    """One thing in series; ``at`` names the point behind it, or is empty where none is in reach."""

    name: str
    ohm: float
    at: str
    likely: float  # weight against the others (judgement)
    load: bool = False


@record
class Way:
    """Elements from the source's positive to its negative; ``coil``: those of the relay's coil."""

    accessory: str
    circuit: int
    source_v: float
    main: tuple[Element, ...]
    contact: int | None  # index in ``main`` of the contact that the coil works
    coil: tuple[Element, ...] = ()


@record
class Fault:
    element: str
    symptom: Symptom
    on_coil: bool
    index: int
    likely: float


@record
class Point:
    """Where the meter's red lead goes; the black one stays on the source's negative."""

    at: str
    on_coil: bool
    index: int  # behind this element


@record
class Branch:
    """What one kind of reading means: the next step, or the faults that remain."""

    reads: Reads
    low_v: float
    high_v: float
    then: Step | None
    faults: tuple[str, ...]


@record
class Step:
    """One measurement: what a sound circuit reads there, and what each reading means."""

    point: Point
    good_v: float
    branches: tuple[Branch, ...]

    @property
    def depth(self) -> int:
        """Measurements at worst, this one included."""
        return 1 + max((b.then.depth for b in self.branches if b.then), default=0)


# likelihood against each other, by experience of the trade (judgement)
_LIKELY = {
    "fuse": 4.0, "switch": 2.0, "relay": 2.0, "wire": 1.0, "earth": 4.0, "load": 3.0, "coil": 1.0,
}


def way_of(chain: Chain, result: Result) -> Way:
    """The way of one accessory, and of the coil that works it."""
    circuit = next(c for c in result.circuits if c.number == chain.circuit)
    volts = chain.source_v or 12.6 * chain.nominal_v / 12.0
    current_a = max(0.5 * sum(chain.current_band(volts)), 1e-3)
    main, contact, plugs = list[Element](), None, plugged.ends(plugged.connectors(result))
    for stretch in chain.plus:
        for element in _through(_plus(stretch, circuit, result, chain), stretch, plugs):
            if element.name.startswith("relay "):
                contact = len(main)
            main.append(element)
    main[-1] = replace(main[-1], at=f"{chain.accessory}, positive")
    main.append(Element(chain.accessory, volts / current_a, f"{chain.accessory}, negative",
                        _LIKELY["load"], load=True))
    for stretch in chain.minus:
        earth = "earth point" in stretch.end
        name = f"wire {stretch.wire}" + (" or its earth point" if earth else " or its joints")
        likely = _LIKELY["earth" if earth else "wire"] + 1.0
        e = Element(name, stretch.hot_ohm + stretch.contact_ohm, _end(stretch), likely)
        main += _through([e], stretch, plugs)
    if chain.body_ohm > 0.0:
        main.append(Element("the body's strap to the battery", chain.body_ohm, "", 1.0))
    return Way(chain.accessory, chain.circuit, volts, tuple(main), contact,
               _coil(circuit, result, volts) if contact is not None else ())


def _through(found: list[Element], s: Stretch, plugs: plugged.Plugs) -> list[Element]:
    """The elements of a stretch, the connector that ends (or begins) its wire by itself."""
    e, plug = found.pop(), plugs.get((s.wire, s.start if s.back else s.end))
    parts = plugged.split((e.name, e.ohm, e.at, e.likely), s.wire, s.back, plug)
    return [*found, *(Element(*part) for part in parts)]


def _end(stretch: Stretch) -> str:
    if stretch.end.startswith("splice"):
        return ""
    return f"{stretch.end}, negative" if "earth" not in stretch.end else "bare body near the earth"


def _plus(
    stretch: Stretch, circuit: Circuit, result: Result, chain: Chain
) -> list[Element]:
    found = []
    share = stretch.contact_ohm / 3.0
    if stretch.fuse:
        found.append(Element(f"fuse {stretch.fuse}", share, f"fuse {stretch.fuse}, far side",
                             _LIKELY["fuse"]))
    if stretch.relay:
        found.append(Element(f"relay {stretch.relay}", share, f"relay {stretch.relay}, 87",
                             _LIKELY["relay"]))
    wire = Element(f"wire {stretch.wire} or its joints", stretch.hot_ohm + share,
                   "" if stretch.end.startswith("splice") else stretch.end, _LIKELY["wire"])
    direct = [s.id for s in result.switches if s.type == "direct" and s.id in circuit.switches]
    if direct and not stretch.feeder and stretch.end == direct[0]:
        lead = Element(wire.name, wire.ohm, f"switch {direct[0]}, in", wire.likely)
        return [*found, lead, Element(f"switch {direct[0]}", share, f"switch {direct[0]}, out",
                                      _LIKELY["switch"])]
    passes = direct and not stretch.feeder and chain.style == "direct"
    if passes and not any(s.end == direct[0] for s in chain.plus):
        found.append(Element(f"switch {direct[0]}", share, f"switch {direct[0]}, out",
                             _LIKELY["switch"]))
    return [*found, wire]


def _coil(circuit: Circuit, result: Result, volts: float) -> tuple[Element, ...]:
    """The first switch's way to the coil: its fuse, wires, switch, coil and the coil's negative."""
    relay = circuit.relays[0] if circuit.relays else None
    mine = set(circuit.switches)
    control = next(
        (c for c in result.circuits if not c.accessories and mine & set(c.switches)), None
    )
    if relay is None or control is None:
        return ()
    found = [
        Element(f"fuse {f.id}", 0.01, f"fuse {f.id}, far side", _LIKELY["fuse"])
        for f in control.fuses
    ]
    for number, run in enumerate(control.runs):
        ohm = run.resistance_20c_ohm_per_m * run.length_m
        last = number == len(control.runs) - 1
        at = f"relay {relay.id}, 86" if last else f"switch {run.to}, in"
        found.append(Element(f"wire {run.id} or its joints", ohm, at, _LIKELY["wire"]))
        if not last:
            found.append(Element(f"switch {run.to}", 0.02, f"switch {run.to}, out",
                                 _LIKELY["switch"]))
    coil_ohm = volts / relay.coil_a if relay.coil_a > 0.0 else 80.0
    found.append(Element(f"coil of {relay.id}", coil_ohm, f"relay {relay.id}, 85",
                         _LIKELY["coil"], load=True))
    found.append(Element(f"negative of the coil of {relay.id}", 0.02, "", _LIKELY["wire"]))
    return tuple(found)


def faults_of(way: Way, symptom: Symptom) -> tuple[Fault, ...]:
    """An open joint in each element if dead, a bad one in each but the loads if weak."""
    found = []
    for on_coil, elements in ((False, way.main), (True, way.coil)):
        for index, e in enumerate(elements):
            if symptom == "weak" and (e.load or on_coil):
                continue
            found.append(Fault(e.name, symptom, on_coil, index, e.likely))
    return tuple(found)


def points_of(way: Way) -> tuple[Point, ...]:
    """Every point in reach, the source's own posts first."""
    found = [Point("the source's positive post", False, -1)]
    for on_coil, elements in ((False, way.main), (True, way.coil)):
        found += [Point(e.at, on_coil, i) for i, e in enumerate(elements) if e.at]
    return tuple(p for p in found if not _is_reference(p, way))


def _is_reference(point: Point, way: Way) -> bool:
    """The black lead's own place tells nothing."""
    return not point.on_coil and point.index == len(way.main) - 1


def volts_at(way: Way, point: Point, fault: Fault | None) -> float:
    """Volts between a point and the source's negative, everything switched on [V]."""
    elements = way.coil if point.on_coil else way.main
    ohm = [e.ohm for e in elements]
    load_ohm = sum(e.ohm for e in elements if e.load)
    if fault is not None:
        if fault.on_coil == point.on_coil:
            ohm[fault.index] += OPEN_OHM if fault.symptom == "dead" else (
                load_ohm * WEAK_SHARE / (1.0 - WEAK_SHARE)
            )
        if fault.on_coil and not point.on_coil and way.contact is not None:
            ohm[way.contact] += OPEN_OHM
    behind = sum(ohm[point.index + 1 :])
    return way.source_v * behind / sum(ohm)


def reads(volts: float, source_v: float) -> Reads:
    """Full, part or none of the source's volts."""
    if volts >= FULL * source_v:
        return "full"
    return "none" if volts <= NONE * source_v else "part"


def shortest(way: Way, symptom: Symptom) -> Step | None:
    """The measurements that isolate each fault: fewest at worst, then fewest on average.

    Faults that no point in reach tells apart stay together at a leaf. None: there is nothing to
    tell apart. Every order of measurements is tried (dynamic programming over sets of faults).
    """
    faults, points = faults_of(way, symptom), points_of(way)
    table = [
        [reads(volts_at(way, p, f), way.source_v) for f in faults] for p in points
    ]
    best = _plan(tuple(tuple(row) for row in table), tuple(f.likely for f in faults))

    def build(left: frozenset[int]) -> Step | None:
        chosen = best(left)[2]
        if chosen is None:
            return None
        branches = []
        kinds: tuple[Reads, ...] = ("full", "part", "none")
        for kind in kinds:
            part = frozenset(i for i in left if table[chosen][i] == kind)
            if not part:
                continue
            volts = [volts_at(way, points[chosen], faults[i]) for i in part]
            then = build(part)
            names = () if then else tuple(dict.fromkeys(faults[i].element for i in sorted(part)))
            branches.append(Branch(kind, min(volts), max(volts), then, names))
        return Step(points[chosen], volts_at(way, points[chosen], None), tuple(branches))

    return build(frozenset(range(len(faults))))


def _plan(
    table: Sequence[Sequence[Reads]], likely: Sequence[float]
) -> Callable[[frozenset[int]], Best]:
    @cache
    def best(left: frozenset[int]) -> Best:
        found: Best = (0, 0.0, None)
        first = True
        if len(left) < 2:
            return found
        for row in range(len(table)):
            parts: dict[Reads, set[int]] = {}
            for i in left:
                parts.setdefault(table[row][i], set()).add(i)
            if len(parts) < 2:
                continue
            below = [best(frozenset(p)) for p in parts.values()]
            here = (
                1 + max(b[0] for b in below),
                sum(likely[i] for i in left) + sum(b[1] for b in below),
                row,
            )
            if first or here[:2] < found[:2]:
                found, first = here, False
        return found

    return best
