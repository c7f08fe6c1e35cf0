"""X15: jump start with too many volts, or with reversed clamps."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip

RULE = Rule(
    id="X15",
    name="jump start and reversed clamps",
    signal_word="CAUTION",
    fails=False,
    means="A 12 V vehicle may be jump-started from 24 V, for up to a minute, or with its clamps "
    "reversed. What the electronics withstand is not in the plan.",
    why="Suppression diodes and outputs conduct backwards; a fuse must open before they burn. "
    "Electronics without tolerance fail.",
    remedy="Mark the posts. Choose electronics with a stated tolerance (24 V for 60 s, reversed "
    "14 V), or put a guard of diode or transistor before them; fuse every coil feed.",
    source="ISO 16750-2 jump start and reversed voltage",
    status="memory",
    example="A controller whose sheet says 9 to 16 V and nothing more needs a guard.",
    by_hand="Read the sheet of each electronic part for overvoltage and reverse polarity, and look "
    "whether the posts are marked.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    yield Skip("the plan does not say what the electronics withstand")
