"""X08: a switch sits in the negative lead."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, listed

RULE = Rule(
    id="X08",
    name="switch in the negative",
    signal_word="CAUTION",
    fails=False,
    means="The switch opens the return of its load, not the feed.",
    why="The wire to the load stays live when it is off: a burn for whoever works on it. If the "
    "return chafes against the body, the load starts by itself.",
    remedy="Put the switch in the positive lead.",
    source="46 CFR 183.380(b)",
    status="read",
    example="A switch between a work lamp and earth: move it to the feed.",
    by_hand="With the switch off, measure at the load: neither lead may be live.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for switch in case.switches:
        planned = case.planned_switch(switch.id)
        if planned is not None and planned.in_negative:
            works = listed(list(switch.works)) or "its load"
            yield RULE.finding(
                switch.id,
                f"{switch.id} switches the negative of {works}: the feed stays live when it is "
                "off, and a chafed return switches it on. Burns; a load that starts unasked.",
                f"Put {switch.id} in the positive lead.",
                found="negative",
                limit="positive",
            )
