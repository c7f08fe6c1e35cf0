"""X24: an electronic output may limit before a fuse behind it opens."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules import proposals
from circuitplan.rules.base import Case, Finding, Rule, Skip, below, listed, num, ordered

RULE = Rule(
    id="X24",
    name="current-limited output",
    signal_word="WARNING",
    fails=True,
    means="An electronic output limits or switches off by itself. A fuse behind it opens only if "
    "the output lets at least twice the fuse's rating through. Such outputs must not be joined, "
    "leak a little when off, and conduct backwards.",
    why="A fault behind the fuse is fed on at the limit: the thin wire goes on heating until it "
    "burns.",
    remedy="Choose an inline fuse of at most half of what the output surely lets through, or wire "
    "that carries the output's full current; put a clamp at coils.",
    source="ISO 8820-3: type C opens within 5 s from twice its rating",
    status="memory",
    example="A 15 A electronic output with a 10 A inline fuse: 15 A never open it; 7.5 A is the "
    "most.",
    by_hand="Ask the vehicle's maker at what current the output limits, and after what time.",
)

SURE_MULTIPLE = 2.0


def judge(case: Case) -> Iterator[Finding | Skip]:
    for switch in case.switches:
        planned = case.planned_switch(switch.id)
        if planned is None or not planned.solid_state:
            continue
        inline = [
            f for c in case.circuits_of(switch.id) for f in c.fuses
            if f.type not in ("output",) and not c.relays
        ]  # fmt: skip
        if switch.rating_a is None:
            yield Skip("the plan does not say what the output is rated for", switch.id)
            continue
        bad = [f for f in inline if below(switch.rating_a, SURE_MULTIPLE * f.rating_a)]
        if bad:
            worst = max(bad, key=lambda f: (f.rating_a, f.id))
            found, limit = ordered(switch.rating_a, SURE_MULTIPLE * worst.rating_a)
            fits = proposals.fuse_between("C", worst.min_a, switch.rating_a / SURE_MULTIPLE)
            yield RULE.finding(
                switch.id,
                f"{switch.id} is electronic and may limit at {found} A; {worst.id} "
                f"({num(worst.rating_a)} A) surely opens only from {limit} A. A fault behind it is "
                "fed on: the wire heats until it burns.",
                f"Use an inline fuse of {num(fits)} A."
                if fits
                else f"Use wire that carries {num(switch.rating_a)} A behind {switch.id}, no fuse.",
                found=switch.rating_a,
                limit=SURE_MULTIPLE * worst.rating_a,
                unit="A",
            )
            continue
        kicking = [
            name for name, _, _ in switch.factors
            if (i := case.item(name)) and i.result.contact_class in ("inductive", "motor")
        ]  # fmt: skip
        leaking = [
            name for name in switch.works
            if (i := case.item(name)) and i.result.contact_class == "capacitive"
        ]  # fmt: skip
        if kicking or leaking:
            effects = []
            if kicking:
                effects.append(f"{listed(kicking)} may kick back into it")
            if leaking:
                effects.append(f"its leakage may light {listed(leaking)} when off")
            yield RULE.finding(
                switch.id,
                f"{switch.id} is electronic: {'; '.join(effects)}. A load may act unasked.",
                "Put a clamp diode at coils and motors, and a resistor across what glows.",
                signal_word="CAUTION",
                fails=False,
            )
