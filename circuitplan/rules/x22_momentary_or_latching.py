"""X22: a control that springs back where it should stay, or stays where it should spring back."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Item, Rule, Skip

RULE = Rule(
    id="X22",
    name="momentary against latching control",
    signal_word="WARNING",
    fails=True,
    means="A winch, horn or lift is worked while somebody holds the control. On a control that "
    "stays on, it goes on by itself; and after a break in the supply it may start again.",
    why="A winch that does not stop crushes hands or breaks its rope.",
    remedy="Use a control that springs back. For lockers and latching outputs write down which "
    "state they take when the supply fails and returns.",
    source="common practice of the trade",
    status="common practice",
    example="A winch on a rocker that stays in: use one that springs back.",
    by_hand="Let go of each control: winch, horn and lift stop at once. Pull and refit the main "
    "fuse: nothing starts.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    for item in case.items:
        held = item.plan.momentary
        usual = item.kind is not None and item.kind.momentary
        for name in sorted(item.circuit.switches):
            switch = case.planned_switch(name)
            if switch is None or switch.type == "signal":
                continue
            if (held or usual) and not switch.momentary:
                yield _stays(item, name, certain=held)
            elif switch.momentary and not held and not usual and item.result.continuous:
                yield RULE.finding(
                    item.name,
                    f"{name} springs back, and {item.name} is to stay on: it works only while "
                    "somebody holds the control.",
                    f"Use a control that stays on for {item.name}.",
                    found="momentary",
                    limit="latching",
                    circuit=item.circuit.id,
                    signal_word="NOTICE",
                    fails=False,
                )


def _stays(item: Item, switch: str, certain: bool) -> Finding:
    return RULE.finding(
        item.name,
        f"{item.name} is to work only while held, and {switch} stays on. It goes on by itself, or "
        "starts again when the supply returns: somebody may be hurt.",
        f"Use a control that springs back for {item.name}, and write momentary: yes at {switch}.",
        found="latching",
        limit="momentary",
        change=f"{switch} momentary yes",
        circuit=item.circuit.id,
        signal_word=None if certain else "CAUTION",
        fails=None if certain else False,
    )
