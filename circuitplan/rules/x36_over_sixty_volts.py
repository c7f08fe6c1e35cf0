"""X36: the supply can exceed 60 V."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, exceeds, ordered

RULE = Rule(
    id="X36",
    name="over 60 V",
    signal_word="DANGER",
    fails=True,
    means="The highest voltage of the supply, with equalising and cold charging counted, is over "
    "60 V DC. That is outside what this tool plans.",
    why="Above 60 V direct current can kill by touch, and arcs hold.",
    remedy="Limit the charging volts below 60 V, or give the work to a person qualified for that "
    "voltage, by the rules for it.",
    source="60 V DC limit of extra-low voltage (IEC 61140)",
    status="memory",
    example="A 48 V lead bank equalised at 62 V.",
    by_hand="Read the charger's highest setting, temperature compensation included.",
)

HIGHEST_V = 60.0


def judge(case: Case) -> Iterator[Finding | Skip]:
    high_v = case.result.supply.high_v
    if exceeds(high_v, HIGHEST_V):
        found, limit = ordered(high_v, HIGHEST_V)
        yield RULE.finding(
            "supply",
            f"The supply reaches {found} V; above {limit} V touch can kill and arcs hold. This is "
            "outside the tool.",
            "Limit the charging volts below 60 V, or hand the work to a person qualified for it.",
            found=high_v,
            limit=HIGHEST_V,
            unit="V",
        )
