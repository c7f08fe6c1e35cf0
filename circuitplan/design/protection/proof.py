"""Adds to the finished circuits and panels what proves their protection, and its working."""

from __future__ import annotations

from dataclasses import replace

from circuitplan.design import outcome_parts as parts
from circuitplan.design.draft import CircuitDraft, Node, Slot
from circuitplan.design.numbering import Numbers
from circuitplan.design.protection.coordination import Picture
from circuitplan.design.protection.cures import Doctor
from circuitplan.design.protection.protect import RIDE_THROUGH
from circuitplan.design.sizing import Sizer
from circuitplan.design.slots import Currents
from circuitplan.design.solve import Solved
from circuitplan.design.state import State
from circuitplan.design.wire import OVERLOAD_K
from circuitplan.model.result import (
    Circuit,
    Coordination,
    Cure,
    Heating,
    PanelResult,
    WarmLeg,
    WorkingStep,
)

Proof = tuple[
    tuple[Heating, ...], tuple[Coordination, ...], tuple[WarmLeg, ...], tuple[Cure, ...]
]
ONE_BODY = "one body: C dT/dt = I² R(T) − (T − Ta)/Rth; heat capacities IEC 60949 (memory)"


def attach(
    state: State, numbers: Numbers, solved: Solved, sizer: Sizer,
    circuits: tuple[Circuit, ...], panels: tuple[PanelResult, ...], whole: bool = True,
) -> tuple[tuple[Circuit, ...], tuple[PanelResult, ...]]:
    """Circuits and panels with heating, coordination, warm ways and the cures of what fails.

    ``whole`` False leaves out what only paper and ``explain`` show: cures alone, where needed.
    """
    drafts = {numbers.circuit[c.key]: c for c in state.wiring.circuits}

    def of(owner: CircuitDraft | Node) -> Proof:
        def currents(slot: Slot) -> Currents:
            return parts.final_currents(state, solved, slot, sizer.currents(owner, slot))

        picture = Picture(state, numbers, solved, owner, currents)
        if not whole:
            return (), (), (), Doctor(picture, sizer).cures()
        return (
            picture.heating(), picture.coordination(), picture.warm(),
            Doctor(picture, sizer).cures(),
        )

    done = []
    for circuit in circuits:
        if not whole and not _needs_cure(circuit):
            done.append(circuit)
            continue
        heating, against, warm, cures = of(drafts[circuit.number])
        steps = (*circuit.working, *_heat_steps(circuit, heating), *_fault_steps(against))
        done.append(
            replace(
                circuit, heating=heating, coordination=against, warm=warm, cures=cures,
                working=steps,
            )
        )
    finished = []
    for panel in panels:
        if not whole and not _needs_cure(panel):
            finished.append(panel)
            continue
        heating, against, warm, cures = of(state.wiring.nodes[panel.id])
        finished.append(
            replace(panel, heating=heating, coordination=against, warm=warm, cures=cures)
        )
    return tuple(done), tuple(finished)


def _needs_cure(owner: Circuit | PanelResult) -> bool:
    """Whether load, start, short or the breaking capacity may fail: then a cure is looked for."""
    fuses = owner.fuses if isinstance(owner, Circuit) else tuple(f for f in (owner.fuse,) if f)
    if not fuses:
        return False
    fault = owner.fault
    runs = owner.runs if isinstance(owner, Circuit) else owner.feeder
    limit_c = min((r.insulation_c for r in runs), default=0.0) + OVERLOAD_K
    if fault is None or fault.clears_s is None or fault.clears_s > 0.99 * fault.allowed_s:
        return True
    if fault.band_peak_c is None or fault.band_peak_c > 0.99 * limit_c:
        return True
    return any(
        (f.rides_through or 0.0) > 0.99 * RIDE_THROUGH
        or f.rating_a < 1.01 * f.min_a
        or (f.first_after_source and (f.breaking_capacity_a or 0.0) < 1.01 * f.prospective_a)
        for f in fuses
    )


def _heat_steps(circuit: Circuit, heating: tuple[Heating, ...]) -> list[WorkingStep]:
    steps = []
    for heat in heating:
        run = next(r for r in circuit.runs if r.id == heat.run)
        times = ", ".join(
            f"{o.current_a:.0f} A ({o.multiple:g} x): {_seconds(o.seconds)}"
            for o in heat.overloads
        )
        allowed = (
            "without limit" if heat.allowed_on_s is None
            else f"{_seconds(heat.allowed_on_s)} from cold"
        )
        steps.append(
            WorkingStep(
                f"Heating of wire {heat.run}",
                f"from {heat.start_c:.0f} °C at work to its class of {heat.limit_c:g} °C, loom "
                f"factor {run.bundle_factor * run.tube_factor:.3f} counted: {times}",
                f"{heat.held_a:.1f} A may flow {allowed}; it cools to a tenth of its rise in "
                f"{_seconds(heat.cool_down_s)}",
                ONE_BODY,
            )
        )
    return steps


def _fault_steps(against: tuple[Coordination, ...]) -> list[WorkingStep]:
    steps = []
    for c in against:
        start = "no start is known"
        if c.start_share is not None:
            start = f"the start uses {c.start_share:.2g} of the soonest melting, 0.7 allowed"
        steps.append(
            WorkingStep(
                f"Fuse {c.fuse} against wire {c.run}",
                "is the wire within class + 50 K until the latest clearing, from twice the rating "
                f"({2.0 * c.rating_a:g} A) to {c.far_new_a:.0f} A? Far-end short: "
                f"{c.far_cold_a:.0f} A with a cold aged battery, {c.far_aged_a:.0f} A with a warm "
                f"aged one, {c.far_new_a:.0f} A with a new one; {start}",
                "yes, guarded" if c.guarded else "no, not guarded",
                f"{c.curve}; IEC 60364-4-43 434.5.2 (memory); {ONE_BODY}",
            )
        )
    return steps


def _seconds(value: float | None) -> str:
    """A time to three digits, never longer than it is; "never" where it is not reached."""
    if value is None:
        return "never"
    if value >= 600.0:
        return f"{int(value / 60.0)} min"
    return f"{value:.3g} s"
