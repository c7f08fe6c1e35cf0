"""X12: a low-voltage cut-off switches off and on and off again."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, below, num, ordered

RULE = Rule(
    id="X12",
    name="low-voltage cut-off hunts",
    signal_word="CAUTION",
    fails=False,
    means="The cut-off opens at one voltage and closes at a higher one. The volts lost in its "
    "feeder come back as soon as it opens; if they are more than the gap, it closes at once.",
    why="The loads chatter on and off, contacts burn, motors and compressors start every few "
    "seconds.",
    remedy="Let it sense at the battery itself, thicken the feeder, or widen the gap.",
    source="circuit theory",
    status="computed",
    example="A feeder that loses 0.7 V under a cut-off with 0.6 V between off and on.",
    by_hand="Watch the cut-off with a nearly empty battery and all loads on.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for panel in case.panels:
        planned = case.planned_panel(panel.id)
        if planned is None or planned.cut_off_v is None:
            continue
        if planned.reconnect_v is None:
            yield Skip("the plan does not say at what volts the cut-off closes again", panel.id)
            continue
        gap_v = planned.reconnect_v - planned.cut_off_v
        lost_v = (
            sum(
                r.resistance_20c_ohm_per_m * (1 + 0.00393 * (r.conductor_c - 20)) * r.loop_m
                for r in panel.feeder
                if r.role == "feed"
            )
            * panel.current_a
        )
        battery = case.battery(panel.fed_from)
        if battery is not None and battery.resistance_ohm is not None:
            lost_v += battery.resistance_ohm * panel.current_a
        if below(lost_v, gap_v):
            continue
        found, limit = ordered(lost_v, gap_v)
        yield RULE.finding(
            panel.id,
            f"At {num(panel.current_a)} A the feeder of {panel.id} loses {found} V, and its "
            f"cut-off closes {limit} V above where it opens: it chatters, and its contact burns.",
            f"Sense at the battery, thicken the feeder, or set it to close above "
            f"{num(planned.cut_off_v + 1.2 * lost_v)} V.",
            found=lost_v,
            limit=gap_v,
            unit="V",
        )
