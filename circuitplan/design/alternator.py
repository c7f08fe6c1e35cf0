"""What the alternator gives, hot, in each engine state."""

from __future__ import annotations

from circuitplan.design.assume import Ledger
from circuitplan.library import alternators
from circuitplan.model.plan import Plan
from circuitplan.physics.alternator import output_a

LABEL_IDLE_RPM, LABEL_RATED_RPM = 1500.0, 6000.0


def hot_output(plan: Plan, engine: str, ledger: Ledger) -> tuple[float | None, str]:
    """(hot output at the shaft speed of an engine state [A], how it was found).

    (0, ...) with the engine off; (None, why) where the label does not reach down to the speed.
    """
    alternator = plan.supply.alternator
    if engine == "off":
        return 0.0, "engine off"
    if alternator is None:
        return None, "no alternator in the plan"
    speed = _speed(plan, engine, ledger)
    hot = bool(alternator.hot)
    idle_a = alternator.idle_a
    low_rpm = alternator.label_idle_rpm or LABEL_IDLE_RPM
    high_rpm = alternator.label_rated_rpm or LABEL_RATED_RPM
    idle_hot_already = False
    if idle_a is None:
        key = "idle_share_24v" if plan.nominal_v >= 24.0 else "idle_share"
        share = alternators.value(key)
        factor = ledger.take(
            "alternator", "output at idle, hot, as a share of its rating", share.value, "",
            share.source, share.status, favourable=0.55,
        )
        idle_a, idle_hot_already = factor * alternator.rated_a, True
    if speed < low_rpm:
        return None, f"{speed:g} r/min is below the label's {low_rpm:g} r/min"
    if alternator.hot is None:
        ledger.say(
            "alternator", "label figures", "cold ones", "ISO 8854 tests at 23 °C", "read"
        )
    cut_in = alternators.value("cut_in_rpm").value
    slow, fast = alternators.value("hot_factor_slow"), alternators.value("hot_factor_fast")

    def warmed(current_a: float, rpm: float) -> float:
        if hot:
            return current_a
        return current_a * (fast.value if rpm > 2.0 * cut_in else slow.value)

    if not hot:
        ledger.say(
            "alternator", "hot output", f"{slow.value:g} of cold to {2 * cut_in:g} r/min, "
            f"{fast.value:g} above", slow.source, slow.status,
        )
    if idle_hot_already:
        hot_rated = warmed(alternator.rated_a, high_rpm)
        value = output_a(min(idle_a, hot_rated), low_rpm, hot_rated, high_rpm, speed)
        return value, f"label {alternator.rated_a:g} A, idle share assumed, {speed:g} r/min"
    cold = output_a(idle_a, low_rpm, alternator.rated_a, high_rpm, speed)
    return warmed(cold, speed), f"label {idle_a:g}/{alternator.rated_a:g} A at {speed:g} r/min"


def _speed(plan: Plan, engine: str, ledger: Ledger) -> float:
    alternator = plan.supply.alternator
    assert alternator is not None
    given = {
        "idle": alternator.idle_rpm,
        "high idle": alternator.high_idle_rpm,
        "cruise": alternator.cruise_rpm,
    }[engine]
    if given is not None:
        return given
    key = {"idle": "idle_rpm", "high idle": "high_idle_rpm", "cruise": "cruise_rpm"}[engine]
    fact = alternators.value(key)
    ledger.say(
        "alternator", f"shaft speed at {engine}", f"{fact.value:g} r/min", fact.source, fact.status
    )
    return fact.value
