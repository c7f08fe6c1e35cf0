"""Motors that a switch works in two ways: its positions, what each must do, what to read then."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitplan.design.bench.chain import Chain
from circuitplan.design.bench.readings import expected
from circuitplan.model.given import MOTOR_TERMINALS
from circuitplan.model.result import AccessoryResult, Circuit, Result
from circuitplan.report import show
from circuitplan.report.table import Cell, Column, Table, cells

POSITIONS = {"reversing": ("up", "down"), "two-speed": ("low", "high")}
"""Beside off, as they are read from one end of the switch to the other."""
RESTING_V = 12.6
"""Of a rested full lead battery of 12 V (common practice)."""
_DOES = {
    "up": "runs one way", "down": "runs the other way", "low": "runs slowly",
    "high": "runs at full speed",
}


def positions(motor: str) -> tuple[str, str, str]:
    """Of its switch, with off in the middle."""
    first, last = POSITIONS[motor]
    return first, "off", last


def truth(a: AccessoryResult, switch: str, when: str) -> Iterator[tuple[str, str, str]]:
    """(what is set, what must happen, on what condition) for a motor worked in two ways."""
    assert a.motor is not None
    for position in positions(a.motor):
        yield f"{switch} {position}", f"{a.name} {_DOES.get(position, 'stands')}", when


def terminals(chains: Sequence[Chain], result: Result) -> Table:
    """Volts at every terminal of every such motor in each position of its switch."""
    rows = []
    for circuit in result.circuits:
        for a in circuit.accessories:
            if a.motor is None:
                continue
            mine = {c.position: c for c in chains if c.accessory == a.name}
            for position in positions(a.motor):
                rows.append(_row(circuit, a, position, mine))
    return Table("Motors, position by position", (
        Column("Motor", 22), Column("Switch", 12), Column("Coil on", 10),
        Column("At 33 [V]", 20), Column("At 32 [V]", 20), Column("At 33f [V]", 20),
        Column("OK, initials", 14),
    ), tuple(rows), "no motor is worked in two ways.")


def has_any(result: Result) -> bool:
    """Whether the plan has a motor worked in two ways."""
    return any(a.motor for c in result.circuits for a in c.accessories)


def _row(
    circuit: Circuit, a: AccessoryResult, position: str, mine: dict[str, Chain]
) -> tuple[Cell, ...]:
    at = {"33": "–", "32": "–", "33f": "–"}
    coil = next((r.id for r in circuit.relays if r.at == position), "none")
    if position == "off":
        braked = a.motor == "reversing" and circuit.relays
        dead = "0, on the negative" if braked else "0, no feed"
        at["33"] = at["32"] = dead
        if a.motor == "two-speed":
            at["33f"], at["32"] = dead, "0"
    else:
        chain = mine[position]
        supply_v = chain.source_v or RESTING_V * chain.nominal_v / 12.0
        e = expected(chain, supply_v)
        fed, back = MOTOR_TERMINALS[position]
        at[fed] = f"{show.up(supply_v - e.most_plus_v, 2)} or more"
        at[back] = f"{show.down(e.most_minus_v, 2)} or less"
        if a.motor == "two-speed":
            at["33f" if fed == "33" else "33"] = "not fed"
    return cells(
        f"{circuit.number} {a.name}", f"{show.listed(circuit.switches)} {position}",
        coil if circuit.relays else "–", at["33"], at["32"], at["33f"], "",
    )
