"""The answer of ``assign``: who is on which switch, what is added, or what conflicts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from circuitplan.cli.terminal.findings import finding_lines
from circuitplan.cli.terminal.overview import caution_lines
from circuitplan.cli.terminal.problems import answer_lines
from circuitplan.cli.terminal.text import Column, ink, page_width, table, up, wrap
from circuitplan.model.result import Result
from circuitplan.planner import counted
from circuitplan.planner.assigning import FORMAT, AssignAnswer, Assignment, Proposal, words


def proposal_lines(
    answer: AssignAnswer, before: Result, after: Result, plan_file: str, said: Sequence[str]
) -> Iterator[str]:
    """Verdict of the plan with the choice in it, the choice, how it was proved, what follows."""
    best, width = answer.proposals[0], page_width()
    summary = f"{_counts(best)}; {_proof(best)}"
    if after.answer != "ok":
        summary = f"with the choice in it the plan still has this: {after.because} ({summary})"
    yield from answer_lines(after.answer, summary)
    yield ""
    yield ink("SWITCHES CHOSEN", "head")
    yield from _table(best, after, width)
    for name in best.relayed:
        yield from wrap(
            f"{name} is to work a relay instead of carrying the load.", width, first="- ",
            rest="  ",
        )
    for line in best.kept:
        yield from wrap(f"{line}.", width, first="- ", rest="  ")
    if best.cautions:
        yield from wrap(
            f"{best.cautions} of these are usually worked while held, on a control that stays on: "
            "no control that springs back had room.", width, first="- ", rest="  ",
        )  # fmt: skip
    yield ""
    edits = words(best)
    yield ink("WHAT THE PLAN WOULD SAY" if not said else "WHAT THE PLAN SAYS NOW", "head")
    for line in edits or ("nothing new",):
        yield from wrap(line, width, first="- ", rest="  ")
    for line in said:
        yield from wrap(f"{line}.", width)
    if edits and not said:
        yield "Nothing is written; --keep writes it."
    for number, other in enumerate(answer.proposals[1:], 2):
        yield from _other(number, other, best, width)
    failing = counted(after.findings)
    if failing:
        yield ""
        yield ink(f"FINDINGS THAT FAIL WITH THIS CHOICE ({len(failing)})", "head")
        yield from finding_lines(failing, plan_file)
    elif counted(before.findings):
        yield ""
        yield f"The plan as it stands is {before.answer.upper()}; this choice mends it."
    yield from caution_lines()


def conflict_lines(answer: AssignAnswer) -> Iterator[str]:
    """The demands that cannot hold together, and the least that would have to give."""
    width = page_width()
    first = answer.conflicts[0] if answer.conflicts else ()
    because = "; ".join(clash.demand for clash in first) or "no assignment meets the plan"
    if len(first) == 1:
        yield from answer_lines("NOT OK", f"this cannot be met: {because}.")
    else:
        yield from answer_lines("NOT OK", f"these cannot hold together: {because}.")
    for number, conflict in enumerate(answer.conflicts, 1):
        yield ""
        yield ink(f"CONFLICT {number} OF {len(answer.conflicts)}", "head")
        for clash in conflict:
            yield from wrap(clash.demand, width, first="- ", rest="  ")
    if any(len(conflict) > 1 for conflict in answer.conflicts):
        yield ""
        yield "Without any one line of a conflict the rest of it can be met."
    yield ""
    if answer.relief:
        yield ink("LEAST THAT WOULD HAVE TO GIVE", "head")
        for line in answer.relief:
            yield from wrap(line, width, first="- ", rest="  ")
    else:
        yield "Nothing that may safely be given up would make it possible."
    yield from caution_lines()


def as_data(answer: AssignAnswer, after: Result | None, said: Sequence[str]) -> dict[str, Any]:
    """The form of ``--json``."""
    best = answer.proposals[0] if answer.proposals else None
    return {
        "format": FORMAT,
        "answer": after.answer if after is not None else "not ok",
        "because": after.because if after is not None else "the demands conflict",
        "proven": best.proven if best else True,
        "gap": best.gap if best else 0.0,
        "parts_added": best.parts_added if best else None,
        "copper_g": best.copper_g if best else None,
        "assignments": _assignments(best) if best else [],
        "changes": list(words(best)) if best else [],
        "kept": list(best.kept) if best else [],
        "written": list(said),
        "alternatives": [
            {
                "proven": p.proven, "parts_added": p.parts_added, "copper_g": p.copper_g,
                "assignments": _assignments(p), "changes": list(words(p)),
            }
            for p in answer.proposals[1:]
        ],
        "conflict": [
            [{"demand": c.demand, "about": list(c.about)} for c in conflict]
            for conflict in answer.conflicts
        ],
        "relief": list(answer.relief),
    }  # fmt: skip


def _assignments(proposal: Proposal) -> list[dict[str, Any]]:
    return [
        {
            "accessory": a.accessory, "switch": a.switch, "relay": a.relay, "panel": a.panel,
            "decided": a.decided,
        }
        for a in proposal.assignments
    ]  # fmt: skip


def _counts(proposal: Proposal) -> str:
    decided = sum(a.decided for a in proposal.assignments)
    chosen = {0: "no switch had to be chosen", 1: "a switch is chosen for 1 accessory"}.get(
        decided, f"switches are chosen for {decided} accessories"
    )
    added = {0: "no relay is added", 1: "1 relay is added"}.get(
        proposal.parts_added, f"{proposal.parts_added} relays are added"
    )
    return f"{chosen}, {added}"


def _proof(proposal: Proposal) -> str:
    if proposal.proven:
        return "proven: no choice needs fewer relays, or as few and less copper"
    return f"not proven best: a better one may exist, at most {up(100 * proposal.gap)} % better"


def _table(proposal: Proposal, after: Result, width: int) -> Iterator[str]:
    columns = (
        Column("Switch", 14),
        Column("Accessory", 28, gives_way=True),
        Column("By", 9),
        Column("Fed from", 12),
        Column("Its load", right=True),
        Column("Chosen", 9),
    )
    loads = {s.id: s for s in after.switches}
    rows = []
    for a in sorted(proposal.assignments, key=lambda a: (a.switch is None, a.switch or "")):
        switch = loads.get(a.switch or "")
        load = "" if switch is None else f"{up(switch.current_a, 2 if switch.current_a < 1 else 1)}"
        usable = "" if switch is None or switch.usable_a is None else f" of {switch.usable_a:.4g}"
        rows.append(
            (
                a.switch or "none", a.accessory, _how(a), a.panel or "-",
                f"{load}{usable} A" if load else "-", "now" if a.decided else "in plan",
            )
        )  # fmt: skip
    yield from table(columns, rows, width=width)


def _how(assignment: Assignment) -> str:
    if assignment.switch is None:
        return "no switch"
    return "relay" if assignment.relay else "contact"


def _other(number: int, other: Proposal, best: Proposal, width: int) -> Iterator[str]:
    """How one of the next best differs from the best."""
    yield ""
    head = f"NUMBER {number}: {_counts(other)}, {other.copper_g - best.copper_g:+d} g of copper"
    yield ink(head, "head")
    was = {a.accessory: a for a in best.assignments}
    differing = [a for a in other.assignments if a != was[a.accessory]]
    for a in differing:
        where = a.switch or "no switch"
        yield from wrap(
            f"{a.accessory}: {where}, {_how(a)}, fed from {a.panel or 'a battery'}", width,
            first="- ", rest="  ",
        )
