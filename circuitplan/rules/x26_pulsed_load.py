"""X26: a dimmed or flashing load."""

from __future__ import annotations

import math
from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, num

RULE = Rule(
    id="X26",
    name="pulsed load",
    signal_word="NOTICE",
    fails=False,
    means="The load is dimmed by pulses. Its peak current drops the volts, its rms value (peak "
    "times the root of the share of time on) heats wire and fuse, its mean loads the alternator.",
    why="A meter that shows the mean misleads; a relay contact wears out on pulses within hours.",
    remedy="Measure with a meter for true rms; use electronics made for pulses, no relay, no "
    "contact.",
    source="definition of rms and mean",
    status="computed",
    example="10 A at 25 % on: 10 A drop the volts, 5 A heat, 2.5 A come from the battery.",
    by_hand="A lamp that can be dimmed is pulsed unless its maker says otherwise.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for item in case.items:
        share = item.plan.dimmed
        if share is None or share >= 1.0:
            continue
        peak_a = item.result.current_a
        relay = bool(item.circuit.relays)
        yield RULE.finding(
            item.name,
            f"{item.name} is pulsed, {num(share * 100)} % on: {num(peak_a)} A drop the volts, "
            f"{num(peak_a * math.sqrt(share))} A heat the wire, {num(peak_a * share)} A come from "
            f"the battery.{' A relay contact wears out on pulses.' if relay else ''}",
            "Measure with a true rms meter; let electronics make the pulses, behind any relay.",
            found=share * 100,
            unit="%",
            circuit=item.circuit.id,
        )
