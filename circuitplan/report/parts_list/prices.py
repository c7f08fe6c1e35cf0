"""The parts list priced by the user's list; currencies are never mixed."""

from __future__ import annotations

from dataclasses import dataclass

from circuitplan.design.bench.fittings import PartLine
from circuitplan.planfile.prices import Price, closest


@dataclass(frozen=True, slots=True)
class Priced:
    line: PartLine
    each: float | None
    amount: float | None
    currency: str
    minutes: float


def priced(lines: tuple[PartLine, ...], prices: tuple[Price, ...]) -> tuple[Priced, ...]:
    """Each line with the closest price that fits it; none stays open."""
    found = []
    for line in lines:
        best = closest(line, prices)
        if best is None:
            found.append(Priced(line, None, None, "", 0.0))
        else:
            found.append(Priced(line, best.price, best.price * line.quantity, best.currency,
                                best.minutes * line.quantity))
    return tuple(found)


def totals(lines: tuple[Priced, ...]) -> dict[str, float]:
    """Sum a currency; currencies are never mixed."""
    found: dict[str, float] = {}
    for line in lines:
        if line.amount is not None:
            found[line.currency] = found.get(line.currency, 0.0) + line.amount
    return dict(sorted(found.items()))
