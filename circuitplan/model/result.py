"""What the planner answers: the frozen form of ``--json`` (format ``circuitplan result 1``).

SI units, the unit in the name; unknown is ``None``. Field order here is key order there.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

FORMAT = "circuitplan result 1"

Answer = Literal["ok", "not ok", "cannot say"]
SignalWord = Literal["DANGER", "WARNING", "CAUTION", "NOTICE"]
Role = Literal["feed", "return", "control"]
LimitedBy = Literal["drop", "ampacity", "fuse", "fault", "minimum", "fixed"]


@dataclass(frozen=True, slots=True)
class PlanHead:
    title: str | None
    revision: str | None
    nominal_v: float
    practice: str
    job: dict[str, str | None]
    sha256: str


@dataclass(frozen=True, slots=True)
class AccessoryResult:
    name: str
    kind: str | None  # the kind found in the table, or None
    quantity: int
    current_a: float  # largest steady, all pieces
    average_a: float  # typical current x share while in use
    parked_a: float
    low_v: float  # guaranteed volts at its terminals, low supply
    solved_v: float  # network solution with everything allowed on, low supply
    min_v: float | None
    load: str
    drop_class: str
    contact_class: str
    letter: str  # IEC 81346-2 class letter
    place: str | None
    live: str
    continuous: bool
    on_s: float | None
    period_s: float | None
    peak_a: float | None
    inrush_a: float | None
    inrush_known: bool
    needs: tuple[str, ...]
    never_with: tuple[str, ...]
    back: str  # wire or chassis


@dataclass(frozen=True, slots=True)
class Fuse:
    id: str  # F1, F2 ... by panel and way; inline ones too
    protects: str  # run id
    rating_a: float
    type: str
    colour: str | None
    position: str  # where it sits, in words: "panel, way 3", "inline at S1", "battery"
    ambient_c: float
    min_a: float  # least rating for the load, f and ambient included
    max_a: float | None  # least ampacity behind it
    limited_by: str
    breaking_capacity_a: float | None
    prospective_a: float  # largest fault current at this fuse
    behind_sufficient: bool  # a fuse nearer the source can break what this one may see
    first_after_source: bool
    distance_m: float  # unprotected wire before it
    sheathed: bool
    rides_through: float | None  # sum of dt/t_melt of the start, 0.7 allowed
    short_circuit_only: bool
    given: bool
    why: str  # what ruled the choice, in words


@dataclass(frozen=True, slots=True)
class Relay:
    id: str  # Q1 ... carries the load; K1 ... coil only
    type: str
    contact_a: float
    needed_a: float  # sum of current x class factor
    coil_a: float
    cold_coil_a: float
    pick_up_hot_v: float
    coil_low_v: float  # least volts at the coil
    terminals: str
    position: str
    switches: tuple[str, ...]  # any of these works it


@dataclass(frozen=True, slots=True)
class Run:
    id: str
    role: Role
    from_: str  # written "from" in JSON
    to: str
    colour: str
    size: str  # label with unit: "2.5 mm²", "14 AWG"
    area_mm2: float
    gauge: str
    material: str
    insulation: str
    insulation_c: float
    length_m: float
    loop_m: float
    pieces: int  # equal wires of this kind in parallel paths (tails)
    current_a: float
    thermal_a: float  # what heats it: rms over the duty cycle for short-time loads
    resistance_20c_ohm_per_m: float
    conductor_c: float
    peak_c: float | None  # short-time: hottest moment of the cycle
    ambient_c: float
    ambient_assumed: bool
    ampacity_a: float
    ampacity_source: str
    published_a: float | None  # before ambient, bundle and loom tube
    first_principles_a: float | None  # raw, at its ambient
    bundle_factor: float
    bundle_wires: int
    tube_factor: float
    loading: float
    limited_by: LimitedBy
    next_smaller: str | None  # what the next size down would break, in words
    given: bool
    unknown: bool  # an existing wire whose size nobody knows
    places: tuple[str, ...]
    accessories: tuple[str, ...]
    protected_by: str | None  # fuse id
    outer_mm: float
    od_source: str
    terminal: str = "terminal"  # the part at an end that is nearest to its class, or "switch"
    terminal_c: float = 20.0  # how hot the wire is there
    terminal_class_c: float = 105.0


@dataclass(frozen=True, slots=True)
class DropParts:
    feeder_v: float
    contacts_v: float
    run_v: float
    return_v: float


@dataclass(frozen=True, slots=True)
class Drop:
    accessory: str
    total_v: float
    percent: float
    limit_percent: float
    accessory_v: float
    conductor_percent: float
    conductor_limit_percent: float | None
    state: str  # which supply end ruled: "low" or "high"
    supply_v: float
    parts: DropParts


@dataclass(frozen=True, slots=True)
class Fault:
    current_a: float  # bolted at the far end: aged cold source, hot wire, worst contacts
    clears_s: float | None
    allowed_s: float
    prospective_max_a: float
    run: str  # the run whose far end it is
    adiabatic_k: float
    overload_proved: bool  # 1.35 to 2 times the rating within class + 50 K
    band_peak_c: float | None  # hottest from 2 In to the prospective fault
    selective: str  # "proved", "not proved", "single" (no fuse above)


@dataclass(frozen=True, slots=True)
class TestLine:
    supply_v: float
    low_a: float
    high_a: float
    load_v: float
    read_a: float | None = None
    passed: bool | None = None


@dataclass(frozen=True, slots=True)
class WorkingStep:
    """One line of the working: what, formula with numbers put in, result, source."""

    what: str
    formula: str
    result: str
    source: str


@dataclass(frozen=True, slots=True)
class Circuit:
    id: str
    number: int
    label: str
    switches: tuple[str, ...]
    panel: str  # panel, battery or output it hangs on
    source: str  # battery at its root
    live: str
    current_a: float
    peak_a: float | None
    inrush_a: float | None
    continuous: bool
    accessories: tuple[AccessoryResult, ...]
    fuses: tuple[Fuse, ...]
    fuse_reason: str | None  # why there is none
    isolator_a: float | None
    relays: tuple[Relay, ...]
    relay_reason: str | None  # why a relay was added, or could not be
    runs: tuple[Run, ...]
    drop: Drop | None
    drops: tuple[Drop, ...]  # one an accessory
    fault: Fault | None
    test: tuple[TestLine, ...]
    working: tuple[WorkingStep, ...]


@dataclass(frozen=True, slots=True)
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


@dataclass(frozen=True, slots=True)
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


@dataclass(frozen=True, slots=True)
class ScenarioResult:
    name: str
    engine: str
    battery: str
    demand_a: float
    vehicle_a: float
    alternator_a: float | None
    margin_a: float | None
    margin_percent: float | None
    margin_limit_percent: float | None
    hours_to_reserve: float | None
    duration_h: float | None
    charge_used: float | None  # share of the capacity at this current
    note: str
    running: tuple[tuple[str, float], ...]  # (accessory, average ampere)


@dataclass(frozen=True, slots=True)
class DayResult:
    name: str
    battery: str
    start_charge: float
    end_charge: float | None
    lowest_charge: float | None
    reserve_charge: float
    steps: tuple[tuple[str, float], ...]  # (scenario, charge after it)
    starts: bool | None
    cranking_v: float | None
    cranking_limit_v: float | None


@dataclass(frozen=True, slots=True)
class SupplyResult:
    parked_a: float
    parked_days: float | None  # days to reserve from full at the parked drain
    isolate: tuple[str, ...]  # how to cut every source, in order
    low_v: float
    high_v: float
    scenarios: tuple[ScenarioResult, ...]
    days: tuple[DayResult, ...]


@dataclass(frozen=True, slots=True)
class Part:
    what: str
    size: str
    colour: str | None
    quantity: int
    length_m: float | None


@dataclass(frozen=True, slots=True)
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


@dataclass(frozen=True, slots=True)
class Assumption:
    subject: str
    what: str
    value: str
    source: str
    status: str
    decides: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
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
