"""The supply at one moment: volts at every battery's posts and every current, all in balance.

Batteries that a charger feeds are solved before the one it draws from; those behind a relay or a
diode together with it. What one side gives, the other takes, to the last digit.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from circuitplan.design.supplying.charge import COMPUTER_HOLDS, Storage
from circuitplan.model.plan import Charger
from circuitplan.model.record import record
from circuitplan.physics.battery import Charge
from circuitplan.physics.bus import Draw, behind_diode, bus_v, drawn_a, relay_closed_share

RELAY_OPENS_V, RELAY_CLOSES_V = 12.9, 13.7
"""For 12 V: the less favourable ends of 12.7 to 12.9 and 13.3 to 13.7 V (trade texts; read)."""
DIODE_V = 0.7
"""Forward volts of a silicon isolating diode at charging current (memory)."""
CONVERTER_EFFICIENCY = 0.9
"""Of DC-DC chargers (common practice)."""
LEAST_V = 6.0
"""For 12 V: below this the supply counts as collapsed."""


@record
class Moment:
    """One battery's posts. ``battery_a`` positive while it gives; ``supplied_a`` by source.

    ``passed_a``: what goes on to other batteries, by charger. supplied + battery = drawn + passed.
    """

    volts: float
    drawn_a: float
    battery_a: float
    supplied_a: Mapping[str, float]
    passed_a: Mapping[str, float]
    collapsed: bool = False


@record
class Around:
    """What is on in a stretch of time, the same for all of it.

    ``alternator_a``: most it gives; None with the engine off. ``outside_a``: solar and shore
    chargers by name -> most they give.
    """

    draws: Mapping[str, Sequence[Draw]]
    alternator_a: float | None
    outside_a: Mapping[str, float]
    set_v: float


@dataclass(slots=True)
class Balance:
    """Solves the moments of one stretch."""

    stores: Mapping[str, Storage]
    chargers: Sequence[Charger]
    main: str
    scale: float
    held_back: bool  # an engine computer runs the alternator
    smart_v: float
    around: Around
    charges: Mapping[str, Charge] = field(default_factory=dict)
    found: dict[str, Moment] = field(default_factory=dict)
    begun: set[str] = field(default_factory=set)

    def at(self, charges: Mapping[str, Charge]) -> dict[str, Moment]:
        """Every battery's moment at these charges."""
        self.charges, self.found, self.begun = charges, {}, set()
        for name in (self.main, *self.stores):
            if name in self.stores and name not in self.begun:
                self._solve(name, {}, 0.0)
        return self.found

    def _fed_by(self, name: str, *kinds: str) -> list[Charger]:
        return [
            c for c in self.chargers
            if c.source == name and c.kind in kinds and c.target in self.stores
            and c.target not in self.begun
        ]

    def _solve(self, name: str, links: Mapping[str, float], link_v: float) -> None:
        """One battery; ``links``: charger -> most it passes in [A], at up to ``link_v``."""
        self.begun.add(name)
        store = self.stores[name]
        engine_on = self.around.alternator_a is not None
        draws = list(self.around.draws.get(name, ()))
        passed: dict[str, float] = {}
        inputs: dict[str, Draw] = {}
        for charger in self._fed_by(name, "dc-dc") if engine_on else ():
            self._solve(charger.target, {charger.name: charger.output_a or 0.0},
                        self.stores[charger.target].full_v)
            out = self.found[charger.target]
            power_w = out.supplied_a.get(charger.name, 0.0) * out.volts / CONVERTER_EFFICIENCY
            inputs[charger.name] = Draw(power_w / store.full_v, store.full_v, (-1.0,))
        offers = self._offers(name) | dict(links)
        source_a = sum(offers.values())
        own = store.store(self.charges[name], self.held_back and name == self.main and engine_on)
        branches = {
            c.name: (c, self._branch(c)) for c in self._fed_by(name, "voltage relay", "diode")
        } if source_a > 0.0 else {}
        loads = [*draws, *inputs.values()]

        def taken_a(volts: float) -> float:
            linked = sum(branch(volts) for _, branch in branches.values())
            return drawn_a(loads, volts) + own.taken_a(volts) + linked

        set_v = self._set_v(name, own.open_v, bool(links), link_v, source_a)
        volts = bus_v(taken_a, source_a, set_v, LEAST_V * self.scale)
        if volts is None:
            self.found[name] = Moment(0.0, 0.0, 0.0, {}, {}, collapsed=True)
            return
        for charger, branch in branches.values():
            drop_v = DIODE_V * self.scale if charger.kind == "diode" else 0.0
            self._solve(charger.target, {charger.name: branch(volts)}, volts - drop_v)
            passed[charger.name] = self.found[charger.target].supplied_a.get(charger.name, 0.0)
        for charger_name, draw in inputs.items():
            passed[charger_name] = draw.at(volts)
        drawn = drawn_a(draws, volts)
        wanted = max(0.0, drawn + sum(passed.values()) + own.taken_a(volts))
        supplied = _shared(offers, min(source_a, wanted))
        battery_a = drawn + sum(passed.values()) - sum(supplied.values())
        self.found[name] = Moment(volts, drawn, battery_a, supplied, passed)

    def _offers(self, name: str) -> dict[str, float]:
        """Sun and shore first, then the alternator."""
        found = {
            c.name: self.around.outside_a[c.name] for c in self.chargers
            if c.target == name and self.around.outside_a.get(c.name, 0.0) > 0.0
        }
        if name == self.main and self.around.alternator_a:
            found["alternator"] = self.around.alternator_a
        return found

    def _set_v(
        self, name: str, open_v: float, linked: bool, link_v: float, source_a: float
    ) -> float:
        """The volts that the sources hold, if they can."""
        store = self.stores[name]
        if source_a <= 0.0:
            return open_v
        if linked:
            return max(link_v, open_v)
        if name == self.main and self.around.alternator_a is not None:
            share = store.wells.share_of(self.charges[name])
            if self.held_back and share >= COMPUTER_HOLDS[1]:
                return max(self.smart_v, open_v)
            return max(self.around.set_v, open_v)
        return max(store.full_v, open_v)

    def _branch(self, charger: Charger) -> Callable[[float], float]:
        """Current through a relay or diode into the battery behind it, over the bus volts."""
        store = self.stores[charger.target]
        own = store.store(self.charges[charger.target])
        draws = self.around.draws.get(charger.target, ())
        already = sum(self._offers(charger.target).values())

        def wants(volts: float) -> float:
            return max(0.0, drawn_a(draws, volts) + own.taken_a(volts) - already)

        if charger.kind == "diode":
            return behind_diode(wants, DIODE_V * self.scale)
        opens, closes = RELAY_OPENS_V * self.scale, RELAY_CLOSES_V * self.scale
        return lambda volts: relay_closed_share(volts, opens, closes) * wants(volts)


def _shared(offers: Mapping[str, float], wanted_a: float) -> dict[str, float]:
    """Sources give in their order until what is wanted is met."""
    found: dict[str, float] = {}
    for name, most_a in offers.items():
        found[name] = min(most_a, max(0.0, wanted_a - sum(found.values())))
    return found
