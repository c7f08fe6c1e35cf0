"""The working of a circuit: each step with its numbers and source, for paper and ``explain``."""

from __future__ import annotations

from dataclasses import replace

from circuitplan.design.draft import CircuitDraft, Slot
from circuitplan.design.load import COLD_COIL_FACTOR
from circuitplan.design.protection import protect
from circuitplan.design.state import State
from circuitplan.model.result import Circuit, Connector, Drop, Fuse, Run, WorkingStep


def attach(state: State, draft: CircuitDraft, circuit: Circuit) -> Circuit:
    """The circuit with its working."""
    steps = [_current(state, index, circuit) for index in draft.loads]
    for run in circuit.runs:
        if run.role != "return" or run.given:
            steps.extend(_wire(run))
    steps.extend(_drop(drop) for drop in circuit.drops)
    for fuse in circuit.fuses:
        steps.extend(_fuse(fuse))
    if circuit.fault is not None:
        steps.append(_fault(circuit))
    steps.extend(
        WorkingStep(
            f"Relay {relay.id}", "sum of current x class factor <= contact rating",
            f"{relay.needed_a:.1f} A, contact {relay.contact_a:g} A ({relay.type})",
            "FAA AC 43.13-1B Table 11-4",
        )
        for relay in circuit.relays
    )
    steps.extend(_connector(c) for c in circuit.connectors if c.rating_a is not None)
    return replace(circuit, working=tuple(steps))


def _connector(c: Connector) -> WorkingStep:
    return WorkingStep(
        f"Connector {c.id}",
        f"{c.rating_a:g} A √((T_class − T_ambient)/(T_class − T_rated)), class {c.class_c:g} °C, "
        f"rated up to {c.rated_at_c or 0.0:g} °C, {c.ambient_c:g} °C there; never above its rating",
        f"a contact bears {c.usable_a or 0.0:.2f} A and carries {c.current_a:.2f} A; "
        f"{1000.0 * c.contact_ohm:g} mΩ each",
        "the plan; IEC 60512-5-2 (memory)",
    )


def _current(state: State, index: int, circuit: Circuit) -> WorkingStep:
    load = state.wiring.loads[index]
    accessory = next(a for a in circuit.accessories if a.name == load.name)
    given = load.accessory
    if given.power_w is not None:
        base = f"{given.quantity} x {given.power_w:g} W / {load.rated_v:g} V"
    elif given.current_a is not None:
        base = f"{given.quantity} x {given.current_a:g} A"
    else:
        base = f"{given.quantity} x high draw of the kind"
    if given.quantity == 1:
        base = base.removeprefix("1 x ")
    cold = load.model == "solenoid"
    factor = f" x {COLD_COIL_FACTOR:g}" if cold else ""
    coil = f"; {COLD_COIL_FACTOR:g}: a coil at -20 °C draws more than at 20 °C" if cold else ""
    powers = " or ".join(f"{m:g}" for m in load.exponents)
    return WorkingStep(
        f"Current of {load.name}",
        f"{base} = {load.rated_a:.2f} A at {load.rated_v:g} V; I = Ir (U/Ur)^m{factor}, "
        f"m = {powers}, supply {state.levels.low_v[index]:.2f} to "
        f"{state.levels.high_v[index]:.2f} V{coil}",
        f"at most {accessory.current_a:.2f} A; never below {accessory.low_v:.2f} V at its end",
        load.kind.source if load.kind and given.current_a is None and given.power_w is None
        else "the plan; load model: physics",
    )


def _wire(run: Run) -> list[WorkingStep]:
    steps = []
    if run.published_a is not None and run.first_principles_a is not None:
        steps.append(
            WorkingStep(
                f"Ampacity of wire {run.id}, {run.size}, {run.insulation}",
                f"lower of published {run.published_a:.1f} A at 30 °C carried to "
                f"{run.ambient_c:g} °C and 0.9 x {run.first_principles_a:.1f} A; x bundle "
                f"{run.bundle_factor:.3f} ({run.bundle_wires} wires) x tube {run.tube_factor:g}",
                f"{run.ampacity_a:.1f} A; carries {run.thermal_a:.2f} A and reaches "
                f"{run.conductor_c:.0f} °C",
                f"{run.ampacity_source}; bundle: MIL-W-5088L",
            )
        )
    limit = {
        "drop": "volts lost", "ampacity": "heat", "fuse": "its fuse", "fault": "a far-end short",
        "minimum": "strength", "fixed": "the plan",
    }[run.limited_by]
    why = f"; the next size down: {run.next_smaller}" if run.next_smaller else ""
    steps.append(
        WorkingStep(
            f"Size of wire {run.id}", f"smallest that holds; ruled by {limit}{why}", run.size,
            "design rule",
        )
    )
    return steps


def _drop(drop: Drop) -> WorkingStep:
    p = drop.parts
    return WorkingStep(
        f"Volts lost to {drop.accessory}",
        f"feeder {p.feeder_v:.3f} + contacts {p.contacts_v:.3f} + run {p.run_v:.3f} + return "
        f"{p.return_v:.3f} V, {drop.state} end, {drop.supply_v:.2f} V at the posts",
        f"{drop.total_v:.3f} V = {drop.percent:.2f} % of {drop.limit_percent:g} % allowed",
        "guaranteed bound U >= E - sum of Z I; contacts: common practice",
    )


def _fuse(fuse: Fuse) -> list[WorkingStep]:
    share = protect.ambient_share(fuse.ambient_c)
    steps = [
        WorkingStep(
            f"Fuse {fuse.id}",
            f"In >= I/(f ka), f 0.8 continuous, ka {share:.3f} at {fuse.ambient_c:g} °C: "
            f"{fuse.min_a:.2f} A; In <= least ampacity behind it"
            + (f" {fuse.max_a:.1f} A" if fuse.max_a is not None else ""),
            f"{fuse.rating_a:g} A type {fuse.type}; {fuse.why}",
            "NEC 210.20(A) 125 % rule (memory); IEC 60364-4-43 433.1 (memory); ISO 8820 gates "
            "(memory): check against the maker's curve",
        )
    ]
    if fuse.rides_through is not None:
        steps.append(
            WorkingStep(
                f"Start through fuse {fuse.id}", "sum of dt / t_melt <= 0.7",
                f"{fuse.rides_through:.3f}", "ISO 8820 gates (memory); 0.7: judgement",
            )
        )
    return steps


def _fault(circuit: Circuit) -> WorkingStep:
    fault = circuit.fault
    assert fault is not None
    clears = "not proved to clear"
    if fault.clears_s is not None:
        clears = f"clears by {fault.clears_s:.3g} s"
    return WorkingStep(
        f"Short at the far end of wire {fault.run}",
        f"cold aged battery, hot wire, worst contacts: {fault.current_a:.0f} A; allowed "
        f"min(5 s, (kS/I)²), k = {fault.adiabatic_k:.0f}",
        f"{clears}, {fault.allowed_s:.3g} s allowed; at the fuse up to "
        f"{fault.prospective_max_a:.0f} A",
        "IEC 60364-4-43 434.5.2 (memory); IEC 60949",
    )


def why_fuse(slot: Slot, start_share: float | None, guards: bool) -> str:
    """Why this fuse was chosen, in words; ``guards``: no larger than its wires carry."""
    if slot.spec is not None and slot.spec.rating_a is not None:
        return "given by the plan"
    if slot.short_circuit_only:
        return "short circuits only: the least that rides through the rated duty"
    if not guards:
        return "the lowest rating that carries the load; no wire that could be chosen suits it"
    if (start_share or 0.0) > protect.RIDE_THROUGH:
        return "the largest that its wires allow; the start may blow it"
    return "least copper, then the lowest rating that carries the load and rides through its start"
