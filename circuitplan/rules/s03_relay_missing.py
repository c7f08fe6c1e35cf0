"""S03: a load that needs a relay has none."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules import proposals
from circuitplan.rules.base import Case, Finding, Rule, Skip, listed, num

RULE = Rule(
    id="S03",
    name="relay missing",
    signal_word="WARNING",
    fails=True,
    means="The load is worked from more than one place, or is too heavy for its switch, and no "
    "relay stands between.",
    why="The switch or the vehicle's own loom carries the whole load and melts; two feeds joined "
    "at the load drive current into each other.",
    remedy="Put a relay at the panel that carries the load; the switches work its coil, each "
    "through a diode where either may work it.",
    source="common practice of the trade",
    status="common practice",
    example="Work lamps that either a switch or the reverse lamp shall light: one relay, both work "
    "its coil, the lamps hang on the panel.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for circuit in case.circuits:
        if circuit.relays or not circuit.accessories or case.own_contactor(circuit):
            continue
        types = [s.type for name in circuit.switches if (s := case.planned_switch(name))]
        coil_only = any(type_ in ("relay", "signal") for type_ in types)
        several = len(types) > 1 and not coil_only
        wanted = circuit.relay_reason is not None and not coil_only
        if not (several or wanted):
            continue  # a single coil-only switch is S05's or M01's
        name = case.subject(circuit)
        reason = circuit.relay_reason or "it is worked from several switches"
        needed_a = proposals.needed_contact_a(circuit.accessories, case.plan.nominal_v)
        yield RULE.finding(
            name,
            f"{name} ({num(circuit.current_a)} A) needs a relay and has none: {reason}. "
            f"{listed(list(circuit.switches)) or 'Its switch'} would carry the load itself and may "
            "melt, or feed back into another circuit: fire.",
            f"Fit a relay rated {num(needed_a)} A or more at {circuit.panel}, worked by "
            f"{listed(list(circuit.switches)) or 'the switch'}.",
            circuit=circuit.id,
            change=f"{circuit.switches[0]} type relay" if len(circuit.switches) == 1 else None,
        )
