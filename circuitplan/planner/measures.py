"""What ``copper`` makes least: the weight of all wires, or their price by a list."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import TypeAlias

from circuitplan.design import wares
from circuitplan.design.bench.pieces import both_gauges, pieces_of
from circuitplan.design.copper.part import parts_of
from circuitplan.design.state import State
from circuitplan.design.wares import Ware
from circuitplan.design.wire import laid
from circuitplan.errors import InputError, Problem
from circuitplan.model.result import Result, Run
from circuitplan.physics.copper import mass_kg
from circuitplan.planfile.prices import Price, closest

Open = frozenset[tuple[str, ...]]


class Weight:
    """Copper of all wires, out and back [kg]; less than a gram is nothing saved."""

    worth = 1e-3

    def of(self, result: Result, controls: bool = False) -> float:
        """All wires, or the control wires alone, which are not chosen [kg]."""
        return sum(kg(r) for r in runs_of(result) if not controls or r.role == "control")

    def unknown(self, result: Result) -> Open:
        """The wires that ``of`` cannot count."""
        return frozenset()

    def words(self, amount: float) -> str:
        """An amount in words."""
        return f"{amount:.2f} kg of copper"

    def gap(self, amount: float) -> str:
        """A small amount in words."""
        return f"{1000.0 * amount:.0f} g"


@dataclass
class Purse:
    """Wire in the money of a price list: metres to cut, as the parts list has them, each at the
    row that fits it most closely. What stands in no row of a metre has no price."""

    prices: tuple[Price, ...]
    file: str
    worth: float = 0.01  # less is nothing saved
    currency: str = ""
    _known: dict[Ware, Price | None] = field(default_factory=dict)

    def price(self, ware: Ware) -> Price | None:
        """The row that fits a ware most closely."""
        if ware not in self._known:
            self._known[ware] = closest(ware, self.prices)
        return self._known[ware]

    def rate(self, ware: Ware) -> float | None:
        """For a metre [currency]; None without a price."""
        found = self.price(ware)
        return None if found is None else found.price

    def learn(self, state: State) -> tuple[str, ...]:
        """Settle the currency for the wires of a plan; the sizes that some wire cannot have.

        Raises InputError where no wire has a price, or prices are in several currencies.
        """
        lacking: dict[str, float] = {}
        currencies: set[str] = set()
        for part in parts_of(state):
            for size in part.sizes:
                for segment in part.group.segments:
                    one = laid(size, segment)
                    found = self.price(wares.ware(state, part.group.owner, segment, one))
                    if found is not None:
                        currencies.add(found.currency)
                    elif not part.fixed:
                        lacking[size.conductor.label] = size.conductor.area_mm2
        if len(currencies) != 1:
            said = " and ".join(sorted(c or "(blank)" for c in currencies))
            what = f"wire priced in {said}" if said else "no price of a metre for its wires"
            do = "give wire one currency" if said else "add a row for each size to be had"
            raise InputError([Problem(
                self.file, what, "wire by the metre in one currency: wire,2.5 mm2,,m,0.90,EUR", do
            )])
        self.currency = currencies.pop()
        return tuple(sorted(lacking, key=lambda label: (lacking[label], label)))

    def of(self, result: Result, controls: bool = False) -> float:
        """All wires that have a price, or of these the control wires alone [currency]."""
        return sum(
            (self.rate(ware) or 0.0) * metres
            for run, ware, metres in _lines(result) if not controls or run.role == "control"
        )

    def of_each(self, result: Result) -> dict[tuple[str, str, str], float]:
        """Of each wire (what it is for, from, to) [currency]."""
        found: dict[tuple[str, str, str], float] = {}
        for run, ware, metres in _lines(result):
            key = run.role, run.from_, run.to
            found[key] = found.get(key, 0.0) + (self.rate(ware) or 0.0) * metres
        return found

    def unknown(self, result: Result) -> Open:
        """The wires without a price."""
        return frozenset(
            (run.role, run.from_, run.to, run.size, run.colour)
            for run, ware, _ in _lines(result) if self.rate(ware) is None
        )

    def words(self, amount: float) -> str:
        """An amount in words."""
        return f"{self.gap(amount)} of wire"

    def gap(self, amount: float) -> str:
        """The bare amount in words."""
        return f"{amount:.2f} {self.currency}".strip()


Measure: TypeAlias = Weight | Purse


def saves(measure: Measure, before: Result, after: Result) -> bool:
    """Whether the second comes to less; a wire that now can be counted and before could not
    is a gain, as the choice is to be among what can be counted."""
    old, new = measure.unknown(before), measure.unknown(after)
    if new - old:
        return False
    return bool(old - new) or measure.of(before) - measure.of(after) >= measure.worth


def _lines(result: Result) -> Iterator[tuple[Run, Ware, float]]:
    """Each piece to buy with its line of the parts list, and its metres."""
    for piece in pieces_of(result):
        metric, awg = both_gauges(piece.run)
        other = awg if piece.kind.size == metric else metric
        yield (
            piece.run, Ware(piece.kind.what, piece.kind.size, other, piece.kind.colour),
            piece.cut_mm / 1000.0,
        )


def runs_of(result: Result) -> list[Run]:
    """Every wire of a result, panel feeders first."""
    return [r for p in result.panels for r in p.feeder] + [
        r for c in result.circuits for r in c.runs
    ]


def copper_kg(result: Result) -> float:
    """Copper of all wires, out and back [kg]."""
    return sum(map(kg, runs_of(result)))


def kg(run: Run) -> float:
    """Copper of one wire, all its pieces [kg]."""
    return mass_kg(run.area_mm2, run.length_m * run.pieces)
