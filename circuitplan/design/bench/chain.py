"""The way of one accessory's current, stretch by stretch, with the resistance each may have.

Battery (or converter) positive, feeders, circuit, accessory, and back to the negative. Test sheet,
verdict on readings and fault finding all look along this way.
"""

from __future__ import annotations

from dataclasses import replace

from circuitplan.design import compose, numbering, paths
from circuitplan.design.assume import Ledger
from circuitplan.design.draft import CircuitDraft, Segment
from circuitplan.design.load import COLD_COIL_FACTOR, Load
from circuitplan.design.numbering import Numbers
from circuitplan.design.protection.protect import Device
from circuitplan.design.state import State
from circuitplan.library import conductors
from circuitplan.model.plan import Plan
from circuitplan.model.record import record


@record
class Sized:
    """A plan with its sizes chosen, every assumed value at its safe end."""

    state: State
    numbers: Numbers


def sized(plan: Plan) -> Sized:
    """Draft and size a plan as ``planner.study`` does, without judging it."""
    state, _ = compose.sized(plan, Ledger())
    return Sized(state, numbering.give(state))


@record
class Stretch:
    """One wire with the joints, fuse and contacts in series with it [ohm].

    ``together``: current of all loads of this circuit on it, over the accessory's own.
    """

    wire: str
    back: bool  # on the negative side
    feeder: bool
    start: str
    end: str
    size: str
    area_mm2: float
    cold_ohm: float  # wire at 20 degC, highest of its class
    hot_ohm: float  # at its working temperature
    contact_ohm: float  # as designed with
    worst_ohm: float  # contacts when aged
    together: float
    fuse: str  # of the device before it, or empty
    relay: str
    thinner: tuple[tuple[str, float], ...]  # (size, how many times the resistance), next first
    at_rest: bool = False  # by the break contact of its relay


@record
class Chain:
    """``plus`` from the source to the accessory, ``minus`` from it back to the source.

    A chassis return ends in the body: ``body_ohm`` is its common part (0 where none is used).
    A motor that its switch works in two ways has a chain for each ``position``.
    """

    accessory: str
    circuit: int
    label: str
    source: str
    quantity: int
    load: Load
    design_a: float
    nominal_v: float
    limit_percent: float
    plus: tuple[Stretch, ...]
    minus: tuple[Stretch, ...]
    body_ohm: float
    style: str
    live: str
    source_v: float | None = None  # of a converter at its root
    position: str = ""

    @property
    def title(self) -> str:
        """The accessory, with the position of its switch where there are two."""
        return f"{self.accessory}, {self.position}" if self.position else self.accessory

    @property
    def no_load(self) -> bool:
        """A machine for short pulls (winch, starter): on the bench it is only tried without load,
        and then draws a fraction of what its cable is sized for."""
        return self.load.short_circuit_only or self.load.accessory.isolator_a is not None

    @property
    def no_load_a(self) -> float | None:
        """What machines of its kind usually draw without load [A] (``low_a`` of the winches in
        ``tables/kinds.csv``); None: not known."""
        kind = self.load.kind
        return kind.low_a if kind is not None and kind.family == "winch" else None

    def current_band(self, volts: float) -> tuple[float, float]:
        """(least, most) current at ``volts`` on its terminals [A]: typical - 10 %, high + 10 %.

        The 10 % are meter and spread of makers (judgement); a cold coil draws 1.19 times.
        """
        item = self.load
        share = min(1.0, item.typical_a / item.rated_a) if item.rated_a else 1.0
        at = [item.rated_a * (max(volts, 0.1) / item.rated_v) ** m for m in item.exponents]
        cold = COLD_COIL_FACTOR if item.model == "solenoid" else 1.0
        return 0.9 * share * min(at), 1.1 * cold * max(at)


def chains(found: Sized) -> tuple[Chain, ...]:
    """One chain an accessory and position, in the order of the circuit numbers."""
    state, numbers = found.state, found.numbers
    drafts = sorted(state.wiring.circuits, key=lambda c: numbers.circuit[c.key])
    return tuple(
        _chain(state, numbers, draft, index, position)
        for draft in drafts
        for index in draft.loads
        if not state.wiring.loads[index].source
        for position in draft.positions or ("",)
    )


def _chain(
    state: State, numbers: Numbers, draft: CircuitDraft, index: int, position: str
) -> Chain:
    item, worst_a = state.wiring.loads[index], float(state.demand.worst_a[index])
    if position == "low" and item.low_speed_a is not None:
        worst_a *= item.low_speed_a / item.rated_a
        item = replace(
            item, rated_a=item.low_speed_a, typical_a=min(item.typical_a, item.low_speed_a)
        )
    links = paths.feeders(state, draft, index) + paths.own(draft, index)
    devices: dict[str, Device | None] = {}
    for link in links:
        for key, device in state.devices_at(link.owner).items():
            devices[key] = device
    fuse_of: dict[str, str] = {}
    for owner in (link.owner for link in links):
        slots = [owner.slot] if owner.slot is not None else []
        slots += owner.inline if isinstance(owner, CircuitDraft) else []
        for slot in slots:
            if slot.key in numbers.fuse:
                fuse_of |= {s.key: numbers.fuse[slot.key] for s in state.starts(owner, slot)}
    relays = _relays(numbers, draft, index, position)

    def stretch(segment: Segment, feeder: bool, back: bool) -> Stretch:
        wire = state.wire[segment.key]
        own = segment.loads if not feeder else draft.loads
        rated = sum(state.wiring.loads[i].rated_a for i in own if i in draft.loads)
        smaller = [
            c for c in conductors.offered(wire.conductor.gauge)
            if c.area_mm2 < wire.conductor.area_mm2 * 0.999
        ]
        other = state.wiring.loads[index].rated_a
        at_rest = draft.motor == "reversing" and bool(segment.position) and back
        ends = (segment.start, segment.end)
        if back and segment.position:  # drawn towards the motor, and now the way back from it
            ends = ends[::-1]
        return Stretch(
            numbers.run[segment.key], back, feeder, *ends,
            wire.conductor.label, wire.conductor.area_mm2,
            state.wire_ohm(segment, wire, 20.0),
            state.wire_ohm(segment, wire, state.temperature(segment, wire)),
            *_contact_ohm(state, draft, segment, devices.get(segment.key), at_rest),
            max(1.0, rated / other) if other else 1.0,
            fuse_of.get(segment.key, ""), relays.get(segment.key, ""),
            tuple((c.label, c.r20_ohm_per_m / wire.conductor.r20_ohm_per_m)
                  for c in reversed(smaller)),
            at_rest and bool(relays),
        )

    nodes = [link.segment for link in links if link.owner is not draft]
    ordered = [stretch(s, True, s.is_return) for s in reversed(nodes)]
    mine = [stretch(s, False, back) for s, back in _own(draft, index, position)]
    plus = [s for s in ordered if not s.back] + [s for s in mine if not s.back]
    minus = [s for s in mine if s.back] + [s for s in reversed(ordered) if s.back]
    chassis = paths.uses_chassis(state, draft, index)
    limit = state.demand.limits[index]
    return Chain(
        item.name, numbers.circuit[draft.key], draft.label, state.wiring.root[index],
        item.accessory.quantity, item, worst_a, limit.nominal_v,
        limit.percent, tuple(plus), tuple(minus), state.chassis_ohm(False) if chassis else 0.0,
        draft.style, draft.live, _converter_v(state, index), position,
    )


def _own(draft: CircuitDraft, index: int, position: str) -> list[tuple[Segment, bool]]:
    """The circuit's own stretches in turn, and whether each lies on the negative side."""
    there, back = draft.feeds.get(index, []), draft.returns.get(index, [])
    if position and position != draft.positions[0]:
        other = next(s for s in draft.segments if s.position == position)
        if other.aside:
            there = [*there[:-1], other]
        else:  # the motor's two wires change places
            there, back = [*there[:-1], other], [there[-1], *back[1:]]
    return [*((s, False) for s in there), *((s, True) for s in back)]


def _relays(
    numbers: Numbers, draft: CircuitDraft, index: int, position: str
) -> dict[str, str]:
    """Wire -> the relay whose contact stands before it."""
    names = numbers.relay.get(draft.key, ())
    if not names:
        return {}
    if draft.positions:
        by_position = dict(zip(draft.positions, names, strict=True))
        return {s.key: by_position[s.position] for s in draft.segments if s.position}
    first = next((s.key for s in draft.feeds.get(index, [])), "")
    return {first: names[0]}


def _contact_ohm(
    state: State, draft: CircuitDraft, segment: Segment, device: Device | None, at_rest: bool
) -> tuple[float, float]:
    """(design, worst) of the contacts with a stretch [ohm]; ``at_rest``: by the break contact."""
    wire, relay = state.wire[segment.key], state.relay.get(draft.key)
    own = state.relay_contact_ohm(segment)
    found = [state.contact_ohm(segment, wire, device, worst) for worst in (False, True)]
    if relay is not None and segment.position:
        now = (
            (relay.break_design_ohm, relay.break_worst_ohm) if at_rest
            else (relay.contact_design_ohm, relay.contact_worst_ohm)
        )
        found = [f - o + n for f, o, n in zip(found, own, now, strict=True)]
    return found[0], found[1]


def _converter_v(state: State, index: int) -> float | None:
    root = state.wiring.nodes[state.wiring.root[index]]
    return root.panel.output_v if root.panel is not None else None
