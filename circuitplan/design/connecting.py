"""Connectors: their contacts in series with the wires, and then what they are in the result.

A connector sits where the wires end at an accessory, or the feeder at a panel; its wire goes on
under the same number. It adds a contact and two crimps to the feed, and as much to the way back if
that passes through it. Where wires end in tails, each piece has a connector of its own.
"""

from __future__ import annotations

from collections.abc import Iterable

from circuitplan.design.assume import Ledger
from circuitplan.design.draft import CircuitDraft, End, Node, Segment
from circuitplan.design.load import Load
from circuitplan.design.maker import TERMINAL_C, Maker
from circuitplan.design.numbering import Numbers
from circuitplan.design.ways import Ways
from circuitplan.library import connectors, contacts
from circuitplan.library.connectors import ConnectorKind
from circuitplan.model.connection import Cavity, CavityRole, Connector
from circuitplan.model.plan import ConnectorSpec
from circuitplan.model.record import record
from circuitplan.model.result import Run
from circuitplan.physics.connectors import usable_a

UNKNOWN_JOINT, FAVOURABLE_JOINT = "trailer plug contact", "blade joint 6.3 mm"
"""For a contact that the plan does not name: the poorest and the best of its size (judgement)."""
TESTED_AT_C = 20.0
"""Surroundings for which a rating holds that says nothing of them: a room (judgement)."""
CRIMPS = 2
"""One in each half."""
NONE = "none"


def fit(maker: Maker, draft: CircuitDraft, loads: list[Load]) -> None:
    """Put the connectors of a circuit's accessories in series with their wires."""
    for index in draft.loads:
        load = loads[index]
        spec = load.accessory.connector
        if spec is not None and draft.feeds.get(index):
            backs = draft.returns.get(index, [])[:1]
            if load.accessory.quantity > draft.feeds[index][-1].pieces:
                maker.ledger.say(
                    load.name, "connector", "one for all pieces", "its wires end in no tails",
                    "judgement",
                )
            _put(maker, load.name, spec, draft.feeds[index][-1], backs)


def fit_feeder(maker: Maker, node: Node) -> None:
    """The same at a panel's end of its feeder."""
    if node.panel is not None and node.panel.connector is not None:
        _put(maker, node.name, node.panel.connector, node.feeder[0], node.feeder[1:])


def _put(
    maker: Maker, name: str, spec: ConnectorSpec, feed: Segment, backs: list[Segment]
) -> None:
    joint = _joint(spec, name, maker.ledger)
    ambient_c = _ambient_c(feed, maker.ways)
    through = [feed, *(backs if _poles(spec)[2] is not None else [])]
    for segment in through:
        segment.contacts = (*segment.contacts, joint)
        segment.crimps += CRIMPS
        segment.takes_mm2 = _takes(spec)
        if spec.class_c is not None:
            segment.ends = (*segment.ends, End("connector", ambient_c, spec.class_c))


def _ambient_c(feed: Segment, ways: Ways) -> float:
    """How hot it gets where a wire ends [°C]."""
    places = feed.route.places
    return ways.ambient(places[-1])[0] if places else feed.route.ambient_c


def _joint(spec: ConnectorSpec, name: str, ledger: Ledger) -> str:
    kind = _kind(spec)
    if kind is not None:
        return kind.contact
    tab = connectors.tab(spec.contact)
    if tab is not None:
        return tab.joint
    ohm = contacts.get(UNKNOWN_JOINT).design_ohm
    if ledger.favours(
        name, "connector contacts", f"{1000.0 * ohm:g} mΩ each",
        "the poorest joint of the table", "judgement",
    ):
        return FAVOURABLE_JOINT
    return UNKNOWN_JOINT


def _takes(spec: ConnectorSpec) -> tuple[float, float] | None:
    """Thinnest and thickest wire that the contacts take [mm²], if anybody says so."""
    if spec.least_mm2 is not None and spec.most_mm2 is not None:
        return spec.least_mm2, spec.most_mm2
    tab = connectors.tab(spec.contact)
    return None if tab is None else (tab.least_mm2, tab.most_mm2)


def fits(segments: Iterable[Segment], area_mm2: float) -> bool:
    """Whether every connector at these wires takes a wire of that area."""
    taken = [s.takes_mm2 for s in segments if s.takes_mm2 is not None]
    return all(least <= area_mm2 <= most for least, most in taken)


def _kind(spec: ConnectorSpec) -> ConnectorKind | None:
    return connectors.find(spec.kind) if spec.kind is not None else None


def _poles(spec: ConnectorSpec) -> tuple[tuple[str, ...], str, str | None]:
    """(all numbers, that of the feed, that of the return or None if it goes past)."""
    kind = _kind(spec)
    if kind is not None:
        numbers = tuple(p.number for p in kind.poles)
    elif spec.rows is not None and " " in spec.rows:
        numbers = tuple(sorted(spec.rows.replace("/", " ").split(), key=lambda n: (len(n), n)))
    else:
        numbers = tuple(str(n) for n in range(1, (spec.ways or 1) + 1))
    feed = spec.feed or (kind.feed if kind is not None else None)
    back = spec.back or (kind.back if kind is not None else None)
    feed = feed or next(n for n in numbers if n != back)
    back = back or next((n for n in numbers if n != feed), None)
    return numbers, feed, None if back == NONE else back


def _rows(spec: ConnectorSpec, numbers: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    """Numbers as they stand; counted off row by row where the plan gives no more than a count."""
    if _kind(spec) is not None:
        return ()
    rows = spec.rows or "1"
    if " " in rows:
        return tuple(tuple(row.split()) for row in rows.split("/"))
    long = -(-len(numbers) // int(rows))
    return tuple(numbers[at : at + long] for at in range(0, len(numbers), long))


def of_load(
    draft: CircuitDraft, load: Load, index: int, numbers: Numbers, runs: tuple[Run, ...],
    ways: Ways,
) -> Connector | None:
    """The connector of one accessory in the form of the result."""
    spec = load.accessory.connector
    if spec is None or not draft.feeds.get(index):
        return None
    backs = draft.returns.get(index, [])[:1]
    return _result(
        spec, load.name, numbers.connector[load.name], draft.feeds[index][-1], backs, numbers, runs,
        ways,
    )


def of_node(
    node: Node, numbers: Numbers, runs: tuple[Run, ...], ways: Ways
) -> Connector | None:
    """The connector at a panel in the form of the result."""
    spec = node.panel.connector if node.panel is not None else None
    if spec is None:
        return None
    return _result(
        spec, node.name, numbers.connector[f"panel {node.name}"], node.feeder[0], node.feeder[1:],
        numbers, runs, ways,
    )


def _result(
    spec: ConnectorSpec, name: str, id_: str, feed: Segment, backs: list[Segment],
    numbers: Numbers, runs: tuple[Run, ...], ways: Ways,
) -> Connector:
    kind, tab = _kind(spec), connectors.tab(spec.contact)
    ledger, ambient_c = ways.ledger, _ambient_c(feed, ways)
    known = {run.id: run for run in runs}
    poles, feed_pole, back_pole = _poles(spec)
    wires = {feed_pole: known[numbers.run[feed.key]]}
    if back_pole is not None and backs:
        wires[back_pole] = known[numbers.run[backs[0].key]]
    uses = {p.number: p.use for p in kind.poles} if kind is not None else {}
    rated = _rated(spec, name, ledger, ambient_c)
    least, most = _takes(spec) or (None, None)
    source = "the plan"
    if spec.least_mm2 is None and tab is not None:
        source = f"{tab.source} ({tab.status})"
    return Connector(
        id=id_, of=name, what=kind.kind if kind is not None else f"{len(poles)}-way",
        standard=kind is not None, pieces=feed.pieces, ways=len(poles), rows=_rows(spec, poles),
        rows_given=spec.rows is not None and " " in spec.rows,
        cavities=tuple(_cavity(n, uses.get(n), wires.get(n), n == feed_pole) for n in poles),
        contact=spec.contact, contact_ohm=contacts.get(_joint(spec, name, ledger)).design_ohm,
        ambient_c=ambient_c, class_c=rated.class_c, rating_a=spec.rating_a,
        rated_at_c=rated.rated_at_c, usable_a=rated.usable_a,
        current_a=max(run.thermal_a for run in wires.values()),
        least_mm2=least, most_mm2=most, takes_source=source if least is not None else None,
        sealed=spec.sealed, source=f"{kind.source} ({kind.status})" if kind is not None else "",
    )


def _cavity(number: str, use: str | None, run: Run | None, feed: bool) -> Cavity:
    if run is None:
        return Cavity(number, use, "empty", None, None, None, None)
    role: CavityRole = "feed" if feed else "return"
    if run.unknown:  # nobody knows whether the contacts take it
        return Cavity(number, use, role, run.id, None, "size unknown", run.colour)
    return Cavity(number, use, role, run.id, run.area_mm2, run.size, run.colour)


@record
class _Rated:
    """A contact's rating where it sits."""

    class_c: float
    rated_at_c: float | None
    usable_a: float | None


def _rated(spec: ConnectorSpec, name: str, ledger: Ledger, ambient_c: float) -> _Rated:
    class_c = spec.class_c if spec.class_c is not None else TERMINAL_C
    if spec.rating_a is None:
        open_ = ledger.favours(
            name, "connector rating", "none: nothing may hang on it",
            "the plan does not give it", "judgement",
        )
        return _Rated(class_c, None, None if open_ else 0.0)
    rated_at_c = spec.rated_at_c
    if rated_at_c is None:
        rated_at_c = ledger.take(
            name, "surroundings of the connector rating", TESTED_AT_C, "°C",
            "a room: the plan does not say", "judgement",
            favourable=max(ambient_c, TESTED_AT_C),
        )
    if spec.class_c is None and ambient_c > rated_at_c:
        ledger.take(
            name, "connector class", class_c, "°C", "ordinary terminals", "judgement"
        )
    return _Rated(class_c, rated_at_c, usable_a(spec.rating_a, rated_at_c, class_c, ambient_c))

