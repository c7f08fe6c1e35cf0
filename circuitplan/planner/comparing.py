"""Two revisions of a plan: what changed, for the shop's revision note."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any, TypeVar

from circuitplan.model.plan import Plan
from circuitplan.model.record import record
from circuitplan.model.result import (
    AccessoryResult,
    Circuit,
    Connector,
    Finding,
    PanelResult,
    Part,
    Result,
    ScenarioResult,
    SwitchResult,
)
from circuitplan.planner.comparing_given import given_changes
from circuitplan.units import show_hours

FORMAT = "circuitplan compare 1"

T = TypeVar("T")


@record
class Changed:
    """One figure or word of one thing; None: it was not there, or is there no more."""

    sort: str  # plan (what is said differently), accessory, circuit, switch, panel, supply
    subject: str
    what: str
    old: str | None
    new: str | None
    small: bool = False  # a figure that others pushed a little; never a wire, fuse, relay or switch


@record
class PartChange:
    """Parts to buy: how many more (or fewer), and metres of wire."""

    what: str
    size: str
    colour: str | None
    quantity: int
    length_m: float | None


@record
class Comparison:
    """``answer`` is that of the new revision. Names are those of accessories, switches, panels."""

    answer: str
    because: str
    old_answer: str
    revisions: tuple[str | None, str | None]
    added: tuple[str, ...]
    removed: tuple[str, ...]
    changed: tuple[Changed, ...]
    findings_new: tuple[Finding, ...]
    findings_gone: tuple[Finding, ...]
    parts_added: tuple[PartChange, ...]
    parts_removed: tuple[PartChange, ...]
    format: str = FORMAT

    @property
    def same(self) -> bool:
        return not (
            self.added or self.removed or self.changed or self.findings_new
            or self.findings_gone or self.parts_added or self.parts_removed
        )  # fmt: skip


def compare(old_plan: Plan, old: Result, new_plan: Plan, new: Result) -> Comparison:
    """What a mechanic must know who has the old revision in hand and works to the new one."""
    before, after = _names(old_plan), _names(new_plan)
    parts = list(_parts(old.parts, new.parts))
    return Comparison(
        answer=new.answer, because=new.because, old_answer=old.answer,
        revisions=(old_plan.revision, new_plan.revision),
        added=tuple(n for n in after if n not in before),
        removed=tuple(n for n in before if n not in after),
        changed=(
            *(Changed("plan", *said) for said in given_changes(old_plan, new_plan)),
            *_changes(old, new),
        ),
        findings_new=_findings(new, old), findings_gone=_findings(old, new),
        parts_added=tuple(p for p in parts if p.quantity > 0 or (p.length_m or 0.0) > 0.0),
        parts_removed=tuple(p for p in parts if p.quantity < 0 or (p.length_m or 0.0) < 0.0),
    )


def same_work(old: Plan, new: Plan) -> bool:
    """Whether two plans hold the same entries, so that one design does for both.

    Remarks, lines, names of files, and title block are left aside; entries in another order are
    taken for another plan, since that costs time and no truth.
    """
    return bool(_without_place(old) == _without_place(new))


def _without_place(value: Any) -> Any:
    if dataclasses.is_dataclass(value):
        return [
            (field.name, _without_place(getattr(value, field.name)))
            for field in dataclasses.fields(value)
            if field.name not in ("where", "file", "sha256", "title", "revision", "job")
        ]
    if isinstance(value, tuple):
        return [_without_place(one) for one in value]
    return value


def _names(plan: Plan) -> tuple[str, ...]:
    things: tuple[Any, ...] = (*plan.accessories, *plan.switches, *plan.panels)
    return tuple(sorted(thing.name for thing in things))


def _findings(mine: Result, other: Result) -> tuple[Finding, ...]:
    """Findings that the other has not, or not as grave; figures alone make no new finding."""
    keys = {(f.rule, f.subject, f.signal_word, f.accepted_by) for f in other.findings}
    return tuple(
        f for f in mine.findings
        if (f.rule, f.subject, f.signal_word, f.accepted_by) not in keys
    )


# --- figures ---------------------------------------------------------------------------------


def _changes(old: Result, new: Result) -> Iterator[Changed]:
    yield from _both("accessory", _accessories(old), _accessories(new), _of_accessory)
    yield from _both("circuit", _circuits(old), _circuits(new), _of_circuit)
    yield from _both("circuit", *_regrouped(old, new), _of_circuit)
    was, now = ({s.id: s for s in r.switches} for r in (old, new))
    yield from _both("switch", was, now, _of_switch)
    before, after = ({p.id: p for p in r.panels} for r in (old, new))
    yield from _both("panel", before, after, _of_panel)
    then, today = ({f"{s.name} ({s.battery})": s for s in r.supply.scenarios} for r in (old, new))
    yield from _both("supply", then, today, _of_scenario)


def _both(
    sort: str, old: dict[str, T], new: dict[str, T],
    facts: Callable[[T], Iterable[tuple[str, str | None]]],
) -> Iterator[Changed]:
    """Facts that differ of what both have; what only one has is told by its name alone."""
    for name in sorted(old.keys() & new.keys()):
        was, now = dict(facts(old[name])), dict(facts(new[name]))
        for what in dict.fromkeys((*was, *now)):
            if was.get(what) != now.get(what):
                yield Changed(sort, name, what, was.get(what), now.get(what),
                              _small(was.get(what), now.get(what)))


_FIGURE = re.compile(r"(-?\d+(?:\.\d+)?) (A|%|h)")
_LITTLE = {"%": 0.3, "A": 0.2, "h": 0.1}


def _small(old: str | None, new: str | None) -> bool:
    """Whether two figures differ by no more than 0.3 % of the nominal, 0.1 h, or 2 % and 0.2 A."""
    was, now = (_FIGURE.fullmatch(text or "") for text in (old, new))
    if was is None or now is None or was[2] != now[2]:
        return False
    if (float(was[1]) < 0.0) != (float(now[1]) < 0.0):  # what held and now does not is never small
        return False
    step = abs(float(now[1]) - float(was[1]))
    most = _LITTLE[was[2]]
    if was[2] == "A":
        most = max(most, 0.02 * abs(float(was[1])))
    return step <= most + 1e-9


def _regrouped(old: Result, new: Result) -> tuple[dict[str, Circuit], dict[str, Circuit]]:
    """Accessories whose circuit has other members now: by the name of each."""
    were, are = _accessories(old), _accessories(new)
    names = [
        n for n in were.keys() & are.keys()
        if {a.name for a in were[n][0].accessories} != {a.name for a in are[n][0].accessories}
    ]
    return {n: were[n][0] for n in names}, {n: are[n][0] for n in names}


def _accessories(result: Result) -> dict[str, tuple[Circuit, AccessoryResult]]:
    return {a.name: (c, a) for c in result.circuits for a in c.accessories}


def _of_accessory(pair: tuple[Circuit, AccessoryResult]) -> Iterator[tuple[str, str | None]]:
    circuit, accessory = pair
    yield "kind", accessory.kind
    yield "quantity", str(accessory.quantity)
    yield "place", accessory.place
    yield "circuit number", str(circuit.number)
    plug = next((c for c in circuit.connectors if c.of == accessory.name), None)
    yield "connector", _connector(plug)
    yield "switch", ", ".join(circuit.switches) or None
    yield "fed from", circuit.panel
    yield "current", _a(accessory.current_a)
    own = [r for r in circuit.runs if r.role == "feed" and accessory.name in r.accessories]
    yield "wire", ", ".join(dict.fromkeys(f"{r.size} {r.colour}" for r in own)) or None
    yield "length", f"{sum(r.length_m for r in own):.2f} m" if own else None
    drop = next((d for d in circuit.drops if d.accessory == accessory.name), None)
    yield "drop", f"{drop.percent:.1f} %" if drop else None
    margin = drop.limit_percent - drop.percent if drop else None
    yield "drop margin", None if margin is None else f"{margin:.1f} %"


def _connector(connector: Connector | None) -> str | None:
    """Its number, what it is, and which wire is in which cavity."""
    if connector is None:
        return None
    poles = ", ".join(f"{c.run} in {c.number}" for c in connector.cavities if c.run)
    return f"{connector.id}, {connector.what}: {poles}"


def _circuits(result: Result) -> dict[str, Circuit]:
    """By what hangs on them, since numbers may move."""
    return {", ".join(sorted(a.name for a in c.accessories)) or c.label: c for c in result.circuits}


def _of_circuit(circuit: Circuit) -> Iterator[tuple[str, str | None]]:
    fuses = [f"{f.rating_a:g} A {f.type}" for f in circuit.fuses]
    yield "fuse", ", ".join(fuses) or "none"
    yield "fuse place", ", ".join(f.position for f in circuit.fuses) or None
    yield "relay", ", ".join(r.type for r in circuit.relays) or None


def _of_switch(switch: SwitchResult) -> Iterator[tuple[str, str | None]]:
    yield "label", switch.label
    yield "type", switch.type
    yield "rating", _a(switch.rating_a)
    yield "load", _a(switch.current_a)
    yield "spare", _a(switch.spare_a)
    yield "works", ", ".join(switch.works) or None


def _of_panel(panel: PanelResult) -> Iterator[tuple[str, str | None]]:
    yield "fed from", panel.fed_from
    yield "load", _a(panel.current_a)
    yield "spare", _a(panel.spare_a)
    yield "free ways", None if panel.free_ways is None else str(panel.free_ways)
    yield "feeder", panel.feeder[0].size if panel.feeder else None
    yield "connector", _connector(panel.connector)
    yield "fuse", f"{panel.fuse.rating_a:g} A {panel.fuse.type}" if panel.fuse else None


def _of_scenario(scenario: ScenarioResult) -> Iterator[tuple[str, str | None]]:
    yield "demand", _a(scenario.demand_a)
    yield "alternator margin", _a(scenario.margin_a)
    hours = scenario.hours_to_reserve
    yield "hours to reserve", None if hours is None else show_hours(hours)


def _a(value: float | None) -> str | None:
    return None if value is None else f"{value:.2f} A" if abs(value) < 1 else f"{value:.1f} A"


# --- parts -----------------------------------------------------------------------------------


def _parts(old: Sequence[Part], new: Sequence[Part]) -> Iterator[PartChange]:
    was, now = _counted(old), _counted(new)
    for key in sorted(was.keys() | now.keys(), key=lambda k: (k[0], k[1], k[2] or "")):
        pieces_old, length_old = was.get(key, (0, None))
        pieces_new, length_new = now.get(key, (0, None))
        length = None
        if length_old is not None or length_new is not None:
            length = round((length_new or 0.0) - (length_old or 0.0), 3)
        quantity = pieces_new - pieces_old
        if quantity or length:
            # what is bought by the metre is counted in metres alone
            yield PartChange(*key, 0 if length else quantity, length)


def _counted(
    parts: Sequence[Part],
) -> dict[tuple[str, str, str | None], tuple[int, float | None]]:
    found: dict[tuple[str, str, str | None], tuple[int, float | None]] = {}
    for part in parts:
        key = (part.what, part.size, part.colour)
        quantity, length = found.get(key, (0, None))
        more = part.length_m
        total = length if more is None else (length or 0.0) + more * (part.quantity or 1)
        found[key] = (quantity + part.quantity, total)
    return found
