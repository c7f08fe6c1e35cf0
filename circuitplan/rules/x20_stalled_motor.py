"""X20: a motor that sticks draws too little to open its fuse."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.model.result import Fuse
from circuitplan.physics import fuses as curves
from circuitplan.rules import proposals
from circuitplan.rules.base import Case, Finding, Item, Rule, Skip, below, num, ordered

RULE = Rule(
    id="X20",
    name="stalled motor not cut off",
    signal_word="WARNING",
    fails=True,
    means="A motor that sticks draws its locked current until something opens. That current has to "
    "be twice the fuse's rating for type C, 4.15 times for E, 3.5 times for SF, for it to open "
    "within five seconds.",
    why="The motor's winding burns, and with it what is near: pumps and compressors in a locker.",
    remedy="Use a motor with a thermal cut-out (then write cut_out: yes), a smaller fuse, or a "
    "type that opens sooner.",
    source="ISO 8820-3 and -5 time limits",
    status="memory",
    example="A 25 A motor with a locked current of 150 A on 40 A of type E: 3.75 times, too "
    "little.",
    by_hand="Look on the motor's label for thermally protected, or ask its maker.",
)

WITHIN_S = 5.0


def judge(case: Case) -> Iterator[Finding | Skip]:
    for item in case.items:
        if item.plan.cut_out or item.kind is None or not item.kind.stalls:
            continue
        fuse = _fuse(case, item)
        if fuse is None or fuse.short_circuit_only or item.kind.own_contactor:
            continue  # judged by duty and isolator
        locked = [a for a in (item.result.inrush_a, item.result.peak_a) if a is not None]
        gates = proposals.gates_of(fuse.type)
        if not locked or not gates:
            yield Skip("the locked current or the fuse's curve is not known", item.name)
            continue
        least_a = curves.least_multiple_to_clear(gates, WITHIN_S) * fuse.rating_a
        if below(min(locked), least_a):
            yield _finding(item, fuse, min(locked), least_a)


def _fuse(case: Case, item: Item) -> Fuse | None:
    found = [f for r in item.runs() if (f := case.protected_by(r)) is not None]
    return min(found, key=lambda f: f.rating_a, default=None)


def _finding(item: Item, fuse: Fuse, locked_a: float, least_a: float) -> Finding:
    found, limit = ordered(locked_a, least_a)
    state = "has no thermal cut-out" if item.plan.cut_out is False else "may have no cut-out"
    return RULE.finding(
        item.name,
        f"Stuck, {item.name} draws {found} A; {fuse.id} ({num(fuse.rating_a)} A {fuse.type}) opens "
        f"within {WITHIN_S:g} s only from {limit} A, and the motor {state}. Its winding burns: "
        "fire.",
        "If its maker states a thermal cut-out, write cut_out: yes; otherwise fit one, or a fuse "
        f"that opens at {found} A.",
        found=locked_a,
        limit=least_a,
        unit="A",
        circuit=item.circuit.id,
    )
