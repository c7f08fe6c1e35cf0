"""M02: a switch works nothing, or works things that do not belong together."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, listed

RULE = Rule(
    id="M02",
    name="switch unused or used twice",
    signal_word="NOTICE",
    fails=False,
    means="A switch of the plan works nothing; or one switch works accessories of different kinds, "
    "which then come on together.",
    why="A forgotten switch is a wrong label in the console; a doubled one turns on what nobody "
    "asked for.",
    remedy="Take the switch out of the plan or give it something to work; give each accessory a "
    "switch of its own where they shall not come on together.",
    source="house rule",
    status="judgement",
    example="S5 is in the list, and no accessory names it.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for switch in case.switches:
        if not switch.works:
            yield RULE.finding(
                switch.id,
                f"{switch.id} works nothing: its place in the console says what is not there.",
                f"Give {switch.id} something to work, or take it out of the plan.",
                found=0,
            )
            continue
        items = [i for name in switch.works if (i := case.item(name)) is not None]
        barred = sorted(
            {
                name
                for item in items
                for name in item.plan.never_with
                if name.casefold() in (w.casefold() for w in switch.works)
            }
        )
        if barred:
            yield RULE.finding(
                switch.id,
                f"{switch.id} works {listed(list(switch.works))} at once, and the plan says that "
                f"they are never on together ({listed(barred)}).",
                "Give them switches of their own.",
                signal_word="CAUTION",
            )
        elif len({i.kind.kind for i in items if i.kind is not None}) > 1:
            yield RULE.finding(
                switch.id,
                f"{switch.id} works {listed(list(switch.works))}: they come on together.",
                "Give one of them another switch if that is not meant.",
                found=len(switch.works),
            )
