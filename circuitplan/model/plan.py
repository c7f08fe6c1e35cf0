"""What a plan file says, in SI units.

Every optional value is ``None`` when the plan does not give it, so that the design can tell a
given value (kept and checked) from a missing one (chosen or assumed, and listed as such).
Names carry their unit: ``_a`` ampere, ``_v`` volt, ``_w`` watt, ``_m`` metre, ``_s`` second,
``_c`` degree Celsius, ``_ah`` ampere-hour, ``_ohm`` ohm.
"""

from __future__ import annotations

from circuitplan.model.given import (
    Alternator,
    Battery,
    BatteryType,
    Charger,
    ChargerKind,
    ConnectorSpec,
    DropClass,
    Duty,
    Engine,
    FuseCurve,
    FuseSpec,
    FuseType,
    Gauge,
    Live,
    LoadModel,
    Motor,
    Return,
    Supply,
    SwitchType,
    Way,
    WireSpec,
)
from circuitplan.model.record import record

__all__ = [
    "Accepted",
    "Accessory",
    "Alternator",
    "Battery",
    "BatteryType",
    "Charger",
    "ChargerKind",
    "ConnectorSpec",
    "Day",
    "DropClass",
    "Duty",
    "Engine",
    "FuseCurve",
    "FuseSpec",
    "FuseType",
    "Gauge",
    "Job",
    "Leg",
    "Live",
    "LoadModel",
    "Motor",
    "Panel",
    "Place",
    "Plan",
    "Return",
    "Running",
    "Scenario",
    "SharedCircuit",
    "Supply",
    "Switch",
    "SwitchType",
    "Way",
    "WireSpec",
]


@record
class DrawnIn:
    """A file that a plan draws in (a maker's curve), by its name beside the plan."""

    name: str
    sha256: str


@record
class Job:
    number: str | None = None
    owner: str | None = None
    vehicle: str | None = None
    by: str | None = None
    approved_by: str | None = None
    date: str | None = None  # ISO 8601


@record
class Place:
    name: str
    ambient_c: float | None = None
    insulation_c: float | None = None
    insulation_material: str | None = None
    where: str = ""


@record
class Leg:
    """One way a loom takes between two places."""

    a: str
    b: str
    length_m: float
    way: Way = "open"
    joints: int = 0  # body joints bridged by straps, for chassis returns
    where: str = ""


@record
class Panel:
    """Whatever feeds others: fuse panel, busbar, socket, trailer plug, converter."""

    name: str
    place: str | None = None
    fed_from: str | None = None  # None: the battery, assumed
    length_m: float | None = None
    wire: WireSpec = WireSpec()
    fuse: FuseSpec | None = None
    ways: int | None = None
    rating_a: float | None = None
    output_v: float | None = None  # a converter's
    back: Return | None = None
    live: Live | None = None
    fuses: FuseType | None = None  # the family of its branch fuses
    cut_off_v: float | None = None  # low-voltage disconnect
    reconnect_v: float | None = None
    connector: ConnectorSpec | None = None  # at its end of the feeder
    where: str = ""


@record
class Switch:
    name: str
    label: str | None = None
    type: SwitchType = "direct"
    type_follows: bool = False  # works relays because it is one of several for what it works
    rating_a: float | None = None
    motor_a: float | None = None
    lamp_a: float | None = None
    contact_v: float | None = None
    place: str | None = None
    fed_from: str | None = None  # panel that feeds it; None: the default panel
    fuse: FuseSpec | None = None
    lead: WireSpec = WireSpec()
    lead_m: float | None = None
    split: str | None = None  # place up to which what it works shares one wire
    live: Live | None = None
    signal: str | None = None  # which vehicle signal works it
    momentary: bool = False
    solid_state: bool = False
    in_negative: bool = False
    where: str = ""


@record
class SharedCircuit:
    """What the accessories of one circuit number share: one wire from the panel to ``split``."""

    name: str  # the number
    split: str = ""  # place up to which they share it
    wire: WireSpec = WireSpec()
    fuse: FuseSpec | None = None
    where: str = ""

    @property
    def number(self) -> int:
        return int(self.name)


@record
class Accessory:
    name: str
    number: int | None = None
    kind: str | None = None  # as the plan words it
    quantity: int = 1
    power_w: float | None = None  # each
    current_a: float | None = None  # each
    rated_v: float | None = None
    peak_a: float | None = None
    inrush_a: float | None = None
    load: LoadModel | None = None
    place: str | None = None
    length_m: float | None = None
    tail_m: float | None = None
    back: Return | None = None  # ``return:`` in the file
    fed_from: str | None = None  # panel or battery
    switches: tuple[str, ...] = ()
    needs: tuple[str, ...] = ()
    never_with: tuple[str, ...] = ()
    drop_percent: float | None = None
    drop_v: float | None = None
    min_v: float | None = None
    live: Live | None = None
    parked_a: float | None = None
    duty: Duty | None = None
    dimmed: float | None = None  # share of time on when pulsed, 0..1
    fuse: FuseSpec | None = None
    isolator_a: float | None = None
    wire: WireSpec = WireSpec()
    critical: bool | None = None
    priority: int | None = None
    momentary: bool = False
    cut_out: bool | None = None
    earth: str | None = None
    contact_v: float | None = None
    where: str = ""
    pull_n: float | None = None  # a winch: line pull it is planned for, first rope layer
    rated_pull_n: float | None = None  # pull at its peak (or its stated) current
    no_load_a: float | None = None
    motor: Motor | None = None  # worked both ways from one switch with a middle position
    low_speed_a: float | None = None  # each, at the lower of two speeds
    connector: ConnectorSpec | None = None  # at its end of the wires


@record
class Running:
    """How long one accessory runs in a scenario: a share of the time, or seconds."""

    name: str
    share: float | None = None
    seconds: float | None = None


@record
class Scenario:
    name: str
    engine: Engine = "off"
    duration_s: float | None = None
    running: tuple[Running, ...] = ()
    where: str = ""
    sun: float | None = None  # share of the solar chargers' output, 0..1; None: not credited
    shore: bool = False  # shore charger plugged in


@record
class Day:
    name: str
    order: tuple[str, ...] = ()
    charge: float | None = None  # 0..1 at the start
    temperature_c: float | None = None
    where: str = ""


@record
class Accepted:
    rule: str
    subject: str
    by: str
    reason: str
    where: str = ""


@record
class Plan:
    nominal_v: float = 12.0
    nominal_given: bool = True
    title: str | None = None
    revision: str | None = None
    job: Job = Job()
    practice: str = "general"
    gauge: Gauge = "metric"
    wire: WireSpec = WireSpec()  # plan-wide insulation and material
    chassis_ohm: float | None = None
    supply: Supply = Supply()
    supply_given: bool = True
    places: tuple[Place, ...] = ()
    legs: tuple[Leg, ...] = ()
    panels: tuple[Panel, ...] = ()
    switches: tuple[Switch, ...] = ()
    circuits: tuple[SharedCircuit, ...] = ()
    accessories: tuple[Accessory, ...] = ()
    scenarios: tuple[Scenario, ...] = ()
    days: tuple[Day, ...] = ()
    accepted: tuple[Accepted, ...] = ()
    stock: tuple[tuple[str, str], ...] = ()  # (gauge, size) on the shelf; empty: all sizes
    unused: tuple[str, ...] = ()  # keys read and kept, but not yet used: said so in the result
    file: str = ""
    sha256: str = ""
    price_list: str | None = None  # a file beside the plan
    drawn_in: tuple[DrawnIn, ...] = ()  # files beside the plan that it names, by name
