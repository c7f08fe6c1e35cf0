"""X21: a motor or coil gives back energy to what shares its switch."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, listed

RULE = Rule(
    id="X21",
    name="energy given back at switching off",
    signal_word="CAUTION",
    fails=False,
    means="A motor that is still turning, a winch that lowers, a fan in the wind and every coil "
    "drive current back when their switch opens. Electronics behind the same switch get it.",
    why="Hundreds of volts for a moment, or volts for seconds: electronics fail or act unasked, "
    "lamps flash.",
    remedy="Put a diode or clamp at the coil or motor, and electronics behind another switch.",
    source="circuit theory; a 12 V coil gives 100 to 400 V unsuppressed (trade texts)",
    status="second-hand",
    example="A horn and a camera behind one switch: the horn's kick goes into the camera.",
    by_hand="Look for coils and motors without a diode that share a switch with electronics.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for circuit in case.circuits:
        if not circuit.switches and not circuit.relays:
            continue
        giving = [
            a.name
            for a in circuit.accessories
            if a.contact_class in ("motor", "inductive", "contactor")
        ]
        sensitive = [a.name for a in circuit.accessories if a.contact_class == "capacitive"]
        if giving and sensitive:
            yield RULE.finding(
                case.subject(circuit),
                f"{listed(giving)} give energy back when switched off, into {listed(sensitive)} "
                "behind the same switch: electronics may fail or act unasked.",
                f"Put a diode or clamp at {listed(giving)}, or switch {listed(sensitive)} apart.",
                circuit=circuit.id,
            )
