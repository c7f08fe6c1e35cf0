"""A fuse that the plan gives and that no family is made for: it stays, and the rules judge it."""

from __future__ import annotations

import math

from circuitplan.design.protection.protect import PREFERENCE, SLACK, Device, devices
from circuitplan.library import fuses
from circuitplan.model.plan import FuseSpec


def as_given(
    spec: FuseSpec | None, ambient_c: float, highest_v: float, breaking_a: float | None = None
) -> list[Device]:
    """The given rating in the given type, whatever its volts (X18 tells); where no type is given,
    in the family made for ``highest_v`` whose series lies nearest. Empty where none is given.

    Of equally near ones a family that breaks ``breaking_a`` comes first, then the cheaper.
    """
    if spec is None or spec.none or spec.rating_a is None:
        return []
    type_ = spec.type or _nearest(spec.rating_a, highest_v, breaking_a)
    if type_ is None:
        return []
    return devices(
        0.0, ambient_c, family=None, rating_a=spec.rating_a, type_=type_, highest_v=0.0,
        continuous_a=0.0, breaking_a=None, spec=spec,
    )


def _nearest(rating_a: float, highest_v: float, breaking_a: float | None) -> str | None:
    ranked: list[tuple[float, bool, int, str]] = []
    for order, type_ in enumerate(PREFERENCE):
        family = fuses.family(type_)
        if type_ == "F" or highest_v > max(family.rated_v, default=math.inf) * SLACK:
            continue
        series = fuses.ratings(type_)
        # 1 within the series; else how many times beyond its end.
        apart = max(series[0] / rating_a, rating_a / series[-1], 1.0)
        weak = breaking_a is not None and (family.breaking_capacity_a or 0.0) < breaking_a
        ranked.append((apart, weak, order, type_))
    return min(ranked)[3] if ranked else None
