"""P01: a published threshold of the chosen practice is not met."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules import proposals
from circuitplan.rules.base import Case, Finding, Rule, RunPlace, Skip, below, listed, num, ordered

RULE = Rule(
    id="P01",
    name="threshold of the practice",
    signal_word="WARNING",
    fails=True,
    means="The plan names a practice, and a published threshold of that practice, beyond the "
    "general rules, is not met. Rescue vehicle: every wire carries 125 % of its fuse. Small "
    "craft: fuses break what the standard asks for by the size of the battery.",
    why="The vehicle is not accepted; the margin that the practice wants for hard use is not "
    "there, and wire or fuse may overheat in service and burn.",
    remedy="Use thicker wire, a smaller fuse, or a fuse of higher breaking capacity, as the "
    "finding says. Meeting a threshold here is no certificate.",
    source="NFPA 1901 13.2.1.1 (Iz >= 1.25 In); ABYC E-11 table V.A",
    status="second-hand",
    example="Rescue vehicle: a 30 A fuse asks for wire that carries 37.5 A where it lies.",
)

RESCUE_RATIO = 1.25
# Cold cranking ampere up to, main device, branch device [A]; beyond the last: its own row.
BOAT_BREAKING = ((650.0, 1500.0, 750.0), (1100.0, 3000.0, 1500.0), (float("inf"), 5000.0, 2500.0))


def judge(case: Case) -> Iterator[Finding | Skip]:
    if case.trade == "rescue vehicle":
        yield from _rescue(case)
    elif case.trade == "small craft":
        yield from _boat(case)


def _rescue(case: Case) -> Iterator[Finding]:
    worst: dict[str, tuple[float, RunPlace, float]] = {}
    for place in case.runs:
        fuse = case.protected_by(place.run)
        if fuse is None or fuse.short_circuit_only or place.run.role == "control":
            continue
        needed_a = RESCUE_RATIO * fuse.rating_a
        if below(place.run.ampacity_a, needed_a):
            ratio = place.run.ampacity_a / needed_a
            known = worst.get(place.subject)
            if known is None or ratio < known[0]:
                worst[place.subject] = (ratio, place, needed_a)
    for subject, (_, place, needed_a) in worst.items():
        run = place.run
        found, limit = ordered(run.ampacity_a, needed_a)
        label = proposals.size_for_ampacity(run, needed_a)
        yield RULE.finding(
            subject,
            f"Wire {run.id} ({run.size}) carries {found} A; the rescue vehicle practice asks for "
            f"1.25 times its fuse, {limit} A. In hard use it runs hotter than that practice "
            "allows.",
            f"Use {label} instead of {run.size}, or a smaller fuse if the load allows."
            if label
            else "Use a smaller fuse if the load allows, insulation of a higher class, or a cooler "
            "way.",
            found=run.ampacity_a,
            limit=needed_a,
            unit="A",
            change=proposals.size_change(place.thing, label),
            circuit=place.circuit_id,
            source="NFPA 1901 13.2.1.1",
        )


def _boat(case: Case) -> Iterator[Finding | Skip]:
    groups: dict[tuple[str, float, bool], list[str]] = {}
    for place in case.fuses:
        capacity_a = place.fuse.breaking_capacity_a
        if place.circuit is not None:
            source = place.circuit.source
        else:
            source = _source(case, place.panel.id if place.panel else "")
        battery = case.battery(source)
        if battery is None or battery.cranking_a is None:
            yield Skip(f"the plan does not say the cranking current of {source}", place.subject)
            continue
        _, main_a, branch_a = next(r for r in BOAT_BREAKING if battery.cranking_a <= r[0])
        needed_a = main_a if place.fuse.first_after_source else branch_a
        if capacity_a is not None and below(capacity_a, needed_a):
            covered = place.fuse.behind_sufficient and not place.fuse.first_after_source
            groups.setdefault((place.group, needed_a, covered), []).append(place.fuse.id)
    for (group, needed_a, covered), names in sorted(groups.items()):
        behind = " A fuse nearer the source can break it." if covered else ""
        yield RULE.finding(
            group,
            f"{listed(names)} at {group} break less than the {num(needed_a)} A that small craft "
            "practice asks for with this battery. They may burst and keep an arc: burns." + behind,
            f"Use fuses or breakers that break {num(needed_a)} A or more.",
            limit=needed_a,
            unit="A",
            source="ABYC E-11 table V.A",
            signal_word="CAUTION" if covered else None,
            fails=False if covered else None,
        )


def _source(case: Case, panel: str) -> str:
    """The battery at the root of a panel."""
    chain = case.upstream(panel)
    return (chain[-1].fed_from if chain else None) or "battery"
