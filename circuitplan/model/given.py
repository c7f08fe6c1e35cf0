"""What a plan says of single things: allowed words, one wire, fuse or duty, and the supply."""

from __future__ import annotations

from typing import Literal

from circuitplan.model.record import record

Gauge = Literal["metric", "awg", "sae", "iec"]
Return = Literal["wire", "chassis"]
Live = Literal["always", "ignition", "engine"]
Engine = Literal["off", "idle", "high idle", "cruise"]
Way = Literal["open", "conduit", "sheath"]
SwitchType = Literal["direct", "relay", "output", "signal"]
BatteryType = Literal["flooded", "agm", "gel", "lifepo4"]
ChargerKind = Literal["dc-dc", "voltage relay", "diode", "solar", "shore"]
FuseType = Literal["C", "E", "F", "SF30", "SF51", "bolt-in", "class T", "breaker", "output"]
Motor = Literal["reversing", "two-speed"]
LoadModel = Literal[
    "constant power",
    "constant current",
    "resistance",
    "filament",
    "solenoid",
    "motor",
    "torque motor",
    "fan motor",
]
MOTOR_POSITIONS: dict[str, tuple[str, str]] = {
    "reversing": ("up", "down"), "two-speed": ("high", "low"),
}
"""A motor's switch: its two positions beside off, first the one that its wiring is reckoned in."""
MOTOR_TERMINALS = {"up": ("33", "32"), "down": ("32", "33"), "high": ("33", "32"),
                   "low": ("33f", "32")}
"""Position -> the motor's terminals that are fed and on the way back, DIN 72552: 33 main terminal
and 32 return of a motor, which may change places; 33f its second, slower speed."""
DropClass = Literal["general", "intermittent motor", "critical"]


@record
class WireSpec:
    """What the plan says of one wire. ``unknown``: there, but nobody knows its size."""

    gauge: Gauge | None = None
    size: str | None = None
    unknown: bool = False
    outer_mm: float | None = None
    insulation_c: float | None = None
    insulation_material: str | None = None
    material: str | None = None  # copper, tinned copper, copper-clad aluminium
    colour: str | None = None  # IEC 60757 letters, base/tracer
    parallel: int = 1

    @property
    def given(self) -> bool:
        """Whether the plan fixes this wire (a size, or an existing wire of unknown size)."""
        return self.size is not None or self.unknown


@record
class FuseCurve:
    """A maker's curve: points (multiple of the rating, melts no sooner [s], cleared by [s])."""

    file: str
    sha256: str
    points: tuple[tuple[float, float, float | None], ...]


@record
class FuseSpec:
    """A protective device the plan gives; ``none`` says there is deliberately none."""

    rating_a: float | None = None
    type: FuseType | None = None
    none: bool = False
    self_resetting: bool = False
    curve: FuseCurve | None = None
    breaking_a: float | None = None  # what it can break, by its maker


@record
class Duty:
    """Short-time running: ``on_s`` seconds in every ``period_s`` seconds."""

    on_s: float
    period_s: float


@record
class Battery:
    """``name`` is "battery" for the one that starts the engine."""

    name: str
    type: BatteryType | None = None
    capacity_ah: float | None = None
    cranking_a: float | None = None  # cold cranking, -18 degC
    place: str | None = None
    resistance_ohm: float | None = None
    short_circuit_a: float | None = None
    trip_a: float | None = None
    where: str = ""
    health: float | None = None  # measured share of its new capacity, 0..1


@record
class Charger:
    name: str
    kind: ChargerKind
    source: str | None  # a battery, or None for solar and shore
    target: str
    output_a: float | None = None
    place: str | None = None
    length_m: float | None = None
    wire: WireSpec = WireSpec()
    fuse: FuseSpec | None = None
    where: str = ""


@record
class Alternator:
    """Speeds are those of the alternator's shaft, in r/min; the label's two points by ISO 8854."""

    rated_a: float
    idle_a: float | None = None
    hot: bool | None = None
    control: str | None = None  # "engine computer" or "regulator"
    idle_rpm: float | None = None
    high_idle_rpm: float | None = None
    cruise_rpm: float | None = None
    label_idle_rpm: float | None = None  # speed at which idle_a was measured
    label_rated_rpm: float | None = None
    where: str = ""
    curve: tuple[tuple[float, float], ...] = ()  # its maker's (shaft r/min, ampere), rising
    ratio: float | None = None  # shaft speed over engine speed
    engine_idle_rpm: float | None = None  # engine speeds, turned into shaft speeds by the ratio
    engine_high_idle_rpm: float | None = None
    engine_cruise_rpm: float | None = None


@record
class Supply:
    batteries: tuple[Battery, ...] = ()
    chargers: tuple[Charger, ...] = ()
    alternator: Alternator | None = None
    vehicle_load_a: tuple[tuple[str, float], ...] = ()  # (engine state or "parked", ampere)
    starter_a: float | None = None
    idle_stop: bool = False
    battery_sensor: bool = False
    high_v: float | None = None  # highest charging volts, if known
    where: str = ""
    second_alternator: Alternator | None = None


@record
class ConnectorSpec:
    """A connector as the plan gives it; see ``design.connecting`` for what is not given.

    ``rows``: how many, or the cavities' numbers as seen from the wire side, "2 1 / 4 3".
    """

    kind: str | None = None  # of an open standard, by the table of connectors
    ways: int | None = None
    rows: str | None = None
    contact: str | None = None  # by the width of its blade, by the table of tabs
    rating_a: float | None = None  # of each contact
    rated_at_c: float | None = None  # surroundings up to which the rating holds
    class_c: float | None = None  # hottest that its parts may get
    least_mm2: float | None = None  # wire that the contacts take
    most_mm2: float | None = None
    feed: str | None = None  # cavity of the positive
    back: str | None = None  # of the negative; "none": it goes past the connector
    sealed: bool | None = None
