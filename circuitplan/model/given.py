"""What a plan says of single things: words that are allowed, one wire, one fuse, one duty."""

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
