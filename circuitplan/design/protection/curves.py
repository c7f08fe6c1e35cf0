"""What is known of every device's time-current curve: noted for fuses, asked for of breakers."""

from __future__ import annotations

from dataclasses import replace

from circuitplan.design.assume import Ledger
from circuitplan.design.draft import Slot, Wiring
from circuitplan.design.protection.protect import gates_of
from circuitplan.model.plan import FuseCurve, FuseSpec

STAND_IN = "SF51"
"""Family whose gates a breaker is given at the favourable end (judgement)."""
STAND_IN_BREAKING_A = 20000.0


def settle(wiring: Wiring, ledger: Ledger) -> None:
    """Note maker's curves; to a breaker without one nothing is credited.

    At the favourable end of that assumption a breaker is timed as a strip fuse and breaks any
    current, so that CANNOT SAY is told from NOT OK.
    """
    for slot in _slots(wiring):
        spec = slot.spec
        if spec is None or spec.none:
            continue
        subject = slot.segments[0].key.rsplit(" ", 1)[0] if slot.segments else slot.key
        if spec.curve is not None:
            ledger.say(
                subject, "time-current curve",
                f"{spec.curve.file}, {len(spec.curve.points)} points, {spec.curve.sha256[:8]}",
                "the maker's, given beside the plan", "read",
            )
        if spec.type == "breaker":
            slot.spec = _favoured(spec, subject, ledger)


def _favoured(spec: FuseSpec, subject: str, ledger: Ledger) -> FuseSpec:
    found = spec
    if spec.curve is None and ledger.favours(
        subject, "time-current curve of the breaker", "none: nothing is credited",
        "its maker's curve is wanted, as a CSV beside the plan", "judgement",
    ):
        points = tuple(g for g in gates_of(STAND_IN) if g[0] > 1.1)
        found = replace(found, curve=FuseCurve("", "", points))
    if spec.breaking_a is None and ledger.favours(
        subject, "breaking capacity of the breaker", "unknown", "its maker's figure is wanted",
        "judgement",
    ):
        found = replace(found, breaking_a=STAND_IN_BREAKING_A)
    return found


def _slots(wiring: Wiring) -> list[Slot]:
    found = [n.slot for n in wiring.nodes.values() if n.slot is not None]
    for circuit in wiring.circuits:
        found += [circuit.slot] if circuit.slot is not None else []
        found += circuit.inline
    return found
