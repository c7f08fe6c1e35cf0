"""The way of one accessory's current, stretch by stretch, with the resistance each may have.

Battery (or converter) positive, feeders, circuit, accessory, and back to the negative. Test sheet,
verdict on readings and fault finding all look along this way.
"""

from __future__ import annotations

from circuitplan.design import compose, numbering, paths
from circuitplan.design.assume import Ledger
from circuitplan.design.draft import CircuitDraft, Segment
from circuitplan.design.load import COLD_COIL_FACTOR, Load
from circuitplan.design.numbering import Numbers
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


@record
class Chain:
    """``plus`` from the source to the accessory, ``minus`` from it back to the source.

    A chassis return ends in the body: ``body_ohm`` is its common part (0 where none is used).
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
    """One chain an accessory, in the order of the circuit numbers."""
    state, numbers = found.state, found.numbers
    drafts = sorted(state.wiring.circuits, key=lambda c: numbers.circuit[c.key])
    return tuple(
        _chain(state, numbers, draft, index)
        for draft in drafts
        for index in draft.loads
        if not state.wiring.loads[index].source
    )


def _chain(state: State, numbers: Numbers, draft: CircuitDraft, index: int) -> Chain:
    item = state.wiring.loads[index]
    links = paths.feeders(state, draft, index) + paths.own(draft, index)
    devices = {}
    for link in links:
        for key, device in state.devices_at(link.owner).items():
            devices[key] = device
    fuse_of: dict[str, str] = {}
    for owner in (link.owner for link in links):
        slots = [owner.slot] if owner.slot is not None else []
        slots += owner.inline if isinstance(owner, CircuitDraft) else []
        for slot in slots:
            first = state.first_segment(slot)
            if first is not None and slot.key in numbers.fuse:
                fuse_of[first.key] = numbers.fuse[slot.key]
    relay_wire = next((s.key for s in draft.feeds.get(index, []) if s.kind == "branch"), "")

    def stretch(segment: Segment, feeder: bool) -> Stretch:
        wire = state.wire[segment.key]
        own = segment.loads if not feeder else draft.loads
        rated = sum(state.wiring.loads[i].rated_a for i in own if i in draft.loads)
        smaller = [
            c for c in conductors.offered(wire.conductor.gauge)
            if c.area_mm2 < wire.conductor.area_mm2 * 0.999
        ]
        relayed = segment.key == relay_wire and draft.key in numbers.relay
        return Stretch(
            numbers.run[segment.key], segment.is_return, feeder, segment.start, segment.end,
            wire.conductor.label, wire.conductor.area_mm2,
            state.wire_ohm(segment, wire, 20.0),
            state.wire_ohm(segment, wire, state.temperature(segment, wire)),
            state.contact_ohm(segment, wire, devices.get(segment.key)),
            state.contact_ohm(segment, wire, devices.get(segment.key), worst=True),
            max(1.0, rated / item.rated_a) if item.rated_a else 1.0,
            fuse_of.get(segment.key, ""), numbers.relay[draft.key] if relayed else "",
            tuple((c.label, c.r20_ohm_per_m / wire.conductor.r20_ohm_per_m)
                  for c in reversed(smaller)),
        )

    nodes = [link for link in links if link.owner is not draft]
    own_links = [link for link in links if link.owner is draft]
    ordered = [stretch(link.segment, True) for link in reversed(nodes)]
    mine = [stretch(link.segment, False) for link in own_links]
    plus = [s for s in ordered if not s.back] + [s for s in mine if not s.back]
    minus = [s for s in mine if s.back] + [s for s in reversed(ordered) if s.back]
    chassis = paths.uses_chassis(state, draft, index)
    limit = state.demand.limits[index]
    return Chain(
        item.name, numbers.circuit[draft.key], draft.label, state.wiring.root[index],
        item.accessory.quantity, item, float(state.demand.worst_a[index]), limit.nominal_v,
        limit.percent, tuple(plus), tuple(minus), state.chassis_ohm(False) if chassis else 0.0,
        draft.style, draft.live, _converter_v(state, index),
    )


def _converter_v(state: State, index: int) -> float | None:
    root = state.wiring.nodes[state.wiring.root[index]]
    return root.panel.output_v if root.panel is not None else None
