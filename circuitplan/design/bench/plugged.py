"""Where wires end in connectors: looked up by all lists that say where a wire goes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from circuitplan.model.record import record
from circuitplan.model.result import Circuit, Connector, PanelResult, Result, Run

Plugs = dict[tuple[str, str], Connector]
"""The connector that a wire ends in at a thing: by wire number, and accessory or panel."""


def connectors(result: Result) -> Iterator[Connector]:
    """Every connector by its number."""
    return of(result.circuits, result.panels)


def of(circuits: Iterable[Circuit], panels: Iterable[PanelResult]) -> Iterator[Connector]:
    """The same before there is a result."""
    found = [p.connector for p in panels if p.connector is not None]
    found += [c for k in circuits for c in k.connectors]
    return iter(sorted(found, key=lambda c: int(c.id[1:])))


def ends(found: Iterable[Connector]) -> Plugs:
    """Where wires end in these connectors."""
    return {(x.run, c.of): c for c in found for x in c.cavities if x.run is not None}


def end_of(run: Run, thing: str, found: Plugs, piece: int = 0) -> str:
    """``X3:1`` where ``run`` ends in the connector of ``thing``, else an empty text.

    ``piece`` counts equal wires from 1: ``X3-2:1`` is in the second of the connectors alike.
    """
    connector = found.get((run.id, thing))
    at = connector.at(run.id) if connector is not None and thing in (run.from_, run.to) else None
    if connector is None or at is None:
        return ""
    many = connector.pieces > 1 and run.pieces > 1 and piece > 0
    return f"{connector.id}-{piece}:{at.split(':', 1)[1]}" if many else at


def where(run: Run, thing: str, found: Plugs, piece: int = 0) -> str:
    """The end of a wire as it is called in lists: ``X3:1 Roof bar``, or the thing alone."""
    at = end_of(run, thing, found, piece)
    return f"{at} {thing}" if at else thing


@record
class Need:
    """What one connector needs; ``size`` is that of the wire that it is made for, or empty."""

    what: str
    size: str
    run: str | None
    quantity: int
    note: str


def needs(c: Connector) -> Iterator[Need]:
    """Both halves of it, their contacts, seals, and plugs for what stays empty."""
    if c.standard:
        yield Need(f"plug and socket, {c.what}", "", None, c.pieces, "contacts with them")
        return
    yield Need(f"connector housing, {c.what}, both halves", "", None, c.pieces,
               "leave out the half that comes with the accessory")  # fmt: skip
    contact = f"connector contact, {c.contact}" if c.contact else "connector contact"
    for cavity in c.cavities:
        if cavity.run is not None:
            size = "" if cavity.size == "size unknown" else cavity.size or ""
            yield Need(contact, size, cavity.run, 2 * c.pieces, "both halves")
            if c.sealed:
                yield Need("wire seal for a connector", size, cavity.run, 2 * c.pieces,
                           "both halves")  # fmt: skip
    empty = sum(1 for x in c.cavities if x.role == "empty")
    if empty and c.sealed is not False:
        note = "both halves" if c.sealed else "both halves, if the housing is a sealed one"
        yield Need("plug for an empty cavity", "", None, 2 * empty * c.pieces, note)


OPENS = 3.0
"""How likely a connector is at fault against others of ``faultfinding`` (judgement)."""
Part = tuple[str, float, str, float]
"""An element of a way: name, ohm, the point behind it, how likely it is at fault."""


def split(wire: Part, run: str, back: bool, c: Connector | None) -> tuple[Part, ...]:
    """A wire, and the connector at its end (``back``: at its start) as an element by itself."""
    cavity = c.at(run) if c is not None else None
    if c is None or cavity is None:
        return (wire,)
    name, whole, at, likely = wire
    ohm = min(c.contact_ohm / c.pieces, 0.5 * whole)
    joint = f"{cavity}, wire side, plugged in"
    own = (name, whole - ohm, at if back else joint, likely)
    contact = (f"connector {cavity}", ohm, joint if back else at, OPENS)
    return (contact, own) if back else (own, contact)
