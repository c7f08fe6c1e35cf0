"""F03: a short circuit at the far end is not switched off before the wire is hurt."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.model.result import Circuit, Fault, Fuse, PanelResult
from circuitplan.rules import cures, proposals
from circuitplan.rules.base import Case, Finding, Rule, Skip, exceeds, num, ordered

RULE = Rule(
    id="F03",
    name="short circuit not cleared in time",
    signal_word="WARNING",
    fails=True,
    means="At the far end of the wire a dead short lets a certain current flow, with an aged cold "
    "battery, warm wire and worn contacts. The fuse must open at that current within five seconds "
    "and before the wire passes its short-time limit. Faults between twice the rating and the "
    "largest possible current are looked at too.",
    why="On a long thin wire a short draws too little to blow the fuse quickly: the wire glows "
    "instead, and sets fire to what it touches.",
    remedy="Use thicker wire (more fault current, more mass), a smaller fuse, or a family that "
    "opens sooner. A maker's curve may show more than the standard's limits, and a breaker counts "
    "with its curve alone: put the curve beside the plan as a CSV with the columns multiple, "
    "melts_s, clears_s, and write fuse: {rating: 40 A, type: E, curve: maker.csv}.",
    source="IEC 60364-4-43 434.5.2 (t <= (kS/I)²); ISO 8820-3 and -5 time limits",
    status="memory",
    example="8 m of 16 AWG behind 20 A of type C: 36 A flow, 1.8 times the rating; the fuse may "
    "take 40 s, the wire withstands 7.5 s.",
)

LONGEST_S = 5.0
OVERLOAD_MARGIN_K = 50.0
TOO_WEAK = (
    "Let a short draw more: thicker wire, a shorter way, fewer contacts (a relay in place of a "
    "switch that carries the load); or split the load over two circuits with smaller fuses."
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for circuit in case.circuits:
        if circuit.fault is not None and circuit.fuses:
            fuse = _in_front(case, circuit.fault) or circuit.fuses[0]
            yield from _judge(case, case.subject(circuit), circuit, circuit.fault, fuse)
    for panel in case.panels:
        if panel.fault is not None and panel.fuse is not None:
            yield from _judge(case, panel.id, panel, panel.fault, panel.fuse)


def _in_front(case: Case, fault: Fault) -> Fuse | None:
    place = case.run(fault.run)
    return None if place is None else case.protected_by(place.run)


def _judge(
    case: Case, subject: str, owner: Circuit | PanelResult, fault: Fault, fuse: Fuse
) -> Iterator[Finding]:
    allowed_s = min(fault.allowed_s, LONGEST_S)
    place = case.run(fault.run)
    run = place.run if place else None
    band_limit_c = run.insulation_c + OVERLOAD_MARGIN_K if run else None
    circuit = owner.id if isinstance(owner, Circuit) else None
    if fault.clears_s is None or exceeds(fault.clears_s, allowed_s):
        remedy, change = cures.remedy(owner, RULE.id, fuse.id, TOO_WEAK)
        if fault.clears_s is None:
            takes, limit = "may never open", num(allowed_s)
            if not proposals.gates_of(fuse.type):
                takes = f"({fuse.type}) has no curve here, so nothing shows that it opens"
        else:
            found, limit = ordered(fault.clears_s, allowed_s)
            takes = f"may take {found} s"
        yield RULE.finding(
            subject,
            f"A short circuit at the end of wire {fault.run} draws {num(fault.current_a)} A, "
            f"{num(fault.current_a / fuse.rating_a, 2)} times the rating of {fuse.id}, which "
            f"{takes}; it must open within {limit} s. The wire glows before that: fire.",
            remedy,
            found=fault.clears_s,
            limit=allowed_s,
            unit="s",
            change=change,
            circuit=circuit,
        )
    elif (
        fault.band_peak_c is not None
        and band_limit_c is not None
        and run is not None
        and exceeds(fault.band_peak_c, band_limit_c)
    ):
        found, limit = ordered(fault.band_peak_c, band_limit_c)
        remedy, change = cures.remedy(
            owner, RULE.id, fuse.id,
            f"Use wire thicker than {run.size}, or lessen the load so that a smaller fuse "
            "carries it.",
        )  # fmt: skip
        yield RULE.finding(
            subject,
            f"At some fault current above twice the rating of {fuse.id}, wire {run.id} "
            f"({run.size}) reaches {found} °C before the fuse opens; {limit} °C is its short-time "
            "limit. The insulation is lost: fire.",
            remedy,
            change=change,
            found=fault.band_peak_c,
            limit=band_limit_c,
            unit="°C",
            circuit=circuit,
        )
