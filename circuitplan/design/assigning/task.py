"""What is to be decided, in whole numbers: milliamperes and grams, rounded to the safe side.

Whole numbers make every comparison exact, so that two solvers cannot differ by a rounding.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

Mode = Literal["plain", "carry", "coil", "output"]
"""plain: on with its panel. carry: through the switch's contact. coil: the switch works a relay.
output: through a switched and fused output of the vehicle."""

PairKey = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Item:
    """One accessory, or several that share a circuit number and so a fuse and a switch.

    ``carried_ma``: share of a switch's rating that it takes, class factor counted, by switch.
    ``coil_ma``: its relay's coil, cold, at high volts; None: no relay of the table bears it.
    ``copper_g``: copper from panel (or "") past the contact that carries it (or "") to it,
    estimated.
    """

    name: str
    members: tuple[str, ...]
    family: str
    place: str
    carried_ma: Mapping[str, int]
    current_ma: int
    thermal_ma: int
    coil_ma: int | None
    panels: tuple[str, ...]  # where it may hang; "" is a battery, without ways
    adds_relay: bool = True  # False: it has a contactor of its own
    held: Literal["must", "usual", ""] = ""
    stays: bool = False  # no use on a control that springs back
    live: str = ""  # always, ignition, engine; "" does not matter
    fixed_switch: str = ""  # the plan's own choice
    fixed_panel: bool = False
    may_be_plain: bool = False
    for_good: bool = False  # no switch may cut it
    only_on: tuple[str, ...] = ()  # it needs one of these switches
    never_on: tuple[str, ...] = ()  # switches that work what it is never on with
    weight: int = 1  # how near to the driver it belongs
    copper_g: Mapping[PairKey, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Contact:
    """A switch. ``already_ma``: coils that are settled; ``panel``: what feeds it, "" if free.

    ``fuse_ma``: current that the fuse of a vehicle's output carries for good, class factors not
    counted; None where there is none.
    """

    name: str
    type: Literal["direct", "relay", "output"]
    rating_ma: int | None
    live: str = ""
    momentary: bool = False
    panel: str = ""
    already_ma: int = 0
    control_panel: str = ""  # where the control circuit of those settled coils has its way
    reach: int = 1  # place in the row, 1 is the first
    taken: bool = False  # works something that is settled
    fuse_ma: int | None = None


@dataclass(frozen=True, slots=True)
class Feeder:
    """A panel with what the settled circuits leave of it; None: the plan does not say."""

    name: str
    ways: int | None = None
    room_ma: int | None = None
    live: str = ""
    above: tuple[str, ...] = ()  # panels whose feeders carry it too


@dataclass(frozen=True, slots=True)
class Task:
    """``apart``: never on one switch. ``unlike``: neither, since the first moves or locks
    something. ``together``: one switch. ``follows``: the first only together with the second."""

    items: tuple[Item, ...]
    switches: tuple[Contact, ...]
    panels: tuple[Feeder, ...]
    apart: tuple[PairKey, ...] = ()
    unlike: tuple[PairKey, ...] = ()
    together: tuple[PairKey, ...] = ()
    follows: tuple[PairKey, ...] = ()
    spare_ma: int = 0  # to be left on every switch that carries
    spare_ways: int = 0  # to be left on every panel

    def panel(self, name: str) -> Feeder | None:
        return next((p for p in self.panels if p.name == name), None)


@dataclass(frozen=True, slots=True)
class Choice:
    """What one item gets."""

    item: str
    switch: str  # "" is none
    mode: Mode
    panel: str
