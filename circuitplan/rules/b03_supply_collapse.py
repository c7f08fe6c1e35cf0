"""B03: the load asks for more power than its wire can pass."""

from __future__ import annotations

import math
from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Item, Rule, Skip, num

RULE = Rule(
    id="B03",
    name="supply collapses",
    signal_word="DANGER",
    fails=True,
    means="There is no voltage at which this load gets its power through this wire: the more "
    "current it draws, the more is lost on the way. Alone, a wire of resistance R passes at most "
    "U²/4R.",
    why="The voltage falls away and the current rises until something melts or trips; whatever "
    "shares the feed fails with it.",
    remedy="Use much thicker or shorter wire, or a smaller load.",
    source="circuit theory: largest power through a resistance",
    status="computed",
    example="600 W through 0.1 Ω from 12 V: the most that can arrive is 360 W.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for item in case.items:
        volts = item.result.solved_v
        if math.isfinite(volts) and volts > 0.0:
            continue
        yield _finding(case, item)


def _finding(case: Case, item: Item) -> Finding:
    ohm = sum(
        run.resistance_20c_ohm_per_m * run.loop_m * (1 + 0.00393 * (run.insulation_c - 20))
        for run in item.runs()
    )
    low_v = case.result.supply.low_v
    bound = f" Through its own wire at most {num(low_v**2 / 4 / ohm)} W arrive." if ohm > 0 else ""
    return RULE.finding(
        item.name,
        f"{item.name} finds no voltage at which it works: its wire loses more than the supply "
        f"gives.{bound} The current rises until something melts.",
        "Use much thicker or shorter wire, or a smaller load.",
        found=0.0,
        limit=low_v,
        unit="V",
        circuit=item.circuit.id,
    )
