"""What every size of every wire costs, in whole numbers: its copper, or the money of a price list.

Copper is counted in tenths of a gram. Money is counted in ten-thousandths of the currency's unit
(a hundredth of a cent), of each wire rounded to the nearest; where the dearest of all wires come to
more than MOST of these, in the next power of ten, so that the solver keeps every digit.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from circuitplan.design import wares
from circuitplan.design.copper.part import Part
from circuitplan.design.protection.protect import SLACK
from circuitplan.design.state import State
from circuitplan.design.wares import Ware
from circuitplan.design.wire import Candidate, laid
from circuitplan.physics.copper import mass_kg

PER_UNIT = 1e4
"""Of a kilogram, or of the currency's unit."""
MOST = 10**8

Rate = Callable[[Ware], float | None]
"""Money for a metre; None where it has no price."""


@dataclass(frozen=True, slots=True)
class Costs:
    """``of[n]``: of each size of wire n; None where it is not to be had. ``per_unit``: how many of
    them make a kilogram, or one of the currency."""

    of: tuple[tuple[int | None, ...], ...]
    per_unit: float


def costs(state: State, parts: Sequence[Part], rate: Rate | None) -> Costs:
    """Of all sizes; ``rate``: None for their copper.

    By price a thick wire may be the cheap one: what has no price, or does not go into the holder of
    the fuse before it, is not to be had.
    """
    amounts = [
        [_copper_kg(part, size) if rate is None else _money(state, part, size, rate)
         if _held(state, part, size) else None
         for size in part.sizes]
        for part in parts
    ]
    per_unit = PER_UNIT
    if rate is not None:
        dearest = sum(max((a for a in mine if a is not None), default=0.0) for mine in amounts)
        while dearest * per_unit > MOST:
            per_unit /= 10.0
    return Costs(
        tuple(tuple(None if a is None else round(a * per_unit) for a in mine) for mine in amounts),
        per_unit,
    )


def _copper_kg(part: Part, size: Candidate) -> float:
    return sum(
        mass_kg(laid(size, s).conductor.area_mm2, s.route.length_m * s.pieces)
        for s in part.group.segments
    )


def _held(state: State, part: Part, size: Candidate) -> bool:
    """Whether the holder takes a wire; one no thicker than ``check`` chose is as good as that."""
    most = part.device.family.holder_max_mm2 if part.device is not None else None
    now = state.wire[part.group.segments[0].key].conductor.area_mm2
    return most is None or size.conductor.area_mm2 <= max(most, now) * SLACK


def _money(state: State, part: Part, size: Candidate, rate: Rate) -> float | None:
    whole = 0.0
    for segment in part.group.segments:
        each = rate(wares.ware(state, part.group.owner, segment, laid(size, segment)))
        if each is None:
            return None
        whole += each * wares.metres(segment)
    return whole
