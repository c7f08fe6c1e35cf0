"""One circuit of a result: its accessories, fuses, relays, wires, drops, faults and their proof."""

from __future__ import annotations

from typing import Literal

from circuitplan.model.connection import Connector
from circuitplan.model.record import record

Role = Literal["feed", "return", "control"]
LimitedBy = Literal["drop", "ampacity", "fuse", "fault", "minimum", "fixed"]


@record
class Sag:
    """What pulls a battery down to its low end, and what the plan could say to rule it out."""

    words: str
    advice: str = ""


@record
class AccessoryResult:
    name: str
    kind: str | None  # the kind found in the table, or None
    quantity: int
    current_a: float  # largest steady, all pieces
    average_a: float  # typical current x share while in use
    parked_a: float
    low_v: float  # guaranteed volts at its terminals, low supply
    sag: Sag  # what pulls the supply down to there
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
    motor: str | None = None  # reversing, or two-speed: its switch works it in two ways
    low_speed_a: float | None = None  # largest at low speed, all pieces


@record
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
    current_a: float | None = None  # carried for good: continuous and rms of short-time loads


@record
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
    diodes: int = 0  # one a trigger where several work one coil, so that none feeds another
    at: str = ""  # position of its motor's switch in which its coil is on
    break_a: float | None = None  # rating of its break contact, where that carries the load too


@record
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
    at: str = ""  # position of a motor's switch in which it is fed
    live_back: bool = False  # fed in that position, the way back in the other


@record
class DropParts:
    feeder_v: float
    contacts_v: float
    run_v: float
    return_v: float


@record
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


@record
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


@record
class Overload:
    """How long a wire bears an overload, from its working temperature to its class."""

    current_a: float
    multiple: float  # of its fuse's rating; of its ampacity where it has no fuse
    seconds: float | None  # None: it never gets there


@record
class Heating:
    """One wire over time, by the one-body model; its loom counts as in its ampacity."""

    run: str
    start_c: float  # at work
    limit_c: float  # class of the insulation
    overloads: tuple[Overload, ...]
    held_a: float  # the largest current that is meant to flow
    allowed_on_s: float | None  # from cold at that current; None: without limit
    cool_down_s: float  # without current, to a tenth of the rise


@record
class Coordination:
    """One fuse against the wire it guards; curves as (current_a, seconds), lines between them
    straight on logarithmic scales."""

    fuse: str
    type: str
    rating_a: float
    run: str
    size: str
    load_a: float
    start: tuple[tuple[float, float], ...]  # current, how long it is exceeded
    start_share: float | None  # of the soonest melting
    start_margin: float | None  # allowed share over that share; above 1 it passes
    melts: tuple[tuple[float, float], ...]  # no sooner
    clears: tuple[tuple[float, float], ...]  # no later
    damage: tuple[tuple[float, float], ...]  # class + 50 K reached
    far_cold_a: float  # far end: cold aged battery, hot wire, worst contacts
    far_aged_a: float  # far end: warm aged battery, hot wire, worst contacts
    far_new_a: float  # far end: new battery, cold wire, no contacts
    near_a: float  # at the fuse
    clears_s: float | None
    allowed_s: float
    guarded: bool  # every fault above twice the rating opens before the wire is hurt
    curve: str  # where the fuse's times come from


@record
class Cure:
    """A change that was tried and mends a finding; ``effort`` orders them, cheapest first."""

    rule: str
    fuse: str
    sort: str  # fuse, wire, fuse and wire, inline fuse, shorter run, soft start, isolator
    words: str
    change: str | None  # words that fit ``try --change``
    effort: float


@record
class WarmLeg:
    """The hottest wire of one owner along one way, or within one place."""

    way: str
    run: str
    conductor_c: float
    insulation_c: float
    ambient_c: float


@record
class TestLine:
    supply_v: float
    low_a: float
    high_a: float
    load_v: float
    read_a: float | None = None
    passed: bool | None = None


@record
class WorkingStep:
    """One line of the working: what, formula with numbers put in, result, source."""

    what: str
    formula: str
    result: str
    source: str


@record
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
    heating: tuple[Heating, ...] = ()  # one a feed
    coordination: tuple[Coordination, ...] = ()  # one a fuse and what it guards
    warm: tuple[WarmLeg, ...] = ()
    cures: tuple[Cure, ...] | None = None  # None: none were looked for
    connectors: tuple[Connector, ...] = ()  # one an accessory that has one
