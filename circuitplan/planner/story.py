"""The whole story on one screen: plan -> design -> rules -> result."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from circuitplan.design import compose, numbering, solve
from circuitplan.design.assume import Ledger
from circuitplan.design.bench import buying
from circuitplan.design.outcome import Outcome
from circuitplan.design.protection import proof
from circuitplan.design.supplying.supply import Supply
from circuitplan.model.plan import Plan
from circuitplan.model.record import record
from circuitplan.model.result import Answer, Finding, PlanHead, Result
from circuitplan.rules import judge_all, worst_first
from circuitplan.rules import u01_assumed_value_decides as u01
from circuitplan.rules.case import Case

Key = tuple[str, str]


@record
class Worked:
    """A result before the verdict, and the assumptions that have a favourable end."""

    result: Result
    open: frozenset[Key]


def study(plan: Plan, whole: bool = True) -> Result:
    """Design and judge a plan.

    OK: nothing fails with every assumed value at its safe end. NOT OK: something fails at both
    ends. CANNOT SAY: what fails hangs on values that nobody has given.
    """
    safe = design(plan, (), whole)
    failing = {_key(f) for f in counted(safe.result.findings)}
    if not failing or not safe.open:
        return _answered(safe.result, "not ok" if failing else "ok")
    best = design(plan, None)
    stays = {_key(f) for f in counted(best.result.findings)} & failing
    deciding = _deciding(plan, safe, failing - stays)
    return _answered(_marked(safe.result, deciding), "not ok" if stays else "cannot say", stays)


def design(
    plan: Plan, favourable: Collection[Key] | None, whole: bool = True
) -> Worked:
    """One pass: loads, ways, sizes, network, supply, findings."""
    ledger = Ledger(favourable)
    state, sizer = compose.sized(plan, ledger)
    ends = state.levels
    solved = solve.electrical(state)
    numbers = numbering.give(state)
    outcome = Outcome(state, numbers, solved, sizer)
    circuits, panels = outcome.circuits(), outcome.panels()
    if favourable is not None and not favourable:  # what is shown; the rest only decides
        circuits, panels = proof.attach(
            state, numbers, solved, sizer, circuits, panels, whole
        )
    batteries = tuple(ends.batteries)
    supply = Supply(state, ledger, solved).result(buying.isolation(circuits, batteries))
    result = Result(
        answer="ok", because="", plan=_head(plan), circuits=circuits,
        switches=outcome.switches(), panels=panels, supply=supply,
        parts=buying.parts(circuits, panels), findings=(), assumptions=ledger.listed(),
    )
    findings = judge_all(Case(plan, result, plan.practice))
    return Worked(replace(result, findings=findings), frozenset(ledger.two_ended))


def counted(findings: tuple[Finding, ...]) -> list[Finding]:
    """Findings that decide: failing, and not accepted (a DANGER cannot be accepted)."""
    return [
        f for f in findings if f.fails and (f.accepted_by is None or f.signal_word == "DANGER")
    ]


def _key(finding: Finding) -> Key:
    return finding.rule, finding.subject


def _deciding(plan: Plan, safe: Worked, unsure: set[Key]) -> dict[Key, set[str]]:
    """Assumption -> rules whose verdict hangs on it.

    Halves are tried at their favourable end: one that cures nothing is left out, so that a few
    passes do. What only several cure together hangs on each of them.
    """
    found: dict[Key, set[str]] = {}

    def cured(keys: list[Key]) -> set[Key]:
        left = {_key(f) for f in counted(design(plan, frozenset(keys)).result.findings)}
        return unsure - left

    def look(keys: list[Key], gone: set[Key]) -> None:
        if not gone:
            return
        if len(keys) == 1:
            found.setdefault(keys[0], set()).update(rule for rule, _ in gone)
            return
        half = len(keys) // 2
        parts = [(part, cured(part) & gone) for part in (keys[:half], keys[half:])]
        together = gone - parts[0][1] - parts[1][1]
        for key in keys if together else ():
            found.setdefault(key, set()).update(rule for rule, _ in together)
        for part, mine in parts:
            look(part, mine)

    related = _related(plan, safe, unsure)
    if unsure and related:
        look(related, cured(related))
    return found


def _related(plan: Plan, safe: Worked, unsure: set[Key]) -> list[Key]:
    """Open assumptions that can touch these findings: those of other circuits are left out."""
    subjects = {subject.casefold() for _, subject in unsure}
    near: set[str] = set()
    for circuit in safe.result.circuits:
        names = {circuit.label, circuit.panel, *circuit.switches}
        names |= {a.name for a in circuit.accessories}
        folded = {n.casefold() for n in names}
        if folded & subjects:
            near |= folded
    others = {a.name.casefold() for a in plan.accessories} - near
    supply = any(rule.startswith(("B", "X")) for rule, _ in unsure)
    return [
        key for key in sorted(safe.open)
        if supply or not any(key[0].casefold().startswith(name) for name in others)
    ]


def _marked(result: Result, deciding: dict[Key, set[str]]) -> Result:
    assumptions = tuple(
        replace(a, decides=tuple(sorted(deciding.get((a.subject, a.what), ()))))
        for a in result.assumptions
    )
    hanging = tuple(
        u01.finding(a.subject, a.what, a.value, a.decides) for a in assumptions if a.decides
    )
    return replace(
        result, assumptions=assumptions, findings=worst_first((*result.findings, *hanging))
    )


def _answered(result: Result, answer: Answer, stays: Collection[Key] = ()) -> Result:
    failing = sorted(counted(result.findings), key=_telling)
    if stays:
        failing = [f for f in failing if _key(f) in stays] or failing
    because = {
        "ok": "every limit is met with all assumed values at their safe end",
        "not ok": "",
        "cannot say": "it hangs on values that the plan does not give",
    }[answer]
    if failing:
        first = failing[0].message
        because = first if answer == "not ok" else f"{because}: {first}"
    return replace(result, answer=answer, because=because)


_WORDS = ("DANGER", "WARNING", "CAUTION", "NOTICE")


def _telling(finding: Finding) -> tuple[int, bool]:
    """Worst first; of equal ones an overloaded switch, which is often the cause of the others."""
    return _WORDS.index(finding.signal_word), not finding.rule.startswith("S")


def _head(plan: Plan) -> PlanHead:
    job = plan.job
    return PlanHead(
        plan.title, plan.revision, plan.nominal_v, plan.practice,
        {
            "number": job.number, "owner": job.owner, "vehicle": job.vehicle, "by": job.by,
            "approved_by": job.approved_by, "date": job.date,
        },
        plan.sha256, plan.drawn_in,
    )
