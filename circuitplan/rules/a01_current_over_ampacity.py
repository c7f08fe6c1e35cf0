"""A01: a wire gets hotter than its insulation withstands."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules import proposals
from circuitplan.rules.base import Case, Finding, Rule, RunPlace, Skip, exceeds, num, ordered

RULE = Rule(
    id="A01",
    name="current over what the wire carries",
    signal_word="WARNING",
    fails=True,
    means="The current that heats the wire is more than the wire carries where it lies: in that "
    "heat, in that bundle, in that tube. For a load that runs for short times the hottest moment "
    "of its cycle is judged against the class of the insulation.",
    why="The insulation softens, and conductors touch each other or the body: short circuit, smoke "
    "and fire, often long after the work was done.",
    remedy="Use thicker wire or insulation of a higher class, move the wire to a cooler place or "
    "out of the bundle, or lessen the load or its running time.",
    source="33 CFR 183.425 table 5; DIN VDE 0298-4; MIL-W-5088L for bundles; first principles",
    status="second-hand",
    example="35 A in 2.5 mm² through a 60 °C place: the wire carries 27.7 A there. 4 mm² carries "
    "it.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    worst: dict[str, tuple[float, RunPlace]] = {}
    for place in case.runs:
        if place.run.role == "return" and len(place.run.accessories) > 1:
            continue  # a common return is X04's
        excess = _excess(case, place)
        known = worst.get(place.subject)
        if excess is not None and (known is None or excess > known[0]):
            worst[place.subject] = (excess, place)
    for _, place in worst.values():
        yield _by_duty(place) if _judged_by_duty(case, place) else _by_current(place)


def _judged_by_duty(case: Case, place: RunPlace) -> bool:
    """Short-time loads, above all winches, whose fuse guards against short circuits only."""
    if place.run.peak_c is None:
        return False
    fuse = case.protected_by(place.run)
    alone = fuse is None or fuse.short_circuit_only
    return alone or exceeds(place.run.peak_c, place.run.insulation_c)


def _excess(case: Case, place: RunPlace) -> float | None:
    """By how much the wire is over its limit, as a ratio; None where it is not."""
    run = place.run
    if _judged_by_duty(case, place):
        peak_c = run.peak_c if run.peak_c is not None else 0.0
        return peak_c / run.insulation_c if exceeds(peak_c, run.insulation_c) else None
    if not exceeds(run.thermal_a, run.ampacity_a):
        return None
    return run.thermal_a / run.ampacity_a if run.ampacity_a > 0 else float("inf")


def _by_current(place: RunPlace) -> Finding:
    run = place.run
    found, limit = ordered(run.thermal_a, run.ampacity_a)
    label = proposals.size_for_ampacity(run, run.thermal_a)
    return RULE.finding(
        place.subject,
        f"Wire {run.id} ({run.size}, {run.insulation}) is heated by {found} A; where it lies, at "
        f"{num(run.ambient_c)} °C among {run.bundle_wires} wires, it carries {limit} A. Its "
        "insulation softens: short circuit and fire.",
        f"Use {label} instead of {run.size}."
        if label
        else "No size offered carries this here: use insulation of a higher class, a cooler way, "
        f"or lessen the current to {limit} A.",
        found=run.thermal_a,
        limit=run.ampacity_a,
        unit="A",
        change=proposals.size_change(place.thing, label),
        circuit=place.circuit_id,
        source=run.ampacity_source,
    )


def _by_duty(place: RunPlace) -> Finding:
    run = place.run
    peak_c = run.peak_c if run.peak_c is not None else 0.0
    found, limit = ordered(peak_c, run.insulation_c)
    reached = f"{found} °C" if peak_c < 1e4 else "no steady temperature at all"
    return RULE.finding(
        place.subject,
        f"Wire {run.id} ({run.size}) reaches {reached} in its duty at {num(run.current_a)} A; its "
        f"insulation withstands {limit} °C. It melts before anything opens the circuit: fire.",
        f"Use thicker wire than {run.size}, or shorten the time on; let it cool between pulls.",
        found=peak_c,
        limit=run.insulation_c,
        unit="°C",
        circuit=place.circuit_id,
        source="one-body heating of the wire over its duty",
    )
