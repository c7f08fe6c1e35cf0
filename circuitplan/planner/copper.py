"""The sizes of all wires chosen together: what it saves, as edits of the plan, and proved."""

from __future__ import annotations

from collections.abc import Iterable

from circuitplan.design import compose, numbering
from circuitplan.design.assume import Ledger
from circuitplan.design.copper.gather import Part, owner_name
from circuitplan.design.copper.settle import Settled, settle
from circuitplan.model.plan import Plan
from circuitplan.model.record import record
from circuitplan.model.result import Finding, Result, Run
from circuitplan.planfile import read_text
from circuitplan.planfile.edits import Change, Merge, apply
from circuitplan.planner.story import counted, study

FORMAT = "circuitplan copper 1"

KG_PER_TENTH_G = 1e-4
KG_PER_MM2_M = 8.96e-3
WORTH_KG = 1e-3
"""Less than a gram is nothing saved."""


@record
class Resized:
    """A wire whose size is another when all are chosen together. ``saves_kg`` is negative where
    it gets thicker, so that others may be thinner."""

    run: str
    between: tuple[str, str]
    before: str
    after: str
    saves_kg: float


@record
class CopperAnswer:
    """Copper of all wires [kg]. ``proven``: with currents at their worst and the fuses as
    ``check`` chose them, no sizes weigh less. ``bound_kg``: nor do any, with every load at its
    best volts, weigh less than this. ``edits`` bring the plan there."""

    answer: str
    because: str
    before_kg: float
    after_kg: float
    bound_kg: float | None
    proven: bool
    raised: int
    resized: tuple[Resized, ...]
    edits: tuple[Change, ...]
    after: Result


def least(plan: Plan, text: str, file: str, time_limit_s: float = 30.0) -> CopperAnswer:
    """Choose shared wires and branches of a plan together, and check what comes of it.

    The plan's ``text`` gets the sizes of the shared wires alone: those of the others follow from
    them. What does not pass the whole check as well as before is not proposed. Raises
    TimeoutError when no choice is found in the time [s].
    """
    before = study(plan)
    state, _ = compose.sized(plan, Ledger(()))
    names = numbering.give(state).run
    was = {s.key: w.conductor.label for s in state.wiring.segments()
           if (w := state.wire.get(s.key)) is not None}
    settled = settle(state, time_limit_s)
    if settled is None:
        return _nothing(before, "no sizes keep every limit: mend first what check finds")
    edits = tuple(_edits(settled, was))
    if not edits:
        return _nothing(before, "each wire chosen for itself is the best here", settled)
    after = study(read_text(apply(text, edits), file))
    worse = _worse(before, after)
    saved = copper_kg(before) - copper_kg(after)
    if worse:
        return _nothing(before, f"the choice did not pass the whole check: {worse[0].message}")
    mends = before.answer != "ok" and after.answer == "ok"
    if saved < WORTH_KG and not mends:
        return _nothing(before, "each wire chosen for itself is as good here", settled)
    rest = _rest(before, settled)
    short = copper_kg(after) - (settled.chosen.cost * KG_PER_TENTH_G + rest)
    proven = settled.chosen.proven and short < WORTH_KG
    proof = "proven the least" if proven else "the least found in the time"
    if settled.chosen.proven and not proven:
        proof = f"within {1000.0 * short:.0f} g of the least"
    how = "less" if saved >= 0.0 else "more"
    because = f"{abs(saved):.2f} kg of copper {how} with all sizes chosen together, {proof}"
    if mends:
        because = f"the plan holds with {because}; each wire alone does not"
    return CopperAnswer(
        after.answer, because if after.answer == "ok" else after.because,
        copper_kg(before), copper_kg(after), settled.bound * KG_PER_TENTH_G + rest, proven,
        len(settled.raised), _resized(before, after, set(names.values())), edits, after,
    )


def _nothing(before: Result, why: str, settled: Settled | None = None) -> CopperAnswer:
    """The plan as it stands, and why there is nothing to propose."""
    sure = settled is not None and settled.chosen.proven
    answer = before.answer if sure or before.answer != "ok" else "cannot say"
    kg = copper_kg(before)
    bound = None if settled is None else settled.bound * KG_PER_TENTH_G + _rest(before, settled)
    return CopperAnswer(
        answer, why if answer != "not ok" else f"{before.because} ({why})", kg, kg, bound, sure,
        0 if settled is None else len(settled.raised), (), (), before,
    )


def _rest(before: Result, settled: Settled) -> float:
    """Copper of the wires that are not chosen here (control wires) [kg]."""
    return max(0.0, copper_kg(before) - settled.before * KG_PER_TENTH_G)


def _edits(settled: Settled, was: dict[str, str]) -> Iterable[Change]:
    """The shared wires whose size is not the one that sizing each alone gives."""
    for part, index in zip(settled.parts, settled.chosen.sizes, strict=True):
        name = owner_name(part)
        label = part.sizes[index].conductor.label
        if name is None or part.fixed or label == was[part.group.segments[0].key]:
            continue
        size = label.replace("²", "2").replace(" class 5", "")
        yield _edit(part, name, size)


def _edit(part: Part, name: str, size: str) -> Change:
    if part.group.segments[0].kind == "trunk":
        return Merge(("switches", name, "lead"), {"size": size})
    return Merge(("panels", name), {"size": size})


def _worse(before: Result, after: Result) -> tuple[Finding, ...]:
    known = {(f.rule, f.subject) for f in counted(before.findings)}
    return tuple(f for f in counted(after.findings) if (f.rule, f.subject) not in known)


def runs_of(result: Result) -> list[Run]:
    """Every wire of a result, panel feeders first."""
    return [r for p in result.panels for r in p.feeder] + [
        r for c in result.circuits for r in c.runs
    ]


def copper_kg(result: Result) -> float:
    """Copper of all wires, out and back [kg]; 8.96 g/cm³ (handbooks; from memory)."""
    return sum(_kg(run) for run in runs_of(result))


def _kg(run: Run) -> float:
    return run.area_mm2 * run.length_m * run.pieces * KG_PER_MM2_M


def _resized(before: Result, after: Result, names: set[str]) -> tuple[Resized, ...]:
    new = {run.id: run for run in runs_of(after)}
    return tuple(
        Resized(run.id, (run.from_, run.to), run.size, other.size, _kg(run) - _kg(other))
        for run in runs_of(before)
        if run.id in names and (other := new.get(run.id)) is not None and other.size != run.size
    )
