"""M03: lamp electronics may disturb a radio."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Rule, Skip, listed

RULE = Rule(
    id="M03",
    name="lamp electronics near a radio",
    signal_word="NOTICE",
    fails=False,
    means="The plan has LED or discharge lamps and a radio. Their drivers switch at high "
    "frequency.",
    why="Reception of broadcast, FM and VHF may go when the lamps are on.",
    remedy="Keep lamp wires and antenna cable apart, twist feed and return, put ferrites at the "
    "lamps, ask for lamps with a stated limit of emission (CISPR 25).",
    source="trade texts; CISPR 25",
    status="second-hand",
    example="A bar beside a VHF antenna: noise on all channels while it is lit.",
    by_hand="Switch the lamps on and off while listening to a weak station.",
)


def judge(case: Case) -> Iterator[Finding | Skip]:
    radios = [i.name for i in case.items if i.kind is not None and i.kind.family == "radio"
              and i.kind.kind != "audio amplifier"]  # fmt: skip
    lamps = [
        i.name for i in case.items
        if i.kind is not None and i.kind.family in ("lamp", "warning")
        and i.result.contact_class == "capacitive"
    ]  # fmt: skip
    if radios and lamps:
        yield RULE.finding(
            sorted(radios)[0],
            f"The drivers of {listed(lamps)} may disturb {listed(radios)} while they are lit.",
            "Keep lamp wires and antenna cable apart, twist feed and return, put ferrites at "
            "lamps.",
        )
