"""Wire that the drop limit alone made thicker than its holder takes (W04): the size that would do.

Each offer has been tried: the whole plan is designed anew with the greater drop allowed, and it is
named only if the wire then fits and nothing fails that held before. Whether so much drop is good
enough is for a person to say, so no search for a fix takes it up by itself.
"""

from __future__ import annotations

import math
from dataclasses import replace

from circuitplan.library import conductors, practices
from circuitplan.model.plan import Accessory, Plan
from circuitplan.model.result import Circuit, Drop, Finding, Result, Run
from circuitplan.planner.story import counted, design, study
from circuitplan.rules.w04_wire_over_holder import MAY_BE_TRIED
from circuitplan.units import round_up

MOST_PERCENT = 10.0
"""No more drop is offered, nor more than the practice allows short-time motors (judgement)."""
MOST_TRIED = 6
"""Plans designed for one answer; then it offers no more."""
STEP_PERCENT = 0.5


def advised(plan: Plan, whole: bool = True) -> Result:
    """``study``, with what was tried for wires that are thicker than their holders take."""
    result = study(plan, whole)
    if all(f.rule != "W04" for f in result.findings):
        return result
    search = _Search(plan, result)
    return replace(result, findings=tuple(search.offer(f) for f in result.findings))


class _Search:
    """Tries greater drops on the whole plan; after ``MOST_TRIED`` designs it offers no more."""

    def __init__(self, plan: Plan, result: Result) -> None:
        self.plan, self.result, self.tried = plan, result, 0
        self.had = {(f.rule, f.subject) for f in counted(result.findings)}

    def offer(self, finding: Finding) -> Finding:
        """The finding with the thinner wire in its remedy; itself where none passes."""
        if finding.rule != "W04" or not isinstance(finding.limit, float):
            return finding
        most_mm2 = finding.limit
        finding = replace(finding, remedy=finding.remedy.removesuffix(MAY_BE_TRIED))
        circuit = next((c for c in self.result.circuits if c.id == finding.circuit), None)
        mine = next((a for a in self.plan.accessories if a.name == finding.subject), None)
        if circuit is None or mine is None or any(mine.name == s for _, s in self.had):
            return finding  # what fails already gets no less
        run, drop = _feed(circuit, mine.name), _drop(circuit, mine.name)
        if run is None or drop is None or run.given or drop.conductor_limit_percent is not None:
            return finding  # a size that the plan gives stays; what lives hang on keeps its volts
        for percent in _allowed(self.plan, run, drop, most_mm2):
            if self.tried >= MOST_TRIED:
                break
            self.tried += 1
            found = self._passes(mine, circuit, most_mm2, percent)
            if found is not None:
                size, gives = found
                return replace(
                    finding,
                    remedy=f"{finding.remedy} Or: {size} gives {round_up(gives, 2):g} %; if "
                    f"{mine.name} may have that, allow it with drop: {percent:g} % (tried: nothing "
                    "fails then that held before).",
                    change=f"{mine.name} drop {percent:g} %",
                )
        return finding

    def _passes(
        self, mine: Accessory, circuit: Circuit, most_mm2: float, percent: float
    ) -> tuple[str, float] | None:
        """(size, drop in %) with so much drop allowed, if it fits and nothing else fails."""
        after = design(_with_drop(self.plan, mine, percent), (), whole=False).result
        now = next((c for c in after.circuits if c.id == circuit.id), None)
        run = None if now is None else _feed(now, mine.name)
        drop = None if now is None else _drop(now, mine.name)
        if run is None or drop is None or run.area_mm2 > most_mm2:
            return None
        fails = {(f.rule, f.subject) for f in counted(after.findings)}
        return (run.size, drop.percent) if fails <= self.had else None


def _feed(circuit: Circuit, name: str) -> Run | None:
    """The thickest feed of a circuit that is this accessory's alone."""
    found = [r for r in circuit.runs if r.role == "feed"]
    if any(r.accessories != (name,) for r in found):
        return None
    return max(found, key=lambda r: r.area_mm2, default=None)


def _drop(circuit: Circuit, name: str) -> Drop | None:
    return next((d for d in circuit.drops if d.accessory == name), None)


def _allowed(plan: Plan, run: Run, drop: Drop, most_mm2: float) -> list[float]:
    """Drop limits to try [%]: that at which the largest size that fits should do, then more."""
    sizes = conductors.offered(run.gauge)
    fitting = [c for c in sizes if c.area_mm2 <= most_mm2]
    now = next((c for c in sizes if c.label == run.size), None)
    if not fitting or now is None or drop.total_v <= 0.0:
        return []
    size = max(fitting, key=lambda c: c.area_mm2)
    share = (drop.parts.run_v + drop.parts.return_v) / drop.total_v
    expected = drop.percent * (1.0 + share * (size.r20_ohm_per_m / now.r20_ohm_per_m - 1.0))
    least = math.ceil(max(expected, drop.limit_percent + STEP_PERCENT) / STEP_PERCENT)
    practice = practices.get(plan.practice)
    most = (practice.value("drop_motor_percent") if practice else None) or MOST_PERCENT
    # Sizing gives what several wires use a share each, and may want more than was expected.
    steps = [least * STEP_PERCENT + more for more in (0.0, 1.0, 2.0)]
    return [percent for percent in steps if percent <= min(most, MOST_PERCENT)]


def _with_drop(plan: Plan, accessory: Accessory, percent: float) -> Plan:
    new = replace(accessory, drop_percent=percent, drop_v=None)
    return replace(
        plan, accessories=tuple(new if a is accessory else a for a in plan.accessories)
    )
