"""D01: more volts are lost on the way to an accessory than it may lose."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.model.result import Circuit, Drop, SignalWord
from circuitplan.rules import budgets, proposals
from circuitplan.rules.base import Case, Finding, Rule, Skip, exceeds, num, ordered

RULE = Rule(
    id="D01",
    name="voltage drop over its limit",
    signal_word="NOTICE",
    fails=True,
    means="With everything on that may be on together, the accessory gets less of the supply's "
    "voltage than its limit allows. Wire, contacts, fuse and return all take their share. The "
    "figure is for warm wire and for the worse end of the supply's range.",
    why="Lamps go dim, motors labour and run hot, electronics switch off although the battery is "
    "good. The lost volts become heat in wire and contacts.",
    remedy="Use thicker wire on the part that loses most, shorten the way, feed the accessory from "
    "a nearer panel, or wire the return instead of using the body. If feeder or contacts take most "
    "of it, thicker branch wire does not help: mend those first.",
    source="AC 43.13-1B table 11-6 (0.5 V continuous on 14 V); ABYC E-11 11.14.2.6 and "
    "ISO 10133:2012 4.7 (3 % critical, conductors alone)",
    status="second-hand",
    example="A 9 A fridge on 10 m of 1.5 mm² loses 1.1 V, 9 % of 12 V; the limit is 5 %. With "
    "4 mm² it loses 0.5 V.",
)

STRONGEST_EXPONENT = 1.65  # a fan: the load whose current rises most with its volts

LEAST_LEFT = 0.05
"""Share of the present resistance below which no shorter way is proposed (judgement)."""


def judge(case: Case) -> Iterator[Finding | Skip]:
    for circuit in case.circuits:
        drops = circuit.drops or ((circuit.drop,) if circuit.drop else ())
        for drop in sorted(drops, key=lambda d: d.accessory):
            if exceeds(drop.percent, drop.limit_percent):
                yield _all_in(case, circuit, drop)
            elif drop.conductor_limit_percent is not None and exceeds(
                drop.conductor_percent, drop.conductor_limit_percent
            ):
                yield _conductors(case, circuit, drop, drop.conductor_limit_percent)


def _all_in(case: Case, circuit: Circuit, drop: Drop) -> Finding:
    found, limit = ordered(drop.percent, drop.limit_percent)
    parts = drop.parts
    wire_v = parts.run_v + parts.return_v
    room_v = drop.limit_percent / 100 * case.plan.nominal_v - parts.feeder_v - parts.contacts_v
    remedy, change = _most(case, circuit, drop, *_remedy(case, circuit, drop, room_v, wire_v))
    return RULE.finding(
        drop.accessory,
        f"{drop.accessory} loses {found} % of the nominal voltage on the way ({num(drop.total_v)} "
        f"V: feeder {num(parts.feeder_v)}, contacts {num(parts.contacts_v)}, wire "
        f"{num(parts.run_v)}, return {num(parts.return_v)}); the limit is {limit} %. "
        f"{_left(case, drop)} and will be dim, slow, or switch itself off.",
        remedy,
        found=drop.percent,
        limit=drop.limit_percent,
        unit="%",
        change=change,
        circuit=circuit.id,
        signal_word=_word(case, drop),
    )


def _left(case: Case, drop: Drop) -> str:
    """The volts that are left, at the low end of the supply: there it goes dim, whichever end of
    it loses most."""
    item = case.item(drop.accessory)
    if drop.state == "low" or item is None or item.result.low_v <= 0.0:
        of = "" if drop.state == "low" else f" of {num(drop.supply_v)} V"
        return f"It is left with {num(drop.accessory_v)} V{of}"
    return f"At the low end of the supply it is left with {num(item.result.low_v)} V"


def _conductors(case: Case, circuit: Circuit, drop: Drop, limit_percent: float) -> Finding:
    found, limit = ordered(drop.conductor_percent, limit_percent)
    wire_v = drop.parts.run_v + drop.parts.return_v
    room_v = wire_v - (drop.conductor_percent - limit_percent) / 100 * case.plan.nominal_v
    remedy, change = _most(case, circuit, drop, *_remedy(case, circuit, drop, room_v, wire_v))
    return RULE.finding(
        drop.accessory,
        f"{drop.accessory} is critical, and its conductors alone lose {found} % of the nominal "
        f"voltage; the limit for critical circuits is {limit} %. It may fail when it is needed.",
        remedy,
        found=drop.conductor_percent,
        limit=limit_percent,
        unit="%",
        change=change,
        circuit=circuit.id,
        signal_word=_word(case, drop),
    )


def _word(case: Case, drop: Drop) -> SignalWord:
    item = case.item(drop.accessory)
    critical = item is not None and item.result.drop_class == "critical"
    return "CAUTION" if critical else "NOTICE"


def _most(
    case: Case, circuit: Circuit, drop: Drop, remedy: str, change: str | None
) -> tuple[str, str | None]:
    """The remedy with what eats the budget and the single change that gives most of it back."""
    own = [
        r for r in circuit.runs
        if r.role == "feed" and drop.accessory in (r.accessories or (drop.accessory,))
    ]
    found = budgets.savings(case, circuit, drop, own)
    words = f"{remedy} What eats the volts: {budgets.shares(drop)}."
    if found and not remedy.startswith("Use "):  # a size that mends it alone is that change
        best = found[0]
        words += f" Of single changes {best.words} gives most back, about {num(best.volts, 2)} V."
        change = change or best.change
    return words, change


def _remedy(
    case: Case, circuit: Circuit, drop: Drop, room_v: float, wire_v: float
) -> tuple[str, str | None]:
    """Thicker wire if that alone mends it; the current may rise with the volts it gains."""
    own = [
        place
        for place in case.runs
        if place.circuit is circuit
        and place.run.role == "feed"
        and drop.accessory in (place.run.accessories or (drop.accessory,))
    ]
    if wire_v > 0.0 and room_v > 0.0 and own:
        gain = max(drop.accessory_v, 0.1) / max(drop.supply_v, drop.accessory_v, 0.1)
        share = room_v / wire_v * gain**STRONGEST_EXPONENT
        thinnest = min(own, key=lambda place: place.run.area_mm2)
        label = proposals.size_for_resistance(thinnest.run, share)
        if label is not None:
            thing = drop.accessory if len(own) == 1 else None
            ways = "feed and return" if drop.parts.return_v > 0 else "feed"
            return (
                f"Use {label} instead of {thinnest.run.size} for {ways} of {drop.accessory}.",
                proposals.size_change(thing, label),
            )
        if room_v < LEAST_LEFT * wire_v:  # "below 0.0452 % of its resistance" helps nobody
            return (
                "No size offered mends this: next to nothing of the limit is left for this way. "
                "Bring down what is lost before it, in feeder and contacts, or use a nearer panel.",
                None,
            )
        return (
            f"No size offered mends this: bring the way below {num(room_v / wire_v * 100, 2)} % of "
            "its present resistance by a shorter way or a nearer panel.",
            None,
        )
    parts = drop.parts
    if parts.contacts_v > parts.feeder_v:
        direct = [
            s for s in circuit.switches if (p := case.planned_switch(s)) and p.type == "direct"
        ]
        relay = f"a relay at {circuit.panel} instead of {direct[0]}, " if direct else ""
        return (
            f"The contacts alone lose {num(parts.contacts_v)} V: {relay}bolted joints instead of "
            "blades, and a fuse of a bolted type.",
            f"{direct[0]} type relay" if direct else None,
        )
    return (
        f"Feeder and contacts alone lose {num(drop.parts.feeder_v + drop.parts.contacts_v)} V: use "
        f"a thicker feeder to {circuit.panel}, or feed {drop.accessory} nearer to the source.",
        None,
    )
