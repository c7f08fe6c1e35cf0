"""Studies random plans and gathers every accepted wire as one row of numbers.

Accepted: neither the circuit nor a panel above it has a failing finding.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Any

import independent
import random_plans

from circuitplan.model.plan import Plan
from circuitplan.model.result import Circuit, Fuse, PanelResult, Result, Run
from circuitplan.planner import design

Row = dict[str, Any]


@dataclass
class Survey:
    """What a batch of plans gave; lists run side by side, one entry a wire or a circuit."""

    plans: int = 0
    circuits: int = 0
    refused: int = 0  # circuits with a failing finding
    wires: list[Row] = field(default_factory=list)
    heated: list[Row] = field(default_factory=list)  # (wire, fault current) pairs
    wrong: list[str] = field(default_factory=list)


def survey(first: int, last: int) -> Survey:
    """Design the plans of seeds ``first`` to ``last`` - 1 and look at what was accepted."""
    found = Survey()
    for seed in range(first, last):
        plan = random_plans.plan(seed)
        result = design(plan, ()).result
        found.plans += 1
        panels = {p.id: p for p in result.panels}
        failing = [(f.circuit, f.subject.casefold()) for f in result.findings if f.fails]
        bad = {p for p in panels if any(s == p.casefold() for _, s in failing)}
        for panel in result.panels:
            if panel.id not in bad:
                _owner(found, plan, f"plan {seed}, {panel.id}", panel.feeder, panel.fuse, None, [])
        for circuit in result.circuits:
            found.circuits += 1
            names = {circuit.label, *(a.name for a in circuit.accessories), *circuit.switches}
            folded = {n.casefold() for n in names}
            if circuit.panel in bad or any(c == circuit.id or s in folded for c, s in failing):
                found.refused += 1
                continue
            _circuit(found, plan, result, circuit, panels, f"plan {seed}, circuit {circuit.id}")
    return found


def _circuit(
    found: Survey, plan: Plan, result: Result, circuit: Circuit, panels: dict[str, PanelResult],
    label: str,
) -> None:  # fmt: skip
    above = list(panels[circuit.panel].feeder) if circuit.panel in panels else []
    fuse = circuit.fuses[0] if circuit.fuses else None
    _owner(found, plan, label, circuit.runs, fuse, circuit, above)
    _volts(found, plan, circuit, label)
    _cleared(found, circuit, label)


def _volts(found: Survey, plan: Plan, circuit: Circuit, label: str) -> None:
    """Guaranteed volts are compared with those solved only for loads that no interlock stops."""
    apart = {n for a in plan.accessories if a.never_with for n in (a.name, *a.never_with)}
    for drop in circuit.drops:
        _must(found, drop.total_v <= drop.limit_percent / 100 * _nominal(drop) * (1 + 1e-9),
              f"{label}: {drop.accessory} loses {drop.percent} % of {drop.limit_percent} %")
    for accessory in circuit.accessories:
        below = accessory.low_v <= accessory.solved_v * (1 + 1e-9)
        _must(found, accessory.low_v > 0.0 and (below or accessory.name in apart),
              f"{label}: {accessory.name} guaranteed {accessory.low_v}, "
              f"solved {accessory.solved_v} V")
    _must(found, len(circuit.drops) == len(circuit.accessories), f"{label}: no operating point")


def _nominal(drop: object) -> float:
    return 100.0 * drop.total_v / drop.percent if drop.percent else math.inf  # type: ignore[attr-defined]


def _cleared(found: Survey, circuit: Circuit, label: str) -> None:
    """The far-end short of the result, with clearing and withstand time found again."""
    fault = circuit.fault
    if fault is None:
        return
    run = next(r for r in circuit.runs if r.id == fault.run)
    fuse = next(f for f in circuit.fuses if f.id == run.protected_by)
    clears = independent.clears_s(_timed(fuse), fault.current_a / fuse.rating_a)
    k = independent.adiabatic_k(run.insulation_c, _material(run))
    allowed = min(5.0, (k * run.area_mm2 / fault.current_a) ** 2)
    _must(found, clears <= allowed * 1.005,  # k is tabulated to four digits
          f"{label}: {fault.current_a} A at the end of {run.id} clears in {clears} s of {allowed}")


def _owner(
    found: Survey, plan: Plan, label: str, runs: tuple[Run, ...], fuse: Fuse | None,
    circuit: Circuit | None, above: list[Run],
) -> None:  # fmt: skip
    fuses = {f.id: f for f in (circuit.fuses if circuit else ())}
    if circuit is None and fuse is not None:
        fuses[fuse.id] = fuse
    for run in runs:
        guard = fuses.get(run.protected_by or "")
        _must(found, guard is not None, f"{label}: nothing protects wire {run.id}")
        if guard is None:
            continue
        row = _wire(run, guard, label, found)
        found.wires.append(row)
        if not guard.short_circuit_only:
            _must(found, guard.rating_a <= run.ampacity_a * (1 + 1e-9),
                  f"{label}: {guard.rating_a} A before wire {run.id} of {run.ampacity_a} A")
        strongest = _strongest(plan, run, runs, above, circuit is None)
        found.heated += _band(row, guard, strongest)
    for guard in fuses.values():
        if circuit is not None and len(circuit.accessories) == 1:
            _carries(found, circuit, guard, label)


def _carries(found: Survey, circuit: Circuit, fuse: Fuse, label: str) -> None:
    only = circuit.accessories[0]
    share = independent.warm_share(fuse.ambient_c)
    if only.continuous:
        needed = only.current_a / (0.8 * share)
    else:
        assert only.on_s is not None
        assert only.period_s is not None
        needed = only.current_a * math.sqrt(min(1.0, only.on_s / only.period_s)) / share
    _must(found, fuse.rating_a >= needed * (1 - 1e-9),
          f"{label}: {fuse.rating_a} A fuse, {needed} A needed")


def _strongest(
    plan: Plan, run: Run, runs: tuple[Run, ...], above: list[Run], feeder: bool
) -> float:
    """Short at the far end of the stretch: new battery, cold wire, no contacts, body 0 ohm."""
    battery = plan.supply.batteries[0]
    assert battery.type is not None
    assert battery.capacity_ah is not None
    scale = plan.nominal_v / 12.0
    emf = (13.6 if battery.type == "lifepo4" else 13.0) * scale
    ohm = independent.least_ohm(
        battery.type, battery.capacity_ah, battery.cranking_a, plan.nominal_v
    )
    path = list(runs) if feeder else [r for r in runs if r.accessories == run.accessories]
    if not feeder and len(run.accessories) == 1 and run.role != "control":
        path += [r for r in runs if len(r.accessories) > 1]
    chassis = any(_bare(r) for r in path)
    for piece in path + [r for r in above if not (chassis and r.role == "return")]:
        if not _bare(piece):
            ohm += piece.resistance_20c_ohm_per_m * piece.length_m / piece.pieces
    alternator = plan.supply.alternator
    return emf / ohm + (3.0 * alternator.rated_a if alternator else 0.0)


def _bare(run: Run) -> bool:
    return run.to.startswith("earth point")


def _wire(run: Run, fuse: Fuse, label: str, found: Survey) -> Row:
    size = next(
        r for r in independent.rows("conductors")
        if r["gauge"] == run.gauge and run.size.split()[0] == r["size"]
    )
    wall = next(r for r in independent.rows("insulation_classes") if r["name"] == run.insulation)
    k = float(wall["k_copper"])
    again = independent.adiabatic_k(run.insulation_c, _material(run))
    # The table rounds k down to a tenth.
    _must(found, 0.0 <= again - k < 0.1 + 1e-9, f"{label}: k {k}, computed {again}")
    return {
        "r20": run.resistance_20c_ohm_per_m,
        "area": run.area_mm2, "d": float(size["conductor_mm"]), "outer": run.outer_mm,
        "rho": float(wall["thermal_resistivity_k_m_per_w"]), "class": run.insulation_c,
        "ambient": run.ambient_c, "iz": run.ampacity_a, "thermal": run.thermal_a,
        "share": run.tube_factor * run.bundle_factor, "cycles": run.peak_c is not None,
        "peak": run.peak_c or 0.0, "rating": fuse.rating_a, "where": f"{label}, wire {run.id}",
    }  # fmt: skip


def _band(row: Row, fuse: Fuse, strongest_a: float) -> list[Row]:
    """Currents from twice the rating to the prospective one, gates and their near sides too."""
    top = max(strongest_a / fuse.rating_a, 50.0)  # a short may lie right behind the fuse
    steps = {2.0 * (top / 2.0) ** (i / 12) for i in range(13)}
    for gate, _ in independent.gates(_timed(fuse)):
        steps |= {x for x in (gate * (1 - 1e-9), gate) if 2.0 <= x <= top}
    return [
        row | {"current": x * fuse.rating_a, "seconds": independent.clears_s(_timed(fuse), x, 0.0)}
        for x in sorted(steps)
    ]


def _timed(fuse: Fuse) -> str:
    return "C" if fuse.type == "output" else fuse.type


def _material(run: Run) -> str | None:
    words = run.insulation.split("°C")[1].strip()
    return words or None


def _must(found: Survey, holds: bool, words: str) -> None:
    if not holds:
        found.wrong.append(words)
