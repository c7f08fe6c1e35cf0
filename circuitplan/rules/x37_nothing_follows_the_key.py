"""X37: live with the ignition on paper, and nothing in the wiring that the key works."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from circuitplan.model.circuit import Circuit
from circuitplan.rules.base import Case, Finding, Rule, Skip, listed, num

RULE = Rule(
    id="X37",
    name="nothing follows the key",
    signal_word="NOTICE",
    fails=False,
    means="What is to be live with the ignition or the engine only needs something that the key "
    "works between the battery and itself: an output or a signal of the vehicle, or a relay.",
    why="Built as drawn it stays live with the key off: it is left on by mistake, draws while "
    "parked, and the battery is flat.",
    remedy="Feed it from an output of the vehicle, let an ignition signal work its relay, or fit a "
    "relay worked by the ignition in the feeder of its panel.",
    source="common practice of the trade",
    status="common practice",
    example="A radio with 'live: ignition' on a panel that hangs on the battery: it plays all "
    "night.",
    by_hand="Key off, everything switched on: what still works is live always.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    yield from _panels(case)
    by_panel: dict[str, list[str]] = defaultdict(list)
    for circuit in case.circuits:
        panel = case.panel(circuit.panel)
        if circuit.live == "always" or (panel is not None and panel.live != "always"):
            continue
        names = _unworked(case, circuit)
        if names:
            by_panel[circuit.panel] += names
    for panel_name, names in sorted(by_panel.items()):
        things = sorted(dict.fromkeys(names))
        are, stay, them = ("is", "it stays", "it") if len(things) == 1 else (
            "are", "they stay", "them")
        yield RULE.finding(
            panel_name,
            f"{listed(things)} {are} to be live with the key only, but {panel_name}, which feeds "
            f"{them}, is live always: built so, {stay} live with the key off. The battery goes "
            "flat.",
            f"Feed {them} from a panel or an output that follows the key; or let a signal of the "
            "vehicle (signal: ignition) work a relay; or plan for 'live: always'.",
            found="always",
            limit="ignition",
        )


def _unworked(case: Case, circuit: Circuit) -> list[str]:
    """What of a circuit nothing makes follow the key: its accessories, or the switch whose coils
    it feeds."""
    switches = [s for name in circuit.switches if (s := case.planned_switch(name)) is not None]
    hand = [s for s in switches if s.type not in ("output", "signal")]
    if switches and not hand:
        return []
    if not circuit.accessories:
        return [s.name for s in hand]
    if circuit.relays and all(s.live not in (None, "always") for s in hand):
        return []  # their control circuits are judged
    return [a.name for a in circuit.accessories if case.item(a.name) is not None]


def _panels(case: Case) -> Iterator[Finding]:
    for panel in case.panels:
        planned = case.planned_panel(panel.id)
        above = case.panel(panel.fed_from)
        if planned is None or planned.live in (None, "always"):
            continue
        if above is not None and above.live != "always":
            continue
        yield RULE.finding(
            panel.id,
            f"{panel.id} is to be live with the key only, but {panel.fed_from or 'the battery'}, "
            "which feeds it, is live always, and the plan holds nothing between that the key "
            "works.",
            f"Fit a relay for {num(panel.current_a)} A or more in the feed of {panel.id}, its coil "
            "on the vehicle's ignition; this plan sizes neither it nor its control wire.",
            found="always",
            limit=planned.live,
        )
