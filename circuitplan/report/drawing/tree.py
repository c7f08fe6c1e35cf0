"""The distribution as a tree: sources, panels and outputs, circuits with their accessories."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from circuitplan.model.result import (
    AccessoryResult,
    Circuit,
    Fuse,
    Relay,
    Result,
    Run,
    SwitchResult,
)
from circuitplan.planner.holding import concerns
from circuitplan.planner.story import counted
from circuitplan.report import show
from circuitplan.report.words import switch_names

_SYMBOL_WORDS = (
    ("lamp", ("lamp", "light", "beacon", "led ", "strobe")),
    ("horn", ("horn", "siren", "buzzer")),
    ("heater", ("heater",)),
    ("motor", ("motor", "compressor", "winch", "pump", "fan", "blower")),
    ("socket", ("socket", "charging port", "outlet")),
)
_SYMBOL_LETTERS = {"M": "motor", "G": "motor", "X": "socket"}


@dataclass(frozen=True, slots=True)
class Guard:
    """What stands first in a branch: ``symbol`` fuse, breaker, isolator or none."""

    symbol: str
    above: str
    below: str


@dataclass(frozen=True, slots=True)
class Contact:
    """``symbol`` switch (by hand), relay (worked by ``below``) or none."""

    symbol: str
    above: str
    below: str


@dataclass(frozen=True, slots=True)
class Load:
    """One accessory, or the coils of a control circuit; ``back`` is wire or chassis."""

    symbol: str
    letter: str
    name: str
    detail: str
    back: str
    contact: Contact
    wire: str
    size: str


@dataclass(frozen=True, slots=True)
class CircuitBranch:
    """``shared``: the one contact that works all loads, so that it is drawn once."""

    guard: Guard
    loads: tuple[Load, ...]
    shared: Contact | None


@dataclass(frozen=True, slots=True)
class Node:
    """``kind``: source, panel, converter or output. ``guard`` is that of its own feeder."""

    kind: str
    name: str
    detail: str
    guard: Guard
    wire: str
    size: str
    panels: tuple[Node, ...]
    circuits: tuple[CircuitBranch, ...]


def distribution(result: Result) -> tuple[Node, ...]:
    """One tree a source, each thing under what feeds it; a ring in the data raises ValueError."""
    panels = {p.id: p for p in result.panels}
    outputs = {s.id: s for s in result.switches if s.type in ("output", "signal")}
    names = switch_names(result)
    hangs: dict[str, list[Circuit]] = {}
    for circuit in result.circuits:
        hangs.setdefault(circuit.panel, []).append(circuit)
    output_source = {c.panel: c.source for c in result.circuits if c.panel in outputs}
    roots = [p.fed_from for p in result.panels] + [
        output_source.get(c.panel, c.panel) for c in result.circuits
    ]
    sources = [r for r in dict.fromkeys(roots) if r not in panels and r not in outputs]
    used: set[str] = set()

    def circuits_of(name: str) -> tuple[CircuitBranch, ...]:
        return tuple(_branch(c, result, names) for c in hangs.get(name, ()))

    def children(name: str) -> tuple[Node, ...]:
        fed = [panel(p.id) for p in result.panels if p.fed_from == name]
        return (*fed, *(output(s) for s, source in output_source.items() if source == name))

    def panel(name: str) -> Node:
        used.add(name)
        p = panels[name]
        rated = f"{show.up(p.current_a)} A"
        rated += f" of {show.rating(p.rating_a)} A" if p.rating_a is not None else ""
        volts = f", {show.rating(p.output_v)} V out" if p.output_v is not None else ""
        return Node(
            "converter" if p.output_v is not None else "panel",
            name,
            f"{rated}{volts}{f', {p.place}' if p.place else ''}",
            _guard((p.fuse,) if p.fuse else (), None),
            *_wires([r for r in p.feeder if r.role == "feed"]),
            children(name),
            circuits_of(name),
        )

    def output(name: str) -> Node:
        s = outputs[name]
        rated = f" of {show.rating(s.rating_a)} A" if s.rating_a is not None else ""
        return Node(
            "output", f"{s.type} {names[name]}", f"{show.up(s.current_a)} A{rated}",
            Guard("none", "", "vehicle's fuse"), "", "", (), circuits_of(name),
        )  # fmt: skip

    trees = tuple(
        Node("source", s, "", Guard("none", "", ""), "", "", children(s), circuits_of(s))
        for s in sources
    )
    if len(used) != len(panels):
        raise ValueError(f"panels that no source feeds: {sorted(panels.keys() - used)}")
    return trees


def _branch(c: Circuit, result: Result, names: dict[str, str]) -> CircuitBranch:
    loads = tuple(_load(c, a, result, names) for a in c.accessories)
    loads = loads or (_control(c, result, names),)
    contacts = {load.contact for load in loads}
    one = loads[0].contact if len(contacts) == 1 and loads[0].contact.symbol != "none" else None
    return CircuitBranch(_guard(c.fuses[:1], c.isolator_a), loads, one)


def _guard(fuses: tuple[Fuse, ...], isolator_a: float | None) -> Guard:
    if fuses:
        fuse = fuses[0]
        symbol = "breaker" if fuse.type == "breaker" else "fuse"
        return Guard(symbol, fuse.id, f"{show.rating(fuse.rating_a)} A {fuse.type}")
    if isolator_a is not None:
        return Guard("isolator", "isolator", f"{show.rating(isolator_a)} A, no fuse")
    return Guard("none", "", "no fuse")


def _load(c: Circuit, a: AccessoryResult, result: Result, names: dict[str, str]) -> Load:
    own = tuple(s for s in result.switches if a.name in s.works and s.id in c.switches)
    relay = _relay_of(c.relays, tuple(s.id for s in own))
    if relay:
        by = show.listed(relay.switches) if relay.switches else "no switch"
        ids = ", ".join(r.id for r in c.relays) if relay.at else relay.id
        contact = Contact("relay", ids, f"by {by}")
    else:
        contact = _by_hand([s for s in own if s.type == "direct"], names)
    feeds = [r for r in c.runs if r.role == "feed"]
    runs = [r for r in feeds if a.name in r.accessories] or feeds
    behind = [f for f in c.fuses[1:] if f.protects in {r.id for r in runs}]
    parts = [
        f"{a.quantity} ×" if a.quantity > 1 else "",
        f"{show.up(a.current_a)} A",
        *(f"behind {f.id} {show.rating(f.rating_a)} A {f.type}" for f in behind),
        "does not hold" if any(concerns(f, c) for f in counted(result.findings)) else "",
    ]
    return Load(
        _symbol(a), a.letter, f"{c.number} {a.name}", ", ".join(p for p in parts if p), a.back,
        contact, *_wires(runs),
    )  # fmt: skip


def _control(c: Circuit, result: Result, names: dict[str, str]) -> Load:
    """A circuit without accessories: it feeds the coils that its switches work."""
    own = [s for s in result.switches if s.id in c.switches]
    relays = [r.id for x in result.circuits for r in x.relays if set(r.switches) & set(c.switches)]
    coils = f"coil of {show.listed(relays)}" if relays else ""
    detail = ", ".join(x for x in (f"{show.up(c.current_a)} A", coils) if x)
    return Load(
        "coil", "K", f"{c.number} {c.label}", detail, "wire", _by_hand(own, names), *_wires(c.runs)
    )


def _by_hand(switches: list[SwitchResult], names: dict[str, str]) -> Contact:
    if not switches:
        return Contact("none", "", "")
    symbol = "relay" if all(s.type == "signal" for s in switches) else "switch"
    return Contact(symbol, show.listed([names[s.id] for s in switches]), "")


def _relay_of(relays: tuple[Relay, ...], switches: tuple[str, ...]) -> Relay | None:
    worked = next((r for r in relays if set(r.switches) & set(switches)), None)
    return worked or (relays[0] if len(relays) == 1 and not switches else None)


def _wires(runs: Sequence[Run]) -> tuple[str, str]:
    """Names of the wires in a row, and their sizes without repeats."""
    sizes = dict.fromkeys(f"{f'{r.pieces} × ' if r.pieces > 1 else ''}{r.size}" for r in runs)
    return " ".join(r.id for r in runs), ", ".join(sizes)


def _symbol(a: AccessoryResult) -> str:
    text = f"{a.kind or a.name} ".casefold()
    for symbol, words in _SYMBOL_WORDS:
        if any(word in text for word in words):
            return symbol
    if a.load == "solenoid":
        return "coil"
    return _SYMBOL_LETTERS.get(a.letter, "box")
