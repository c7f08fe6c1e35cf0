"""X11: something that must always be live can be switched off."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Item, Rule, Skip

RULE = Rule(
    id="X11",
    name="must be always live",
    signal_word="WARNING",
    fails=True,
    means="A bilge pump, an alarm, a cold box for medical stock or the like has to work with "
    "nobody there. Here the key or a cut-off takes its feed away.",
    why="The boat sinks at its mooring, with people aboard or not; the alarm is silent; what "
    "a patient needs is spoilt.",
    remedy="Give it a feed of its own from the battery, always live, with its own fuse.",
    source="33 CFR 183 and trade practice for bilge pumps",
    status="common practice",
    example="A bilge pump behind the key: water comes in overnight.",
    by_hand="Take the key out and lift the float: the pump must run.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for item in case.items:
        if item.kind is None or not item.kind.always_live or item.kind.run_on:
            continue  # heaters that run on are X10's
        cut = _what_cuts(case, item)
        if cut is not None:
            yield RULE.finding(
                item.name,
                f"{item.name} has to work with nobody there, and {cut} takes its feed away. It "
                "fails just then, and people may come to harm.",
                f"Give {item.name} its own feed from the battery, always live, with its own fuse.",
                found=cut,
                limit="always live",
                change=f"{item.name} live always" if cut == "the key" else None,
                circuit=item.circuit.id,
            )


def _what_cuts(case: Case, item: Item) -> str | None:
    if item.circuit.live != "always" or item.result.live != "always":
        return "the key"
    for panel in case.upstream(item.circuit.panel):
        if panel.cut_off_v is not None:
            return f"the low-voltage cut-off of {panel.name}"
        if panel.live not in (None, "always"):
            return f"the feed of {panel.name}"
    return None
