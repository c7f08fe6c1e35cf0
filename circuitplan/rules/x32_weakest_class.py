"""X32: a terminal or switch gets hotter than its own class."""

from __future__ import annotations

import math
from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, RunPlace, Skip, exceeds, ordered

RULE = Rule(
    id="X32",
    name="weakest part in a hot place",
    signal_word="WARNING",
    fails=True,
    means="A wire of a high class may run hotter than the terminal, holder, tape or switch it ends "
    "in. Terminals count as 105 °C, switches as 85 °C, unless better is stated.",
    why="The joint softens and loosens where the wire itself would hold: it heats up and burns.",
    remedy="Use thicker wire, so that it runs cooler, parts of the class of the place, or put "
    "holders and connectors in a cooler place.",
    source="class of ordinary terminals and switches (judgement)",
    status="judgement",
    example="125 °C wire at 118 °C in an ordinary crimp of 105 °C.",
    by_hand="Read the class on connectors, tape and holders in the engine bay: the weakest rules.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    worst: dict[str, tuple[float, RunPlace]] = {}
    for place in case.runs:
        run = place.run
        if run.peak_c is not None or not math.isfinite(run.terminal_c):
            continue  # judged by its duty (A01)
        if not exceeds(run.terminal_c, run.terminal_class_c):
            continue
        excess = run.terminal_c - run.terminal_class_c
        known = worst.get(place.subject)
        if known is None or excess > known[0]:
            worst[place.subject] = (excess, place)
    for subject, (_, place) in worst.items():
        run = place.run
        found, limit = ordered(run.terminal_c, run.terminal_class_c)
        part = "terminals" if run.terminal == "terminal" else f"a {run.terminal}"
        yield RULE.finding(
            subject,
            f"Wire {run.id} is {found} °C where it ends in {part} of {limit} °C. The joint softens "
            "and loosens: it burns.",
            f"Use thicker wire than {run.size}, or {part} of a higher class.",
            found=run.terminal_c,
            limit=run.terminal_class_c,
            unit="°C",
            circuit=place.circuit_id,
        )
