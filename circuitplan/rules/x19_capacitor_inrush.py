"""X19: a large capacitive load is switched by a plain contact."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.rules.base import Case, Finding, Item, Rule, Skip, exceeds, num, ordered

RULE = Rule(
    id="X19",
    name="capacitor inrush on a contact",
    signal_word="WARNING",
    fails=True,
    means="Inverters, amplifiers and large groups of LED lamps have capacitors at their input. "
    "For a moment only the resistance of the loop limits what flows. Over 30 A of running current "
    "a plain contact is not for that, unless its making current is stated.",
    why="The contact welds: the load cannot be switched off any more, and a fault "
    "behind it burns on.",
    remedy="Charge the capacitors through a resistor first (precharge), use a contactor with a "
    "stated making current, or leave it connected and use its own remote switch.",
    source="circuit theory: U / R of the loop; 30 A is judgement",
    status="judgement",
    example="An inverter on 30 mΩ of loop: 14.4 V / 0.03 Ω = 480 A at every closing.",
    by_hand="Listen and look: a spark at connecting is such an inrush.",
)

PLAIN_CONTACT_A = 30.0


def judge(case: Case) -> Iterator[Finding | Skip]:
    for item in case.items:
        circuit = item.circuit
        contact = bool(circuit.relays) or any(
            s.type in ("direct", "output")
            for name in circuit.switches
            if (s := case.planned_switch(name)) is not None
        )
        if item.result.contact_class != "capacitive" or not contact:
            continue
        if not exceeds(item.result.current_a, PLAIN_CONTACT_A):
            continue
        making_a = max((r.contact_a for r in circuit.relays), default=PLAIN_CONTACT_A)
        inrush_a = item.plan.inrush_a
        if inrush_a is not None and not exceeds(inrush_a * item.result.quantity, making_a):
            continue  # a soft start, stated
        yield _finding(case, item)


def _finding(case: Case, item: Item) -> Finding:
    ohm = sum(r.resistance_20c_ohm_per_m * r.loop_m for r in item.runs())
    bounds = [case.result.supply.high_v / ohm] if ohm > 0 else []
    if item.circuit.fault is not None:
        bounds.append(item.circuit.fault.prospective_max_a)
    peak = f" At closing up to {num(min(bounds))} A flow for a moment." if bounds else ""
    found, limit = ordered(item.result.current_a, PLAIN_CONTACT_A)
    return RULE.finding(
        item.name,
        f"{item.name} ({found} A) has capacitors at its input and is switched by a contact; "
        f"{limit} A is the most for that.{peak} The contact welds, and the load cannot be cut any "
        "more.",
        f"Precharge {item.name} through a resistor, use a contactor with a stated making current, "
        "or its own remote switch.",
        found=item.result.current_a,
        limit=PLAIN_CONTACT_A,
        unit="A",
        circuit=item.circuit.id,
    )
