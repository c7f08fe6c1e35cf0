"""One circuit of a result, with what feeds it: the scope of ``check PLAN NAME``."""

from __future__ import annotations

import dataclasses
import difflib
from collections.abc import Iterator

from circuitplan.errors import InputError, Problem
from circuitplan.model.result import Answer, Circuit, Finding, PanelResult, Result
from circuitplan.planner import counted


def narrow(result: Result, name: str) -> Result:
    """The part of ``result`` that ``name`` (accessory, number, switch, panel) is about.

    Circuits and findings hold only those of that circuit and of what feeds it; the answer is
    theirs. Raises InputError when nothing goes by that name, naming the nearest that does.
    """
    wanted = name.casefold().strip()
    circuits = tuple(c for c in result.circuits if wanted in _words(result, c))
    if not circuits and wanted not in {p.id.casefold() for p in result.panels}:
        raise InputError([_nobody(result, name)])
    panels = _feeding(result, circuits, wanted)
    names = {p.id.casefold() for p in panels} | {c.source.casefold() for c in circuits}
    for circuit in circuits:
        names |= {f.casefold() for f in _own_words(circuit)} | {
            s.casefold() for s in circuit.switches
        }
    switches = tuple(
        s for s in result.switches if s.id.casefold() in names or s.id.casefold() == wanted
    )
    ids = {c.id for c in circuits}
    findings = tuple(
        f for f in result.findings if f.circuit in ids or (f.circuit is None and _about(f, names))
    )
    answer, because = verdict(result, findings, name)
    return dataclasses.replace(
        result,
        answer=answer,
        because=because,
        circuits=circuits,
        panels=panels,
        switches=switches,
        findings=findings,
        assumptions=tuple(a for a in result.assumptions if a.subject.casefold() in names),
    )


def verdict(result: Result, findings: tuple[Finding, ...], name: str) -> tuple[Answer, str]:
    """Answer and reason for the findings of one circuit alone."""
    counting = counted(findings)
    if not counting:
        return "ok", f"{name}: every limit is met, here and in what feeds it."
    worst = counting[0]
    others = f" (and {len(counting) - 1} more)" if len(counting) > 1 else ""
    undecided = {rule for a in result.assumptions for rule in a.decides}
    sure = [f for f in counting if f.rule not in undecided]
    answer: Answer = "not ok" if sure and result.answer == "not ok" else "cannot say"
    worst = sure[0] if sure else worst
    said = worst.message
    if not said.casefold().startswith(worst.subject.casefold()):
        said = f"{worst.subject}: {said}"
    return answer, f"{said}{others}"


def _own_words(circuit: Circuit) -> Iterator[str]:
    yield from (circuit.id, str(circuit.number), circuit.label)
    for accessory in circuit.accessories:
        yield accessory.name
    for run in circuit.runs:
        yield run.id
    for fuse in circuit.fuses:
        yield fuse.id
    for relay in circuit.relays:
        yield relay.id


def _words(result: Result, circuit: Circuit) -> set[str]:
    words = {w.casefold() for w in _own_words(circuit)} | {circuit.panel.casefold()}
    words |= {f"circuit {circuit.number}"}
    for switch in result.switches:
        if switch.id in circuit.switches:
            words |= {switch.id.casefold(), switch.label.casefold()}
    return words


def _feeding(result: Result, circuits: tuple[Circuit, ...], name: str) -> tuple[PanelResult, ...]:
    by_name = {p.id.casefold(): p for p in result.panels}
    found: dict[str, PanelResult] = {}
    for start in [*(c.panel.casefold() for c in circuits), name]:
        panel = by_name.get(start)
        while panel is not None and panel.id not in found:
            found[panel.id] = panel
            panel = by_name.get(panel.fed_from.casefold())
    return tuple(p for p in result.panels if p.id in found)


def _about(finding: Finding, names: set[str]) -> bool:
    subject = finding.subject.casefold()
    return subject in names or subject.removeprefix("circuit ") in names


def _nobody(result: Result, name: str) -> Problem:
    known = [a.name for c in result.circuits for a in c.accessories]
    known += [s.id for s in result.switches] + [p.id for p in result.panels]
    folded = {k.casefold(): k for k in known}
    near = difflib.get_close_matches(name.casefold(), folded, n=1, cutoff=0.5)
    return Problem(
        "",
        f"nothing in the plan is called '{name}'",
        "an accessory, a circuit number, a switch or a panel: " + ", ".join(known),
        f"did you mean {folded[near[0]]}?" if near else "use a name as the plan writes it",
    )
