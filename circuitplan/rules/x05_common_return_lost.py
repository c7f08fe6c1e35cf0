"""X05: electronics share a return with other loads."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, listed

RULE = Rule(
    id="X05",
    name="common return lost",
    signal_word="CAUTION",
    fails=False,
    means="Several loads share one return wire or one pin, electronics among them.",
    why="When that one joint opens, the loads stand in series through each other: lamps glow that "
    "are off, electronics see reversed or doubled volts and may fail or act by themselves.",
    remedy="Give electronics a return of their own, and use a bar with a stud for each.",
    source="circuit theory",
    status="computed",
    example="A camera and two lamps on one return pin of a trailer plug.",
    by_hand="Look for one pin, splice or earth point that several returns share.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    known = False
    for place in case.runs:
        run = place.run
        if place.circuit is None or run.role != "return":
            continue
        known = True
        items = [i for name in run.accessories if (i := case.item(name)) is not None]
        electronic = [i.name for i in items if i.result.contact_class == "capacitive"]
        if len(items) > 1 and electronic:
            yield RULE.finding(
                place.subject,
                f"{listed([i.name for i in items])} share return {run.id}. If it opens, they stand "
                f"in series: {listed(electronic)} may see reversed volts, fail, or act unasked.",
                f"Give {listed(electronic)} a return of its own.",
                found=len(items),
                limit=1,
                circuit=place.circuit_id,
            )
    if not known:
        yield Skip("the plan has no wired returns; shared earth points are not in it")
