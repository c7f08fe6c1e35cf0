"""The undecided wiring: stretches of wire, circuits and panels, before sizes are chosen."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from circuitplan.design.load import Load
from circuitplan.design.ways import Route
from circuitplan.library.insulation import Insulation
from circuitplan.model.plan import FuseSpec, Panel, SharedCircuit, Switch, WireSpec
from circuitplan.model.record import record

Kind = Literal[
    "feeder", "feeder return", "trunk", "branch", "tail", "live back", "return", "earth lead",
    "control",
]


Style = Literal["plain", "direct", "relayed", "output", "control", "link"]


@record
class End:
    """What a wire ends in, how hot it is there, and the class of that part [°C]."""

    part: str  # terminal or switch
    ambient_c: float
    limit_c: float


@dataclass(slots=True)
class Segment:
    """One stretch of wire with the contacts in series with it.

    ``loads`` are the indices of the loads whose current it carries; ``contacts`` name rows of the
    contact table besides crimps, which follow from the size chosen. ``live back`` is the other wire
    of a reversing motor: the way back in one direction, fed in the other. ``aside`` stretches carry
    the current in place of another one, never in series with it.
    """

    key: str
    kind: Kind
    start: str
    end: str
    route: Route
    spec: WireSpec
    insulation: Insulation
    material: str
    gauge: str
    loads: tuple[int, ...]
    pieces: int = 1
    crimps: int = 2
    contacts: tuple[str, ...] = ()
    bundle_apart: str | None = None  # a power cable tied apart from the loom
    ends: tuple[End, ...] = ()
    shelf: frozenset[str] = frozenset()  # the sizes that may be chosen; empty: all of the gauge
    position: str = ""  # of a motor's switch, in which it feeds this wire
    aside: bool = False
    takes_mm2: tuple[float, float] | None = None  # what the contacts of its connector are made for

    @property
    def is_return(self) -> bool:
        return self.kind in ("return", "feeder return", "earth lead")

    def bundles(self) -> tuple[str, ...]:
        if self.bundle_apart is not None:
            return (self.bundle_apart,)
        return tuple(s.bundle for s in self.route.stretches)


@dataclass(slots=True)
class Slot:
    """A place for a protective device in front of a set of segments."""

    key: str
    spec: FuseSpec | None
    position: str
    place: str | None
    segments: list[Segment]  # those it protects
    loads: tuple[int, ...]
    distance_m: float = 0.0  # unprotected wire before it
    sheathed: bool = False
    first: bool = False  # nearest device to a source
    family: str | None = None
    optional: bool = False  # an inline fuse that is fitted only if the branch needs it
    above: Slot | None = None
    short_circuit_only: bool = False
    behind_vehicle_fuse: bool = False  # a tap of a circuit that the vehicle itself protects


@dataclass(slots=True)
class CircuitDraft:
    key: str
    label: str
    node: str  # panel or battery that feeds it
    style: Style
    loads: tuple[int, ...]
    number: int | None
    switches: tuple[Switch, ...]
    live: str
    slot: Slot | None = None
    inline: list[Slot] = field(default_factory=list)
    segments: list[Segment] = field(default_factory=list)
    feeds: dict[int, list[Segment]] = field(default_factory=dict)  # load -> its own way there
    returns: dict[int, list[Segment]] = field(default_factory=dict)
    chassis: dict[int, bool] = field(default_factory=dict)
    coil_switches: tuple[Switch, ...] = ()
    relay: bool = False
    shared: SharedCircuit | None = None  # what the accessories of its number share
    control_a: float = 0.0
    control_distance_m: float = 0.0
    works: tuple[str, ...] = ()  # control circuits: what they work
    motor: str | None = None  # reversing, or two-speed
    positions: tuple[str, ...] = ()  # of its motor's switch beside off


@dataclass(slots=True)
class Node:
    """A battery or a panel: something circuits hang on."""

    name: str
    battery: str  # the root of its supply
    parent: Node | None
    panel: Panel | None
    place: str | None
    depth: int
    feeder: list[Segment] = field(default_factory=list)  # its own feed (and return) wires
    slot: Slot | None = None
    back: str = "wire"
    assumed: bool = False
    converter: bool = False
    loads: tuple[int, ...] = ()  # everything behind it, converters' own draw included
    live: str = "always"

    def above(self) -> list[Node]:
        """The nodes whose feeders carry this node's own draw: its parent's chain."""
        return self.parent.chain() if self.parent is not None else []

    def chain(self) -> list[Node]:
        """This node and those above it up to the battery or converter that feeds it."""
        found: list[Node] = []
        here: Node | None = self
        while here is not None:
            found.append(here)
            if here.converter or here.panel is None:
                break
            here = here.parent
        return found


@dataclass(slots=True)
class Wiring:
    """All of a plan's wiring, undecided. ``loads`` includes converters and chargers as loads."""

    loads: list[Load]
    nodes: dict[str, Node]
    circuits: list[CircuitDraft]
    converter_load: dict[str, int]  # converter panel -> index of the load it is to its feeder
    root: dict[int, str]  # load -> node whose terminals feed its network (battery or converter)

    def segments(self) -> list[Segment]:
        found: list[Segment] = []
        for node in self.nodes.values():
            found.extend(node.feeder)
        for circuit in self.circuits:
            found.extend(circuit.segments)
        return found
