"""Splits, and the sizes of all wires chosen together: what it saves, as edits, and proved."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from circuitplan.design import compose
from circuitplan.design.assume import Ledger
from circuitplan.design.copper import splits
from circuitplan.design.copper.gather import owner_name
from circuitplan.design.copper.settle import Settled, settle
from circuitplan.model.plan import Plan
from circuitplan.model.record import record
from circuitplan.model.result import Finding, Result, Run
from circuitplan.physics.copper import mass_kg
from circuitplan.planfile import read_text
from circuitplan.planfile.edits import Change, Merge, apply
from circuitplan.planner.story import counted, study

FORMAT = "circuitplan copper 1"

KG_PER_TENTH_G = 1e-4
WORTH_KG = 1e-3
"""Less than a gram is nothing saved."""


@record
class Resized:
    """A wire whose size is another when all are chosen together; None: it is not there.
    ``saves_kg`` is negative where it gets thicker, so that others may be thinner."""

    run: str
    between: tuple[str, str]
    before: str | None
    after: str | None
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


@record
class _Stage:
    """A plan on its way: its text, what it comes to, and the edits so far."""

    plan: Plan
    text: str
    result: Result
    edits: tuple[Change, ...]

    def tried(self, edits: Sequence[Change], file: str) -> _Stage:
        text = apply(self.text, edits)
        plan = read_text(text, file)
        return _Stage(plan, text, study(plan), (*self.edits, *edits))


def least(plan: Plan, text: str, file: str, time_limit_s: float = 30.0) -> CopperAnswer:
    """Choose where shared wires split, and the sizes of all wires together, and check the whole.

    The plan's ``text`` gets splits and the sizes of shared wires alone: those of the others follow
    from them. What does not pass the whole check as well as before is not proposed. Raises
    TimeoutError when no choice is found in the time [s].
    """
    start = _Stage(plan, text, study(plan), ())
    before = start.result
    split = _split(start, file)
    state, _ = compose.sized(split.plan, Ledger(()))
    was = {s.key: w.conductor.label for s in state.wiring.segments()
           if (w := state.wire.get(s.key)) is not None}
    settled = settle(state, time_limit_s)
    if settled is None:
        why = "no sizes keep every limit: mend first what check finds"
        return _answer(before, start, None, why)
    edits = tuple(_edits(settled, was))
    if not edits:
        return _answer(before, split, settled, "each wire chosen for itself is the best here")
    sized = split.tried(edits, file)
    worse = _worse(before, sized.result)
    if worse:
        why = f"the choice did not pass the whole check: {worse[0].message}"
        return _answer(before, split, None, why)
    if not (_saves(split.result, sized.result) or _mends(before, sized.result)):
        return _answer(before, split, settled, "each wire chosen for itself is as good here")
    return _answer(before, sized, settled, "")


def _split(start: _Stage, file: str) -> _Stage:
    """Each switch that works several things a common way off, split at the last common place if
    that weighs less; tried one by one on the whole plan."""
    stage = start
    for switch, place in splits.candidates(start.plan):
        trial = stage.tried((Merge(("switches", switch), {"split": place}),), file)
        if _saves(stage.result, trial.result) and not _worse(stage.result, trial.result):
            stage = trial
    return stage


def _saves(before: Result, after: Result) -> bool:
    return copper_kg(before) - copper_kg(after) >= WORTH_KG


def _mends(before: Result, after: Result) -> bool:
    return before.answer != "ok" and after.answer == "ok"


def _answer(before: Result, stage: _Stage, settled: Settled | None, why: str) -> CopperAnswer:
    """What a stage comes to; ``why``: why nothing more is proposed."""
    after = stage.result
    was_kg, now_kg = copper_kg(before), copper_kg(after)
    proven, bound_kg = False, None
    proof = "the least found in the time"
    if settled is not None:
        if settled.bound is not None:
            bound_kg = settled.bound * KG_PER_TENTH_G + _controls(after)
        short = now_kg - settled.chosen.cost * KG_PER_TENTH_G - _controls(after)
        proven = settled.chosen.proven and short < WORTH_KG
        proof = "proven the least" if proven else proof  # of the sizes, with these splits
        if settled.chosen.proven and not proven:
            proof = f"within {1000.0 * short:.0f} g of the least"
    answer, because = after.answer, why
    if stage.edits:
        how = "less" if now_kg <= was_kg else "more"
        split = any(isinstance(e, Merge) and "split" in e.values for e in stage.edits)
        chosen = "splits and all sizes" if split else "all sizes"
        because = f"{abs(was_kg - now_kg):.2f} kg of copper {how} with {chosen} chosen together"
        because += f", {proof}" if settled is not None else f"; {why}"
        if _mends(before, after):
            because = f"the plan holds with {because}; each wire alone does not"
    elif not proven and answer == "ok":
        answer = "cannot say"
    if answer == "not ok":
        because = f"{after.because} ({because})"
    return CopperAnswer(
        answer, because, was_kg, now_kg, bound_kg, proven,
        0 if settled is None else len(settled.raised), _resized(before, after), stage.edits, after,
    )


def _controls(result: Result) -> float:
    """Copper of control wires, which are not chosen here [kg]."""
    return sum(_kg(run) for run in runs_of(result) if run.role == "control")


def _edits(settled: Settled, was: dict[str, str]) -> Iterable[Change]:
    """The shared wires whose size is not the one that sizing each alone gives."""
    for part, index in zip(settled.parts, settled.chosen.sizes, strict=True):
        name = owner_name(part)
        label = part.sizes[index].conductor.label
        if name is None or part.fixed or label == was[part.group.segments[0].key]:
            continue
        size = label.replace("²", "2").replace(" class 5", "")
        trunk = part.group.segments[0].kind == "trunk"
        yield Merge(("switches", name, "lead") if trunk else ("panels", name), {"size": size})


def _worse(before: Result, after: Result) -> tuple[Finding, ...]:
    known = {(f.rule, f.subject) for f in counted(before.findings)}
    return tuple(f for f in counted(after.findings) if (f.rule, f.subject) not in known)


def runs_of(result: Result) -> list[Run]:
    """Every wire of a result, panel feeders first."""
    return [r for p in result.panels for r in p.feeder] + [
        r for c in result.circuits for r in c.runs
    ]


def copper_kg(result: Result) -> float:
    """Copper of all wires, out and back [kg]."""
    return sum(_kg(run) for run in runs_of(result))


def _kg(run: Run) -> float:
    return mass_kg(run.area_mm2, run.length_m * run.pieces)


def _resized(before: Result, after: Result) -> tuple[Resized, ...]:
    old = {(run.role, run.from_, run.to): run for run in runs_of(before)}
    new = {(run.role, run.from_, run.to): run for run in runs_of(after)}
    found = []
    for key in dict.fromkeys((*old, *new)):
        was, now = old.get(key), new.get(key)
        if was is not None and now is not None and was.size == now.size:
            continue
        run = now or was
        assert run is not None
        found.append(
            Resized(
                run.id, (run.from_, run.to), None if was is None else was.size,
                None if now is None else now.size,
                (0.0 if was is None else _kg(was)) - (0.0 if now is None else _kg(now)),
            )
        )
    return tuple(found)
