"""What the alternators give, hot, in each engine state or at any shaft speed."""

from __future__ import annotations

from circuitplan.design.assume import Ledger
from circuitplan.library import alternators
from circuitplan.model.plan import Alternator, Plan
from circuitplan.model.result import AlternatorPoint
from circuitplan.physics.alternator import curve_a, output_a, shaft_rpm

LABEL_IDLE_RPM, LABEL_RATED_RPM = 1500.0, 6000.0
ENGINE_STATES = ("idle", "high idle", "cruise")
RATIO_LOW, RATIO_HIGH = 2.0, 3.0
"""Shaft over engine speed of most drives (memory)."""
FAVOURABLE_IDLE_SHARE = 0.55
"""Output at idle over rated, the better of the published curves (read)."""

Output = tuple[float | None, str]


def fitted(plan: Plan) -> tuple[tuple[str, Alternator], ...]:
    """(name, alternator) of each alternator in the plan."""
    supply = plan.supply
    pairs = (("alternator", supply.alternator), ("second alternator", supply.second_alternator))
    return tuple((name, found) for name, found in pairs if found is not None)


def hot_output(plan: Plan, engine: str, ledger: Ledger) -> Output:
    """(hot output of all alternators in an engine state [A], how it was found).

    (0, ...) with the engine off; (None, why) where a label or curve does not reach down to the
    speed.
    """
    if engine == "off":
        return 0.0, "engine off"
    if plan.supply.alternator is None:
        return None, "no alternator in the plan"
    total, notes = 0.0, []
    for name, one in fitted(plan):
        value, note = output_at(plan, name, one, speed(name, one, engine, ledger), ledger)
        if value is None:
            return None, note
        total += value
        notes.append(note)
    return total, "; ".join(notes)


def output_at(plan: Plan, name: str, one: Alternator, rpm: float, ledger: Ledger) -> Output:
    """(hot output of one alternator at a shaft speed [A], how), or (None, why)."""
    if one.curve:
        try:
            cold = min(curve_a(one.curve, rpm), one.rated_a)
        except ValueError as error:
            return None, str(error)
        return _warmed(cold, rpm, name, one, ledger), f"its maker's curve at {rpm:g} r/min"
    low_rpm = one.label_idle_rpm or LABEL_IDLE_RPM
    high_rpm = one.label_rated_rpm or LABEL_RATED_RPM
    if one.idle_a is None:
        hot_idle_a = _assumed_share(plan, name, ledger) * one.rated_a
        if rpm < low_rpm:
            return None, f"{rpm:g} r/min is below the label's {low_rpm:g} r/min"
        hot_rated = _warmed(one.rated_a, high_rpm, name, one, ledger)
        value = output_a(min(hot_idle_a, hot_rated), low_rpm, hot_rated, high_rpm, rpm)
        return value, f"label {one.rated_a:g} A, idle share assumed, {rpm:g} r/min"
    if rpm < low_rpm:
        return None, f"{rpm:g} r/min is below the label's {low_rpm:g} r/min"
    cold = output_a(one.idle_a, low_rpm, one.rated_a, high_rpm, rpm)
    value = _warmed(cold, rpm, name, one, ledger)
    return value, f"label {one.idle_a:g}/{one.rated_a:g} A at {rpm:g} r/min"


def _assumed_share(plan: Plan, name: str, ledger: Ledger) -> float:
    """Hot output at idle over the rating, where the plan gives no idle figure."""
    share = alternators.value("idle_share_24v" if plan.nominal_v >= 24.0 else "idle_share")
    return ledger.take(
        name, "output at idle, hot, as a share of its rating", share.value, "",
        share.source, share.status, favourable=FAVOURABLE_IDLE_SHARE,
    )


def _warmed(cold_a: float, rpm: float, name: str, one: Alternator, ledger: Ledger) -> float:
    """Hot output from a cold figure; a figure that is hot already stays."""
    if one.hot:
        return cold_a
    if one.hot is None:
        ledger.say(name, "label figures", "cold ones", "ISO 8854 tests at 23 °C", "read")
    cut_in = alternators.value("cut_in_rpm").value
    slow, fast = alternators.value("hot_factor_slow"), alternators.value("hot_factor_fast")
    ledger.say(
        name, "hot output", f"{slow.value:g} of cold to {2 * cut_in:g} r/min, "
        f"{fast.value:g} above", slow.source, slow.status,
    )
    return cold_a * (fast.value if rpm > 2.0 * cut_in else slow.value)


def speed(name: str, one: Alternator, engine: str, ledger: Ledger) -> float:
    """Shaft speed in an engine state [r/min]: given, from engine speed and ratio, or assumed."""
    given = {
        "idle": one.idle_rpm, "high idle": one.high_idle_rpm, "cruise": one.cruise_rpm,
    }[engine]
    if given is not None:
        return given
    of_engine = {
        "idle": one.engine_idle_rpm, "high idle": one.engine_high_idle_rpm,
        "cruise": one.engine_cruise_rpm,
    }[engine]
    if of_engine is not None:
        return shaft_rpm(of_engine, drive_ratio(name, one, ledger))
    key = {"idle": "idle_rpm", "high idle": "high_idle_rpm", "cruise": "cruise_rpm"}[engine]
    fact = alternators.value(key)
    ledger.say(
        name, f"shaft speed at {engine}", f"{fact.value:g} r/min", fact.source, fact.status
    )
    return fact.value


def drive_ratio(name: str, one: Alternator, ledger: Ledger) -> float:
    """Shaft speed over engine speed; the low end of what is usual where the plan gives none."""
    if one.ratio is not None:
        return one.ratio
    return ledger.take(
        name, "drive ratio, shaft over engine", RATIO_LOW, "",
        "2 to 3 on most engines; compare the pulleys", "memory", favourable=RATIO_HIGH,
    )


def points(plan: Plan, ledger: Ledger) -> tuple[AlternatorPoint, ...]:
    """Every alternator in every engine state, cold and hot, for the written load analysis."""
    found = []
    for name, one in fitted(plan):
        for engine in ENGINE_STATES:
            rpm = speed(name, one, engine, ledger)
            hot_a, how = output_at(plan, name, one, rpm, ledger)
            found.append(AlternatorPoint(name, engine, rpm, _cold(one, rpm), hot_a, how))
    return tuple(found)


def _cold(one: Alternator, rpm: float) -> float | None:
    """Output cold at a speed; None where only a hot figure is known."""
    if one.hot or (one.idle_a is None and not one.curve):
        return None
    try:
        if one.curve:
            return min(curve_a(one.curve, rpm), one.rated_a)
        return output_a(
            one.idle_a or 0.0, one.label_idle_rpm or LABEL_IDLE_RPM, one.rated_a,
            one.label_rated_rpm or LABEL_RATED_RPM, rpm,
        )
    except ValueError:
        return None
