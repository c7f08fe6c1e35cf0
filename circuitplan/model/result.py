"""What the planner answers: the frozen form of ``--json`` (format ``circuitplan result 1``).

SI units, the unit in the name; unknown is ``None``. Field order here is key order there. Circuits
stand in ``circuit``, the supply in ``supplied``; all names can be had from here.
"""

from __future__ import annotations

from typing import Literal

from circuitplan.model.circuit import (
    AccessoryResult,
    Circuit,
    Coordination,
    Cure,
    Drop,
    DropParts,
    Fault,
    Fuse,
    Heating,
    LimitedBy,
    Overload,
    Relay,
    Role,
    Run,
    Sag,
    TestLine,
    WarmLeg,
    WorkingStep,
)
from circuitplan.model.connection import Cavity, Connector
from circuitplan.model.plan import DrawnIn
from circuitplan.model.record import record
from circuitplan.model.supplied import (
    AlternatorPoint,
    DayPoint,
    DayResult,
    EventResult,
    LeastVolts,
    ScenarioResult,
    SupplyResult,
)

__all__ = [
    "FORMAT",
    "AccessoryResult",
    "AlternatorPoint",
    "Answer",
    "Assumption",
    "Cavity",
    "Circuit",
    "Connector",
    "Coordination",
    "Cure",
    "DayPoint",
    "DayResult",
    "DrawnIn",
    "Drop",
    "DropParts",
    "EventResult",
    "Fault",
    "Finding",
    "Fuse",
    "Heating",
    "LeastVolts",
    "LimitedBy",
    "Overload",
    "PanelResult",
    "Part",
    "PlanHead",
    "Relay",
    "Result",
    "Role",
    "Run",
    "Sag",
    "ScenarioResult",
    "SignalWord",
    "SupplyResult",
    "SwitchResult",
    "TestLine",
    "WarmLeg",
    "WorkingStep",
]

FORMAT = "circuitplan result 1"

Answer = Literal["ok", "not ok", "cannot say"]
SignalWord = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]


@record
class PlanHead:
    title: str | None
    revision: str | None
    nominal_v: float
    practice: str
    job: dict[str, str | None]
    sha256: str
    files: tuple[DrawnIn, ...] = ()  # what the plan draws in: part of its fingerprint


@record
class SwitchResult:
    id: str
    label: str
    type: str
    rating_a: float | None
    usable_a: float | None
    current_a: float
    spare_a: float | None
    needed_a: float  # sum of current x class factor
    factors: tuple[tuple[str, float, float], ...]  # (accessory or coil, ampere, factor)
    works: tuple[str, ...]  # accessories
    signal: str | None
    live: str
    place: str | None


@record
class PanelResult:
    id: str
    place: str | None
    fed_from: str
    rating_a: float | None
    usable_a: float | None
    current_a: float
    spare_a: float | None
    ways: int | None
    free_ways: int | None
    output_v: float | None
    feeder: tuple[Run, ...]
    fuse: Fuse | None
    fault: Fault | None
    fuse_reason: str | None
    assumed: bool
    live: str
    heating: tuple[Heating, ...] = ()
    coordination: tuple[Coordination, ...] = ()
    warm: tuple[WarmLeg, ...] = ()
    cures: tuple[Cure, ...] | None = None
    connector: Connector | None = None  # at its end of the feeder


@record
class Part:
    what: str
    size: str
    colour: str | None
    quantity: int
    length_m: float | None


@record
class Finding:
    rule: str
    signal_word: SignalWord
    fails: bool
    subject: str
    found: float | str | None
    limit: float | str | None
    unit: str | None
    message: str
    remedy: str
    change: str | None  # words that fit ``try --change``
    source: str
    accepted_by: str | None = None
    circuit: str | None = None


@record
class Assumption:
    subject: str
    what: str
    value: str
    source: str
    status: str
    decides: tuple[str, ...] = ()


@record
class Result:
    answer: Answer
    because: str  # one sentence
    plan: PlanHead
    circuits: tuple[Circuit, ...]
    switches: tuple[SwitchResult, ...]
    panels: tuple[PanelResult, ...]
    supply: SupplyResult
    parts: tuple[Part, ...]
    findings: tuple[Finding, ...]
    assumptions: tuple[Assumption, ...]
    format: str = FORMAT
