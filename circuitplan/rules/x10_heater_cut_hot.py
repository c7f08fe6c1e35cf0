"""X10: a burner heater can be cut off while it is hot."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Item, Rule, Skip

RULE = Rule(
    id="X10",
    name="burner heater cut off hot",
    signal_word="DANGER",
    fails=True,
    means="A combustion heater runs on for three to five minutes after it is told to stop, to cool "
    "its burner. Here a switch, the key or a cut-off can take its feed away before that.",
    why="The burner overheats, fuel goes on smouldering: fumes in the cabin, fire, carbon "
    "monoxide.",
    remedy="Feed it straight from the battery with a fuse of its own, and stop it by its own "
    "control only.",
    source="makers' instructions for burner heaters, as quoted by the trade",
    status="second-hand",
    example="A heater behind the master switch of the camper: move its feed before the switch.",
    by_hand="Switch everything off while the heater burns: its fan must go on for minutes.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for item in case.items:
        if item.kind is None or not item.kind.run_on:
            continue
        cut = _what_cuts(case, item)
        if cut is not None:
            yield RULE.finding(
                item.name,
                f"{item.name} can be cut off hot by {cut}. Its burner overheats without its fan: "
                "fire, and carbon monoxide in the cabin.",
                f"Feed {item.name} straight from the battery with a fuse of its own; stop it by "
                "its own control only.",
                found=cut,
                limit="nothing",
                change=f"{item.name} live always" if cut.startswith("the key") else None,
                circuit=item.circuit.id,
            )


def _what_cuts(case: Case, item: Item) -> str | None:
    if item.circuit.switches:
        return " or ".join(sorted(item.circuit.switches))
    if item.circuit.live != "always" or item.result.live != "always":
        return "the key or the engine stopping"
    for panel in case.upstream(item.circuit.panel):
        if panel.cut_off_v is not None:
            return f"the low-voltage cut-off of {panel.name}"
        if panel.live not in (None, "always"):
            return f"the feed of {panel.name}, live with the {panel.live}"
    return None
