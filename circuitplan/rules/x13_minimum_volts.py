"""X13: an accessory gets fewer volts than it needs."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Item, Rule, Skip, below, num, ordered

RULE = Rule(
    id="X13",
    name="volts below what the accessory needs",
    signal_word="NOTICE",
    fails=True,
    means="With a low battery and everything on that may be on, fewer volts reach the accessory "
    "than it needs to work.",
    why="It stops or faults although the battery is good; a heater locks out, an inverter alarms.",
    remedy="Thicker or shorter wire, a nearer panel, or fewer loads on the same feeder.",
    source="the accessory's least volts: plan, or table of kinds",
    status="second-hand",
    example="A burner heater that needs 10.5 V gets 10.2 V while its glow element draws 12 A.",
    by_hand="Measure at its terminals with the engine off and everything on.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for item in case.items:
        min_v = item.result.min_v
        if min_v is None:
            yield Skip("the plan does not say what volts it needs", item.name)
        elif below(item.result.low_v, min_v):
            yield _finding(item, min_v)


def _finding(item: Item, min_v: float) -> Finding:
    found, limit = ordered(item.result.low_v, min_v)
    drop = next((d for d in item.circuit.drops if d.accessory == item.name), None)
    lost = f" ({num(drop.total_v)} V are lost on the way)" if drop is not None else ""
    harm = " Whoever depends on it may be hurt." if item.vital else ""
    return RULE.finding(
        item.name,
        f"{item.name} gets {found} V with a low battery{lost} and needs {limit} V. It stops "
        f"although the battery is good ({item.result.sag.words}).{harm}",
        f"{item.result.sag.advice}Bring {num(min_v - item.result.low_v, 2)} V more to it: thicker "
        "or shorter wire, a nearer panel, or fewer loads on its feeder.",
        found=item.result.low_v,
        limit=min_v,
        unit="V",
        circuit=item.circuit.id,
        signal_word="WARNING" if item.vital else None,
    )
