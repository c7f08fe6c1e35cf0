"""X35: too many ring terminals on one battery post or stud."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, listed

RULE = Rule(
    id="X35",
    name="too many rings on one stud",
    signal_word="CAUTION",
    fails=False,
    means="More than three wires end on the same post or stud, besides the vehicle's own. On "
    "rescue vehicles star washers are not used under earth rings either.",
    why="The nut loosens as the stack settles: a hot joint that smokes and burns a hand, and "
    "everything on it fails together.",
    remedy="Run one cable to a bar with a stud for each, the largest ring at the bottom.",
    source="common practice: three rings a stud; ABYC E-11: four at most",
    status="common practice",
    example="Winch, panel, charger and inverter all on the battery's clamp: a bar with four studs.",
    by_hand="Count the rings on each stud and earth point.",
)

MOST = 3


def judge(case: Case) -> Iterator[Finding | Skip]:
    for battery in case.batteries:
        name = battery.name.casefold()
        things = [case.subject(c) for c in case.circuits if c.panel.casefold() == name]
        things += [p.id for p in case.panels if p.fed_from.casefold() == name]
        things += [
            c.name
            for c in case.chargers
            if name in ((c.source or "").casefold(), c.target.casefold())
        ]
        things = list(dict.fromkeys(things))
        if len(things) > MOST:
            yield RULE.finding(
                battery.name,
                f"{len(things)} feeds end on {battery.name}: {listed(things)}. More than {MOST} "
                "rings on one stud loosen: a hot joint.",
                "Run one cable, with a fuse of its own, to a bar with a stud for each.",
                found=len(things),
                limit=MOST,
            )
