"""Every connector of a result with whose it is: what the rules on connectors look through."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.library import practices
from circuitplan.model.record import record
from circuitplan.model.result import Connector
from circuitplan.rules.base import num
from circuitplan.rules.case import Case, FusePlace
from circuitplan.units import round_up


@record
class Plug:
    """One connector; ``subject`` is the accessory or panel whose wires end in it."""

    connector: Connector
    subject: str
    circuit: str | None
    fuse: FusePlace | None  # the one before its feed

    @property
    def share(self) -> float:
        """What is left of its rating where it sits."""
        rating_a = self.connector.rating_a
        return (self.connector.usable_a or 0.0) / rating_a if rating_a else 0.0


def plugs(case: Case) -> Iterator[Plug]:
    """Those of the circuits by number, then those of the panels."""
    for circuit in case.circuits:
        for connector in circuit.connectors:
            yield _plug(case, connector, circuit.id)
    for panel in case.panels:
        if panel.connector is not None:
            yield _plug(case, panel.connector, None)


def _plug(case: Case, connector: Connector, circuit: str | None) -> Plug:
    feed = next((c.run for c in connector.cavities if c.role == "feed"), None)
    place = case.run(feed) if feed is not None else None
    fuse = case.fuse(place.run.protected_by) if place is not None else None
    return Plug(connector, connector.of, circuit, fuse)


def ratio(case: Case) -> float:
    """What a contact must bear over its fuse's rating, by the practice."""
    practice = practices.get(case.practice)
    return (practice.value("switch_rating_over_in") if practice is not None else None) or 1.0


def needed_a(case: Case, plug: Plug) -> float:
    """What one contact must bear [A]: its current, and its fuse."""
    if plug.fuse is None or plug.fuse.fuse.short_circuit_only:
        return plug.connector.current_a
    return max(plug.connector.current_a, ratio(case) * plug.fuse.fuse.rating_a)


def better(case: Case, plug: Plug) -> str:
    """Words for contacts that would do there."""
    c, needed = plug.connector, needed_a(case, plug)
    if plug.share <= 0.0:
        return f"contacts that bear {num(round_up(needed), 4)} A at {num(c.ambient_c)} °C"
    least = round_up(needed / plug.share)
    if plug.share >= 1.0:
        return f"contacts rated {num(least, 4)} A or more"
    return (
        f"contacts rated {num(least, 4)} A or more up to {num(c.rated_at_c or 0.0)} °C, or "
        f"{num(round_up(needed), 4)} A up to {num(c.ambient_c)} °C"
    )
