"""X09: something that must not stop goes off while the engine is started."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Item, Rule, Skip, exceeds, ordered

RULE = Rule(
    id="X09",
    name="drops out while the engine is started",
    signal_word="WARNING",
    fails=True,
    means="A load that must keep working is fed from a circuit that is cut, or falls below its "
    "least volts, while the starter turns. Starting pulls a 12 V system to 8 V, for a moment to 6 "
    "V.",
    why="A ventilator, monitor or radio restarts in the middle of its work: people who depend on "
    "it may be hurt.",
    remedy="Feed it from the battery directly, from a second battery, or through a converter that "
    "holds up its output.",
    source="ISO 16750-2 starting profile, level I (8 V for 12 V systems)",
    status="memory",
    example="A ventilator behind an ignition-switched panel: off at every start.",
    by_hand="Start the engine with the load running and watch it.",
)

CRANKING_V = 8.0
STARTER_BATTERY = "battery"


def judge(case: Case) -> Iterator[Finding | Skip]:
    for item in case.items:
        critical = item.vital or item.result.drop_class == "critical"
        if not critical or item.circuit.source.casefold() != STARTER_BATTERY:
            continue
        live = item.circuit.live if item.circuit.live != "always" else item.result.live
        if live != "always":
            yield _cut(item, live)
        elif item.result.min_v is not None and exceeds(item.result.min_v, CRANKING_V * case.scale):
            yield _low(case, item, item.result.min_v)


def _cut(item: Item, live: str) -> Finding:
    return RULE.finding(
        item.name,
        f"{item.name} must keep working and is live with the {live} only: it goes off at every "
        "start. Whoever depends on it is without it.",
        f"Feed {item.name} from a circuit that is always live.",
        found=live,
        limit="always",
        change=f"{item.name} live always",
        circuit=item.circuit.id,
        signal_word=None if item.vital else "CAUTION",
        fails=None if item.vital else False,
    )


def _low(case: Case, item: Item, min_v: float) -> Finding:
    found, limit = ordered(min_v, CRANKING_V * case.scale)
    return RULE.finding(
        item.name,
        f"{item.name} needs {found} V; starting the engine pulls its battery to {limit} V or less. "
        "It restarts at every start.",
        f"Feed {item.name} from a second battery or a converter that holds up its output.",
        found=min_v,
        limit=CRANKING_V * case.scale,
        unit="V",
        circuit=item.circuit.id,
        signal_word=None if item.vital else "CAUTION",
        fails=None if item.vital else False,
    )
