"""Which circuits and feeders do not hold: those that a failing finding is about."""

from __future__ import annotations

from circuitplan.model.result import Circuit, Finding, Result
from circuitplan.planner.story import counted

MARK = "does not hold: see findings"


def failing(result: Result) -> dict[str, tuple[Finding, ...]]:
    """Circuit and panel ids -> the failing findings about them, worst first.

    A circuit's are those that carry its id, or whose subject is its label, one of its accessories
    or one of its switches. Findings that someone accepted do not count, as in the verdict.
    """
    found: dict[str, tuple[Finding, ...]] = {}
    counting = counted(result.findings)
    for circuit in result.circuits:
        mine = tuple(f for f in counting if concerns(f, circuit))
        if mine:
            found[circuit.id] = mine
    for panel in result.panels:
        mine = tuple(f for f in counting if f.subject.casefold() == panel.id.casefold())
        if mine:
            found[panel.id] = mine
    return found


def unheld_parts(result: Result) -> frozenset[str]:
    """Ids of the wires and fuses of what does not hold, for lists that name these alone."""
    bad = failing(result)
    found: set[str] = set()
    for circuit in result.circuits:
        if circuit.id in bad:
            found |= {r.id for r in circuit.runs} | {f.id for f in circuit.fuses}
    for panel in result.panels:
        if panel.id in bad:
            found |= {r.id for r in panel.feeder} | ({panel.fuse.id} if panel.fuse else set())
    return frozenset(found)


def concerns(finding: Finding, circuit: Circuit) -> bool:
    """Whether a finding is about this circuit, one of its accessories or one of its switches."""
    if finding.circuit is not None:
        return finding.circuit == circuit.id
    names = {circuit.label, *circuit.switches, *(a.name for a in circuit.accessories)}
    subject = finding.subject.casefold().removeprefix("circuit ")
    return subject in {n.casefold() for n in names} or subject == str(circuit.number)


def warning(result: Result) -> str:
    """What every paper of a plan that is not OK says at its head; empty if it is OK."""
    if result.answer == "ok":
        return ""
    names = [c.label for c in result.circuits if c.id in failing(result)]
    names += [p.id for p in result.panels if p.id in failing(result)]
    about = f" ({', '.join(names)})" if names else ""
    return (
        f"{result.answer.upper()}: this plan does not hold yet{about}. Do not build from this "
        "paper; see the findings in the wiring summary."
    )
