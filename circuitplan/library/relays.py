"""Generic relays and contactors for 12, 24 and 48 V systems (invented rows of usual size)."""

from __future__ import annotations

from functools import cache

from circuitplan.library import store
from circuitplan.model.record import record


@record
class Relay:
    """A relay of usual size.

    ``contact_a``: rated current of the make contact at the system voltage [A]; ``contact_rated_v``:
    highest DC voltage of that contact [V]; ``coil_ohm`` at 20 °C; ``pick_up_v`` at a coil of 23 °C;
    ``break_*``: the same of the break contact 87a, which closes by its spring alone; 0 where there
    is none. ``terminals`` as in DIN 72552; ``letter`` as in IEC 81346-2 (Q carries a load).
    """

    type: str
    system_v: float
    contact_a: float
    contact_rated_v: float
    coil_ohm: float
    pick_up_v: float
    contact_design_ohm: float
    contact_worst_ohm: float
    break_a: float
    break_design_ohm: float
    break_worst_ohm: float
    terminals: tuple[str, ...]
    letter: str
    status: str
    source: str


_TERMINALS = ("terminal_feed", "terminal_make", "terminal_break", "coil_positive", "coil_negative")


@cache
def offered(system_v: float) -> tuple[Relay, ...]:
    """Relays for a nominal voltage [V], ascending in contact rating; empty for another voltage."""
    found = (
        Relay(
            type=row["type"],
            system_v=float(row["system_v"]),
            contact_a=float(row["contact_a"]),
            contact_rated_v=float(row["contact_rated_v"]),
            coil_ohm=float(row["coil_ohm"]),
            pick_up_v=float(row["pick_up_v"]),
            contact_design_ohm=float(row["contact_design_mohm"]) / 1000,
            contact_worst_ohm=float(row["contact_worst_mohm"]) / 1000,
            break_a=float(row["break_a"] or 0.0),
            break_design_ohm=float(row["break_design_mohm"] or 0.0) / 1000,
            break_worst_ohm=float(row["break_worst_mohm"] or 0.0) / 1000,
            terminals=tuple(row[column] for column in _TERMINALS if row[column]),
            letter=row["letter"],
            status=row["status"],
            source=row["source"],
        )
        for row in store.rows("relays")
        if float(row["system_v"]) == system_v
    )
    return tuple(sorted(found, key=lambda relay: relay.contact_a))
