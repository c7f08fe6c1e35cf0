"""The supply side of a result: scenarios, days, alternator, what stays when parked."""

from __future__ import annotations

from circuitplan.model.record import record


@record
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
    shaft_rpm: float | None = None  # of the (first) alternator
    alternator_share: float | None = None  # of the demand; the battery gives the rest
    recharge_h: float | None = None  # from the reserve to RECHARGED at this margin
    shed: tuple[tuple[str, float], ...] = ()  # what to leave out, in order, with ampere
    shed_cures: bool | None = None  # whether that restores what is wanted; None: nothing wanted
    cure_shaft_rpm: float | None = None  # least shaft speed that would
    cure_rated_a: float | None = None  # least rated alternator that would, idle in proportion
    cure_capacity_ah: float | None = None  # least battery that would


@record
class DayPoint:
    """One moment of a day at a battery's posts; ``battery_a`` is positive while discharging."""

    hours: float
    scenario: str
    charge: float  # of the 20 h capacity at the day's temperature
    volts: float
    supplied_a: float  # by alternator and chargers
    drawn_a: float
    battery_a: float


@record
class LeastVolts:
    """Least volts at the terminals of an accessory over a day."""

    accessory: str
    scenario: str
    volts: float
    needed_v: float | None


@record
class EventResult:
    """Something heavy that runs for minutes: a winch pull, a compressor run; figures of one."""

    accessory: str
    scenario: str
    count: int
    seconds: float
    current_a: float
    least_v: float  # at the battery posts
    charge_ah: float  # taken by the accessory
    energy_wh: float  # at the battery posts
    pull_n: float | None = None


@record
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
    temperature_c: float = 20.0
    capacity_ah: float | None = None  # 20 h capacity at that temperature and age
    curve: tuple[DayPoint, ...] = ()
    events: tuple[EventResult, ...] = ()
    least: tuple[LeastVolts, ...] = ()  # critical accessories
    lowest_after: str | None = None  # scenario in which the lowest charge stands
    hours_to_reserve: float | None = None  # from the day's start; None: never reached
    flat_after_h: float | None = None
    engine_off_h: float = 0.0
    supplied_share: float | None = None  # of the energy drawn: by alternator and chargers
    energy_wh: float | None = None  # drawn by vehicle and accessories
    recharge_h: float | None = None  # from the day's end to RECHARGED
    recharge_in: str | None = None  # scenario whose margin that takes
    cure_capacity_ah: float | None = None  # least capacity that keeps the reserve


@record
class AlternatorPoint:
    """What one alternator gives in one engine state; ``how`` says from which figures."""

    alternator: str
    engine: str
    shaft_rpm: float | None
    cold_a: float | None
    hot_a: float | None
    how: str


@record
class SupplyResult:
    parked_a: float
    parked_days: float | None  # days to reserve from full at the parked drain
    isolate: tuple[str, ...]  # how to cut every source, in order
    low_v: float
    high_v: float
    scenarios: tuple[ScenarioResult, ...]
    days: tuple[DayResult, ...]
    answers: tuple[str, ...] = ()  # plain sentences: keeps up, how long, starts
    alternators: tuple[AlternatorPoint, ...] = ()
    vehicle_on_a: float | None = None  # the vehicle itself with the engine on, worst state
