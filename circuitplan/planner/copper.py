"""Splits, and the sizes of all wires chosen together: what it saves, as edits, and proved."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from circuitplan.design import compose
from circuitplan.design.assume import Ledger
from circuitplan.design.copper import splits
from circuitplan.design.copper.part import said_at
from circuitplan.design.copper.settle import Settled, settle
from circuitplan.design.state import State
from circuitplan.model.plan import Plan
from circuitplan.model.record import record
from circuitplan.model.result import Finding, Result
from circuitplan.planfile import read_text
from circuitplan.planfile.edits import Change, Merge, apply
from circuitplan.planner.measures import Measure, Purse, Weight, copper_kg, kg, runs_of, saves
from circuitplan.planner.story import counted, study

FORMAT = "circuitplan copper 1"

NOTHING_BETTER = "nothing better was found: each wire chosen for itself is as good here"

HOLDER = "W04"
MOST_ROUNDS = 4
"""Times that sizes which did not follow are written too."""


@record
class Resized:
    """A wire whose size is another when all are chosen together; None: it is not there.
    ``saves_kg`` is negative where it gets thicker, so that others may be thinner. ``saves``: money,
    where the least price was asked for."""

    run: str
    between: tuple[str, str]
    before: str | None
    after: str | None
    saves_kg: float
    saves: float | None


@record
class Money:
    """All wire that has a price, by the price list, in ``currency``. ``open_before`` and ``open``:
    how many wires have none and are not counted; ``unpriced``: sizes not to be had for some wire or
    any, by the list."""

    currency: str
    before: float
    after: float
    bound: float | None
    open_before: int
    open: int
    unpriced: tuple[str, ...]


@record
class CopperAnswer:
    """Copper of all wires [kg]. ``proven``: with currents at their worst and the fuses as
    ``check`` chose them, no sizes weigh less (by price: cost less). ``bound_kg``: nor do any, with
    every load at its best volts, weigh less than this. ``edits`` bring the plan there. ``money``:
    where the least price was asked for."""

    answer: str
    because: str
    before_kg: float
    after_kg: float
    bound_kg: float | None
    money: Money | None
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


def least(
    plan: Plan, text: str, file: str, time_limit_s: float = 30.0, purse: Purse | None = None
) -> CopperAnswer:
    """Choose where shared wires split, and the sizes of all wires together, and check the whole.

    By weight the plan's ``text`` gets splits and the sizes of shared wires alone: those of the
    others follow from them. By price (``purse``) it gets every size that would not follow. What
    does not pass the whole check as well as before is not proposed. Raises TimeoutError when no
    choice is found in the time [s], InputError where the price list does not serve.
    """
    measure: Measure = purse or Weight()
    start = _Stage(plan, text, study(plan), ())
    before = start.result
    unpriced = () if purse is None else purse.learn(_sized(plan))
    split = _split(start, file, measure)
    state = _sized(split.plan)
    was = _labels(state)
    settled = settle(state, time_limit_s, None if purse is None else purse.rate)

    def answer(stage: _Stage, settled: Settled | None, why: str) -> CopperAnswer:
        return _answer(before, stage, settled, why, measure, unpriced)

    if settled is None:
        return answer(start, None, _none_holds(before, purse))
    edits = tuple(_edits(state, settled, was, shared_only=purse is None))
    if not edits:
        return answer(split, settled, "each wire chosen for itself is the best here")
    sized = split.tried(edits, file)
    for _ in range(MOST_ROUNDS if purse is not None else 0):
        more = tuple(_edits(state, settled, _labels(_sized(sized.plan)), shared_only=False))
        if not more:
            break
        sized = sized.tried(more, file)
    worse = _worse(before, sized.result, measure)
    if worse:
        why = f"the choice did not pass the whole check: {worse[0].message}"
        return answer(split, None, why)
    if not (saves(measure, split.result, sized.result) or _mends(before, sized.result)):
        return answer(split, settled, NOTHING_BETTER)
    return answer(sized, settled, "")


def _none_holds(before: Result, purse: Purse | None) -> str:
    if purse is None or before.answer != "ok":
        return "no sizes keep every limit: mend first what check finds"
    lacking = sorted({size for *_, size, _ in purse.unknown(before)})
    return "no sizes with a price keep every limit" + (
        f"; check chose {', '.join(lacking)}, without a price in the list" if lacking else ""
    )


def _sized(plan: Plan) -> State:
    return compose.sized(plan, Ledger(()))[0]


def _labels(state: State) -> dict[str, str]:
    """The size of every wire."""
    return {s.key: w.conductor.label for s in state.wiring.segments()
            if (w := state.wire.get(s.key)) is not None}


def _split(start: _Stage, file: str, measure: Measure) -> _Stage:
    """Each switch or circuit number with several things a common way off, split at the last common
    place if that comes to less; tried one by one on the whole plan."""
    stage = start
    for where, place in splits.candidates(start.plan, _sized(start.plan).wiring):
        trial = stage.tried((Merge(where, {"split": place}),), file)
        if saves(measure, stage.result, trial.result) and not _worse(
            stage.result, trial.result, measure
        ):
            stage = trial
    return stage


def _mends(before: Result, after: Result) -> bool:
    return before.answer != "ok" and after.answer == "ok"


def _answer(
    before: Result, stage: _Stage, settled: Settled | None, why: str, measure: Measure,
    unpriced: tuple[str, ...],
) -> CopperAnswer:
    """What a stage comes to; ``why``: why nothing more is proposed."""
    after = stage.result
    was, now = measure.of(before), measure.of(after)
    proven, bound = False, None
    proof = "the least found in the time"
    if settled is not None:
        controls = measure.of(after, controls=True)
        if settled.bound is not None:
            bound = settled.bound / settled.per_unit + controls
        short = now - settled.chosen.cost / settled.per_unit - controls
        proven = settled.chosen.proven and abs(short) < measure.worth
        proof = "proven the least" if proven else proof  # of the sizes, with these splits
        if settled.chosen.proven and short >= measure.worth:
            proof = f"within {measure.gap(short)} of the least"
        if short <= -measure.worth:  # the plan as it is keeps a limit at the favourable end only
            bound, why = None, "sizes that keep every limit come to more: mend what check finds"
        elif why and not proven:
            why = _not_ruled_out(why, bound, now, measure)
    answer, because = after.answer, why
    if stage.edits:
        how = "less" if now <= was else "more"
        split = any(isinstance(e, Merge) and "split" in e.values for e in stage.edits)
        chosen = "splits and all sizes" if split else "all sizes"
        because = f"{measure.words(abs(was - now))} {how} with {chosen} chosen together"
        if measure.unknown(before) - measure.unknown(after):
            because = f"{measure.words(now)} with {chosen} chosen together by the price list"
        because += f", {proof}" if settled is not None else f"; {why}"
        if _mends(before, after):
            because = f"the plan holds with {because}; each wire alone does not"
    elif settled is None and answer == "ok":
        answer = "cannot say"  # no choice was made that could be held against the plan
    if answer == "not ok":
        because = f"{after.because} ({because})"
    money = None
    if isinstance(measure, Purse):
        money = Money(
            measure.currency, was, now, bound, len(measure.unknown(before)),
            len(measure.unknown(after)), unpriced,
        )
    return CopperAnswer(
        answer, because, copper_kg(before), copper_kg(after), bound if money is None else None,
        money, proven, 0 if settled is None else len(settled.raised),
        _resized(before, after, measure), stage.edits, after,
    )


def _not_ruled_out(
    why: str, bound: float | None, now: float, measure: Measure
) -> str:
    """What better choice is not excluded where nothing better was found."""
    if bound is None:
        return f"{why}; how much less another choice could come to is not known"
    return f"{why}; up to {measure.gap(max(now - bound, 0.0))} less is not ruled out"


def _edits(
    state: State, settled: Settled, now: Mapping[str, str], shared_only: bool
) -> Iterable[Change]:
    """The wires whose size is not the one chosen; ``now``: the size of each."""
    for part, index in zip(settled.parts, settled.chosen.sizes, strict=True):
        where = said_at(state, part.group)
        label = part.sizes[index].conductor.label
        if where is None or part.fixed or label == now[part.group.segments[0].key]:
            continue
        if shared_only and part.group.load is not None:
            continue
        yield Merge(where, {"size": label.replace("²", "2").replace(" class 5", "")})


def _worse(before: Result, after: Result, measure: Measure) -> tuple[Finding, ...]:
    """What fails and did not before; by price also what the holder of its fuse does not take."""

    def heeded(result: Result) -> list[Finding]:
        held = [f for f in result.findings if f.rule == HOLDER and isinstance(measure, Purse)]
        return counted(result.findings) + held

    known = {(f.rule, f.subject) for f in heeded(before)}
    return tuple(f for f in heeded(after) if (f.rule, f.subject) not in known)


def _resized(before: Result, after: Result, measure: Measure) -> tuple[Resized, ...]:
    cost: tuple[dict[tuple[str, str, str], float], ...] = ()
    if isinstance(measure, Purse):
        cost = measure.of_each(before), measure.of_each(after)
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
                (0.0 if was is None else kg(was)) - (0.0 if now is None else kg(now)),
                cost[0].get(key, 0.0) - cost[1].get(key, 0.0) if cost else None,
            )
        )
    return tuple(found)
