"""Relays and switches: what a contact must be rated for, what a coil draws, hot and cold."""

from __future__ import annotations

from circuitplan.design.draft import CircuitDraft, Wiring
from circuitplan.design.load import Load
from circuitplan.design.state import State
from circuitplan.library import contacts, kinds, relays
from circuitplan.library.relays import Relay
from circuitplan.model.plan import Switch
from circuitplan.model.record import record
from circuitplan.physics import relays as coil_physics

COLD_COIL_C, HOT_COIL_C = -20.0, 115.0
"""Coldest coil at a start, hottest after long duty in a warm place (judgement)."""
CONTACTOR_COIL_A = 6.0
"""Coil pair of a winch's own contactor, highest (read in loads facts: 1.5 to 6 A)."""


@record
class Burden:
    """One thing on a contact: its current and the factor of its class."""

    name: str
    current_a: float
    factor: float


def factor(load: Load, system_v: float) -> float:
    """Contact factor of a load's class; of the unknown inrush where that applies [-]."""
    found = contacts.load_factor(load.contact_class, system_v)
    if found is None:
        return 1.0
    known = load.inrush_known or load.inrush_a is None
    if load.contact_class == "capacitive" and not known:
        return found.unknown_inrush_factor
    return found.factor


def burdens(state: State, loads: tuple[int, ...]) -> list[Burden]:
    """Accessories on one contact, at the plan's nominal voltage."""
    nominal = state.plan.nominal_v
    return [
        Burden(
            state.wiring.loads[i].name,
            float(state.demand.worst_a[i]),
            factor(state.wiring.loads[i], nominal),
        )
        for i in loads
    ]


def rating_for(switch: Switch, load: Load, burden: Burden) -> float:
    """Share of the contact's rating that a burden takes [A of rating].

    A stated motor or lamp rating replaces the class factor.
    """
    if load.contact_class == "motor" and switch.motor_a and switch.rating_a:
        return burden.current_a * switch.rating_a / switch.motor_a
    if load.contact_class == "lamp" and switch.lamp_a and switch.rating_a:
        return burden.current_a * switch.rating_a / switch.lamp_a
    return burden.current_a * burden.factor


def pick_relay(
    needed_a: float, system_v: float, highest_v: float, change_over: bool = False
) -> Relay | None:
    """Smallest relay whose contacts bear the burden; None if none is large enough.

    ``change_over``: a relay of a reversing motor, whose break contact carries the motor's current
    too, and takes what the motor gives back when it is stopped.
    """
    for relay in _sort(system_v, change_over):
        rated_a = min(relay.contact_a, relay.break_a) if change_over else relay.contact_a
        if rated_a * (1 + 1e-9) >= needed_a and relay.contact_rated_v >= highest_v:
            return relay
    return None


def _sort(system_v: float, change_over: bool) -> list[Relay]:
    """Relays with one make contact, or those that change over, smallest first."""
    return [r for r in relays.offered(system_v) if ("87a" in r.terminals) == change_over]


def choose_relays(state: State) -> None:
    """Put a relay into every relayed circuit, and the coils' current into the control circuits."""
    nominal = state.plan.nominal_v
    for circuit in state.wiring.circuits:
        if not circuit.relay:
            continue
        needed = sum(b.current_a * b.factor for b in burdens(state, circuit.loads))
        highest = max(state.levels.high_v[i] for i in circuit.loads)
        change_over = circuit.motor == "reversing"
        relay = pick_relay(needed, nominal, highest, change_over)
        if relay is None:
            largest = _sort(nominal, change_over)
            relay = largest[-1] if largest else None
        if relay is not None:
            state.fit_relay(circuit, relay)
    for circuit in state.wiring.circuits:
        if circuit.style == "control":
            current = coils_a(state, circuit.switches[0])
            for segment in circuit.segments:
                state.control_a[segment.key] = current


def coils_a(state: State, switch: Switch) -> float:
    """Current of all coils that a switch works at once, cold and at high volts [A].

    Of the two coils of a motor one is on at a time.
    """
    total = 0.0
    for circuit in state.wiring.circuits:
        if switch not in circuit.coil_switches:
            continue
        relay = state.relay.get(circuit.key)
        if relay is not None:
            total += cold_coil_a(relay, highest_v(state, circuit))
        elif any(state.wiring.loads[i].own_contactor for i in circuit.loads):
            found = kinds.find("winch control")
            total += found.high_a if found is not None else CONTACTOR_COIL_A
    return total


def highest_v(state: State, circuit: CircuitDraft) -> float:
    """Highest volts of the loads of a circuit [V]."""
    return max((state.levels.high_v[i] for i in circuit.loads), default=14.4)


def cold_coil_a(relay: Relay, volts: float) -> float:
    """What a cold coil draws [A]."""
    return coil_physics.coil_current(volts, relay.coil_ohm, COLD_COIL_C)


def hot_pick_up(relay: Relay) -> float:
    """Volts that a hot coil needs to pull in [V]."""
    return coil_physics.hot_pick_up_v(relay.pick_up_v, HOT_COIL_C)


def works(wiring: Wiring, switch: Switch) -> tuple[str, ...]:
    """Names of everything a switch works, in order."""
    return tuple(
        load.name for load in wiring.loads
        if switch.name.casefold() in {s.casefold() for s in load.accessory.switches}
    )
