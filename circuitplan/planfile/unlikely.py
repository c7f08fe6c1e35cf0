"""Figures of a plan that can be read and may be a slip of the pen: asked about, never refused."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.library import kinds
from circuitplan.model.plan import Accessory, Plan

SHORTEST_M = 0.05  # judgement: less than a hand's breadth is no run of wire
LONGEST_M = 50.0  # judgement: longer than vehicles and small craft are
FAR_OFF = 10.0  # judgement: a tenth of the kind's least draw, or ten times its largest


def questions(plan: Plan) -> tuple[str, ...]:
    """A question for each doubtful figure: "Bar: length 4 mm: is that right?"."""
    return tuple(_questions(plan))


def _questions(plan: Plan) -> Iterator[str]:
    lengths = [(p.name, "length", p.length_m) for p in plan.panels]
    lengths += [(f"leg {leg.a} - {leg.b}", "length", leg.length_m) for leg in plan.legs]
    lengths += [(s.name, "lead", s.lead_m) for s in plan.switches]
    lengths += [(c.name, "length", c.length_m) for c in plan.supply.chargers]
    for a in plan.accessories:
        lengths += [(a.name, "length", a.length_m), (a.name, "tail", a.tail_m)]
    for name, key, length_m in lengths:
        if length_m and not SHORTEST_M <= length_m <= LONGEST_M:
            yield f"{name}: {key} {_metres(length_m)}: is that right?"
    for accessory in plan.accessories:
        yield from _draw(accessory, plan.nominal_v)
    alternator = plan.supply.alternator
    if alternator is not None and alternator.rated_a < 5.0:
        yield f"alternator: rated {_amperes(alternator.rated_a)}: is that right?"
    for battery in plan.supply.batteries:
        if battery.capacity_ah is not None and battery.capacity_ah < 1.0:
            yield f"{battery.name}: capacity {battery.capacity_ah:.4g} Ah: is that right?"


def _draw(accessory: Accessory, nominal_v: float) -> Iterator[str]:
    kind = kinds.find(accessory.kind) if accessory.kind else None
    given_a, said = accessory.current_a, f"current {_amperes(accessory.current_a or 0.0)}"
    if accessory.power_w is not None:
        given_a = accessory.power_w / (accessory.rated_v or nominal_v)
        said = f"power {accessory.power_w:.4g} W"
    if kind is None or given_a is None:
        return
    low_a, high_a = kind.current_at(kind.low_a, nominal_v), kind.current_at(kind.high_a, nominal_v)
    if given_a < low_a / FAR_OFF or given_a > high_a * FAR_OFF:
        yield (
            f"{accessory.name}: {said}: is that right? A {kind.kind} usually draws "
            f"{_amperes(low_a)} to {_amperes(high_a)}."
        )


def _metres(length_m: float) -> str:
    return f"{length_m * 1000.0:.4g} mm" if length_m < 0.1 else f"{length_m:.4g} m"


def _amperes(current_a: float) -> str:
    return f"{current_a * 1000.0:.3g} mA" if current_a < 0.1 else f"{current_a:.3g} A"
