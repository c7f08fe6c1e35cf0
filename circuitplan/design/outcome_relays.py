"""Relays in the form of the result: one a circuit, or one a position of a motor's switch."""

from __future__ import annotations

from circuitplan.design.draft import CircuitDraft
from circuitplan.design.numbering import Numbers
from circuitplan.design.state import State
from circuitplan.design.switchgear import burdens, coils_a, cold_coil_a, highest_v, hot_pick_up
from circuitplan.model.result import Relay

DIODE_V = 0.9
"""Volts lost in a silicon diode that carries a coil (common practice: 0.7 to 1 V)."""


def relays(
    state: State, numbers: Numbers, circuit: CircuitDraft, low_v: float
) -> tuple[Relay, ...]:
    """The relays of a circuit; ``low_v``: least volts at its panel [V]."""
    if not circuit.relay or circuit.key not in state.relay:
        return ()
    positions = circuit.positions or ("",)
    return tuple(
        _relay(state, circuit, low_v, name, at)
        for name, at in zip(numbers.relay[circuit.key], positions, strict=True)
    )


def _relay(state: State, circuit: CircuitDraft, low_v: float, name: str, at: str) -> Relay:
    found = state.relay[circuit.key]
    needed = sum(b.current_a * b.factor for b in burdens(state, circuit.loads))
    # Where several work one coil each has a diode, so that none feeds back into another.
    diodes = len(circuit.coil_switches) if len(circuit.coil_switches) > 1 else 0
    coil_low = low_v - (DIODE_V if diodes else 0.0)
    for control in state.wiring.circuits:
        if control.style == "control" and control.switches[0] in circuit.coil_switches:
            ohm = sum(
                state.wire_ohm(s, state.wire[s.key], s.route.ambient_c)
                for s in control.segments if s.position in ("", at)
            )
            lost = ohm * coils_a(state, control.switches[0]) + (DIODE_V if diodes else 0.0)
            coil_low = min(coil_low, low_v - lost)
    return Relay(
        id=name, type=found.type, contact_a=found.contact_a,
        needed_a=needed, coil_a=state.plan.nominal_v / found.coil_ohm,
        cold_coil_a=cold_coil_a(found, highest_v(state, circuit)),
        pick_up_hot_v=hot_pick_up(found), coil_low_v=coil_low,
        terminals=", ".join(found.terminals), position=f"{circuit.node}",
        switches=tuple(s.name for s in circuit.coil_switches), diodes=diodes, at=at,
        break_a=found.break_a if circuit.motor == "reversing" else None,
    )
