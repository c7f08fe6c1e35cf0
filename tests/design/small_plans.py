"""Small plans in the plan format, and look-ups in their results. Invented data, no engineering."""

from __future__ import annotations

from circuitplan.model.result import Circuit, Drop, Finding, Result, Run
from circuitplan.planfile import read_text
from circuitplan.planner import study

SHED = """
circuitplan: 1
system: 12 V
wire: {gauge: metric, insulation: 105 °C PVC}
supply: {battery: {type: agm, capacity: 95 Ah, cranking: 850 A, place: shed}}
places: {shed: 30 °C}
"""
"""Everything in one place of 30 °C; an AGM battery of 95 Ah and 850 A."""

MAIN = "panels:\n  main: {place: shed, fed_from: battery, length: 1 m, size: 16 mm2}\n"
"""A panel behind one metre of 16 mm2, out and back."""


def studied(*parts: str) -> Result:
    return study(read_text("\n".join(parts)))


def circuit(result: Result, name: str) -> Circuit:
    """The circuit that feeds an accessory, or the one with that label."""
    return next(
        c for c in result.circuits if name in (c.label, *(a.name for a in c.accessories))
    )


def drop(result: Result, name: str) -> Drop:
    return next(d for c in result.circuits for d in c.drops if d.accessory == name)


def feed(result: Result, name: str) -> Run:
    """The wire that ends at an accessory."""
    return next(r for c in result.circuits for r in c.runs if r.role == "feed" and r.to == name)


def findings(result: Result, rule: str) -> list[Finding]:
    return [f for f in result.findings if f.rule == rule]


def failing(result: Result) -> set[tuple[str, str]]:
    return {(f.rule, f.subject) for f in result.findings if f.fails}


def hot(ohm_at_20: float, temperature_c: float) -> float:
    """Copper: R(T) = R20 (1 + 0.00393 (T - 20)) (IEC 60287-1-1)."""
    return ohm_at_20 * (1.0 + 0.00393 * (temperature_c - 20.0))
