"""X16: 12 V are taken from half of a 24 V bank, or from a panel with other volts."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, below, num

RULE = Rule(
    id="X16",
    name="lower volts without a converter",
    signal_word="WARNING",
    fails=True,
    means="An accessory is made for less than the system's voltage, and no converter stands "
    "between. Tapping one battery of the bank is no converter.",
    why="On the full voltage it overheats and may burn. On a tap one battery is emptied, the other "
    "overcharged: it gasses, and the gas may explode.",
    remedy="Feed it from a converter, or fit an equaliser rated for the average load.",
    source="trade texts",
    status="second-hand",
    example="A 12 V radio in a 24 V truck fed from the lower battery.",
    by_hand="Look for a wire on the joint between the two batteries.",
)

SAME_SYSTEM = 0.8


def judge(case: Case) -> Iterator[Finding | Skip]:
    nominal_v = case.plan.nominal_v
    for item in case.items:
        rated_v = item.plan.rated_v
        if rated_v is None or not below(rated_v, SAME_SYSTEM * nominal_v):
            continue
        if any(p.output_v is not None for p in case.upstream(item.circuit.panel)):
            continue
        yield RULE.finding(
            item.name,
            f"{item.name} is made for {num(rated_v)} V, the system has {num(nominal_v)} V, and no "
            "converter stands between. It overheats and may burn; on a tap of one battery the "
            "other gasses, and the gas may explode.",
            f"Feed {item.name} from a converter of {num(rated_v)} V, rated "
            f"{num(item.result.current_a / 0.8)} A or more.",
            found=rated_v,
            limit=nominal_v,
            unit="V",
            circuit=item.circuit.id,
        )
