"""What each accessory draws: its current, how that follows the volts, and for how long.

A figure of the plan is kept. Without one, the kind's high draw sizes wire and fuse, and its
typical draw times its duty sets battery time; both are listed as assumed.
"""

from __future__ import annotations

import math

from circuitplan.design.assume import Ledger
from circuitplan.library import kinds
from circuitplan.model.plan import Accessory, Plan
from circuitplan.model.record import record

CONTINUOUS_S = 120.0
"""On for longer than this is continuous (judgement: wires warm in 30 to 270 s)."""

COLD_COIL_FACTOR = 1.19
"""A copper coil at -20 °C draws 1.19 times its 20 °C current (computed from 0.00393 /K)."""

EXPONENTS: dict[str, tuple[float, ...]] = {
    # I = Ir (U/Ur)^m; constant power, torque and current are physics, filament: handbook lamp
    # law P ~ U^1.55, fan: computed for a permanent-magnet motor, unknown motor: the worse of two.
    "constant power": (-1.0,),
    "constant current": (0.0,),
    "torque motor": (0.0,),
    "filament": (0.55,),
    "resistance": (1.0,),
    "solenoid": (1.0,),
    "fan motor": (1.65,),
    "motor": (-1.0, 1.65),
}


@record
class Load:
    """One accessory, resolved. Currents are for all its pieces together, at ``rated_v``."""

    accessory: Accessory
    kind: kinds.Kind | None
    model: str
    exponents: tuple[float, ...]
    rated_v: float
    rated_a: float  # sizes wire and fuse
    typical_a: float  # sets battery time
    share: float  # of the time it draws while in use
    share_assumed: bool
    peak_a: float | None
    inrush_a: float | None
    inrush_s: float
    inrush_known: bool
    on_s: float | None
    period_s: float | None
    min_v: float | None
    drop_class: str
    critical: bool
    contact_class: str
    letter: str
    parked_a: float
    back: str
    short_circuit_only: bool
    own_contactor: bool
    low_speed_a: float | None = None  # of all pieces of a two-speed motor, at rated volts
    source: bool = False  # a charger's output: current flows towards the battery

    @property
    def name(self) -> str:
        return self.accessory.name

    @property
    def continuous(self) -> bool:
        return self.on_s is None or self.on_s > CONTINUOUS_S

    @property
    def thermal_factor(self) -> float:
        """rms current over one cycle as a share of the current while on."""
        factor = 1.0
        if self.accessory.dimmed is not None:
            factor *= math.sqrt(self.accessory.dimmed)
        if not self.continuous and self.on_s and self.period_s:
            factor *= math.sqrt(min(1.0, self.on_s / self.period_s))
        return factor

    @property
    def runs_by_itself(self) -> bool:
        """On with its panel: it has no switch of its own and no work that somebody starts."""
        return not (self.accessory.switches or self.own_contactor or self.source) and (
            self.continuous
        )

    def current_at(self, volts: float) -> float:
        """Largest current at ``volts`` over the load's possible models [A]."""
        cold = COLD_COIL_FACTOR if self.model == "solenoid" else 1.0
        return float(
            cold * max(self.rated_a * (volts / self.rated_v) ** m for m in self.exponents)
        )

    def average_a(self) -> float:
        """Mean current while in use, at rated volts [A]."""
        dimmed = self.accessory.dimmed if self.accessory.dimmed is not None else 1.0
        return self.typical_a * self.share * dimmed


def resolve_all(plan: Plan, ledger: Ledger) -> tuple[Load, ...]:
    """Every accessory of the plan as a load, in the order of their names."""
    ordered = sorted(plan.accessories, key=lambda a: a.name)
    return tuple(resolve(accessory, plan, ledger) for accessory in ordered)


def resolve(accessory: Accessory, plan: Plan, ledger: Ledger) -> Load:
    """Resolve one accessory; the plan reader has made sure that a kind or a draw is given."""
    kind = kinds.find(accessory.kind) if accessory.kind else None
    name = accessory.name
    rated_v = accessory.rated_v or plan.nominal_v
    rated_a, typical_a = _draw(accessory, kind, plan, rated_v, ledger)
    model = accessory.load or (kind.load if kind else None)
    if model is None:
        model = "constant power"
        ledger.say(name, "load model", model, "the safe model at low volts", "judgement")
    on_s, period_s = _cycle(accessory, kind, ledger)
    share, share_assumed = 1.0, False
    if kind is not None and kind.duty < 1.0 and on_s is None:
        share, share_assumed = kind.duty, True
        ledger.say(
            name, "share of the time it draws while in use", f"{kind.duty:.2g}",
            kind.source, kind.status,
        )
    critical = bool(accessory.critical) or (kind is not None and kind.drop_class == "critical")
    drop_class = "critical" if critical else (kind.drop_class if kind else "general")
    inrush_a, inrush_s, inrush_known = _inrush(accessory, kind, rated_a)
    parked = accessory.parked_a
    if parked is None:
        parked = (kind.parked_a or 0.0) if kind else 0.0
        if parked:
            ledger.say(
                name, "drain when parked", f"{parked * 1000:.0f} mA each", kind.source, kind.status
            ) if kind else None
    return Load(
        accessory=accessory,
        kind=kind,
        model=model,
        exponents=EXPONENTS[model],
        rated_v=rated_v,
        rated_a=rated_a,
        typical_a=typical_a,
        share=share,
        share_assumed=share_assumed,
        peak_a=accessory.peak_a * accessory.quantity if accessory.peak_a else None,
        inrush_a=inrush_a,
        inrush_s=inrush_s,
        inrush_known=inrush_known,
        on_s=on_s,
        period_s=period_s,
        min_v=_least_volts(accessory, kind, plan),
        drop_class=drop_class,
        critical=critical,
        contact_class=_contact_class(model, kind),
        letter=kind.letter if kind else "E",
        parked_a=parked * accessory.quantity,
        back=_return(accessory, plan, ledger),
        short_circuit_only=kind is not None and kind.protection == "short-circuit",
        own_contactor=kind is not None and kind.own_contactor,
        low_speed_a=_low_speed(accessory, rated_a, ledger),
    )


def _low_speed(accessory: Accessory, rated_a: float, ledger: Ledger) -> float | None:
    """Current of all pieces at low speed [A]; None of a motor that has no second speed."""
    if accessory.motor != "two-speed":
        return None
    if accessory.low_speed_a is not None:
        return min(accessory.low_speed_a * accessory.quantity, rated_a)
    return ledger.take(
        accessory.name, "current at low speed", rated_a, "A", "no more than at full speed",
        "judgement",
    )


def _draw(
    accessory: Accessory, kind: kinds.Kind | None, plan: Plan, rated_v: float, ledger: Ledger
) -> tuple[float, float]:
    """(sizing, typical) current of all pieces at rated volts [A]."""
    count = accessory.quantity
    if accessory.current_a is not None:
        return accessory.current_a * count, accessory.current_a * count
    if accessory.power_w is not None:
        return accessory.power_w * count / rated_v, accessory.power_w * count / rated_v
    if kind is None:
        raise ValueError(f"{accessory.name}: neither kind, power nor current")  # reader's duty
    if kind.max_fuse_a is not None:
        return _behind_its_fuse(accessory, kind, ledger)
    scale = 12.0 / plan.nominal_v if kind.scaling == "power" else 1.0
    high = ledger.take(
        accessory.name, "draw that sizes wire and fuse, each", kind.high_a * scale, "A",
        kind.source, kind.status, favourable=kind.low_a * scale if kind.low_a else None,
    )
    typical = ledger.take(
        accessory.name, "typical draw, each", kind.typical_a * scale, "A",
        kind.source, kind.status, favourable=kind.low_a * scale if kind.low_a else None,
    )
    return high * count, min(typical, high) * count


SOCKET_SHARE = 0.68
"""Of the largest fuse of a socket that may flow for good: 0.8, and 0.85 for a place of 65 °C."""


def _behind_its_fuse(
    accessory: Accessory, kind: kinds.Kind, ledger: Ledger
) -> tuple[float, float]:
    """(sizing, typical) current of sockets: all pieces together take what their fuse lets flow."""
    assert kind.max_fuse_a is not None
    most = SOCKET_SHARE * kind.max_fuse_a
    ledger.say(
        accessory.name, "draw of all its sockets together",
        f"{most:.3g} A: what a fuse of {kind.max_fuse_a:g} A, the most they bear, lets flow",
        kind.source, kind.status,
    )
    return most, min(most, kind.typical_a * accessory.quantity)


def _cycle(
    accessory: Accessory, kind: kinds.Kind | None, ledger: Ledger
) -> tuple[float | None, float | None]:
    """(on, period) [s]; (None, None) for a continuous load."""
    if accessory.duty is not None:
        return accessory.duty.on_s, accessory.duty.period_s
    if kind is not None and kind.on_s is not None:
        off = kind.off_s if kind.off_s is not None else 0.0
        ledger.say(
            accessory.name, "duty", f"{kind.on_s:g} s in {kind.on_s + off:g} s",
            kind.source, kind.status,
        )
        return kind.on_s, kind.on_s + off
    return None, None


def _inrush(
    accessory: Accessory, kind: kinds.Kind | None, rated_a: float
) -> tuple[float | None, float, bool]:
    """(peak of the start for all pieces [A], its time constant [s], known?)."""
    seconds = _time_constant(kind) if kind is not None else 0.0
    if accessory.inrush_a is not None:
        return accessory.inrush_a * accessory.quantity, seconds or 0.1, True
    if kind is None:
        return None, 0.0, False
    return rated_a * kind.inrush_multiple, seconds, kind.inrush_known and seconds > 0.0


def _time_constant(kind: kinds.Kind) -> float:
    """Time constant of a start from its published duration [s].

    A lamp's start is over at twice the running current (lamp application notes), a motor's at 1.5
    times (judgement): an exponential from the peak to there.
    """
    over_at = 2.0 if kind.load == "filament" else 1.5
    if kind.inrush_multiple <= over_at:
        return kind.inrush_ms / 1000.0
    return kind.inrush_ms / 1000.0 / math.log((kind.inrush_multiple - 1.0) / (over_at - 1.0))


def _least_volts(accessory: Accessory, kind: kinds.Kind | None, plan: Plan) -> float | None:
    if accessory.min_v is not None:
        return accessory.min_v
    if kind is not None and kind.min_v is not None:
        return kind.min_v * plan.nominal_v / 12.0
    return None


def _contact_class(model: str, kind: kinds.Kind | None) -> str:
    if kind is not None:
        return kind.contact_class
    return {
        "filament": "lamp",
        "resistance": "resistive",
        "solenoid": "inductive",
        "motor": "motor",
        "torque motor": "motor",
        "fan motor": "motor",
    }.get(model, "capacitive")


def _return(accessory: Accessory, plan: Plan, ledger: Ledger) -> str:
    if accessory.back is not None:
        return accessory.back
    ledger.say(
        accessory.name, "return", "wire, full length", "safe side: no chassis return assumed",
        "judgement",
    )
    return "wire"
