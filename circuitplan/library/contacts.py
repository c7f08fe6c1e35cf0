"""Resistances of joints and contacts, and what a contact's rating is worth for a kind of load."""

from __future__ import annotations

from functools import cache

from circuitplan.errors import TableError
from circuitplan.library import store
from circuitplan.model.record import record


@record
class Contact:
    """A joint. ``design_ohm`` serves voltage drop, ``worst_ohm`` fault clearing (aged)."""

    item: str
    design_ohm: float
    worst_ohm: float
    meaning: str
    status: str
    source: str


@record
class LoadFactor:
    """What a contact rating is divided by for a class of load.

    ``factor``: for the steady current; ``unknown_inrush_factor``: where the inrush of a capacitive
    load is not known; ``needs_contact_volts``: the rating must have been given for this voltage.
    """

    factor: float
    unknown_inrush_factor: float
    needs_contact_volts: bool
    status: str
    source: str


@cache
def _all() -> dict[str, Contact]:
    return {
        row["item"]: Contact(
            row["item"],
            float(row["design_mohm"]) / 1000,
            float(row["worst_mohm"]) / 1000,
            row["meaning"],
            row["status"],
            row["source"],
        )
        for row in store.rows("contacts")
    }


def items() -> tuple[str, ...]:
    """All joints of the table."""
    return tuple(_all())


def get(item: str) -> Contact:
    """The joint ``item``; TableError if there is none of that name."""
    found = _all().get(item)
    if found is None:
        raise TableError(f"no contact is named {item}; known: {', '.join(_all())}")
    return found


def resistance(item: str) -> tuple[float, float]:
    """(design, worst) resistance of one joint [ohm]."""
    found = get(item)
    return found.design_ohm, found.worst_ohm


def crimp(area_mm2: float) -> Contact:
    """The crimp of a conductor area [mm²]; a size between two rows takes that of the thinner."""
    if area_mm2 >= 35:
        return get("crimp from 35 mm2")
    if area_mm2 >= 10:
        return get("crimp 10 to 25 mm2")
    return get("crimp 2.5 to 6 mm2") if area_mm2 >= 2.5 else get("crimp to 1.5 mm2")


@cache
def load_factor(contact_class: str, system_v: float) -> LoadFactor | None:
    """Factor for a contact class at a nominal voltage [V], or None.

    None: no plain contact may switch it (class ``contactor``), or the table has no such class. At
    48 V the factor is that of 28 V and holds only for a contact rated for the voltage.
    """
    for row in store.rows("contact_factors"):
        if row["contact_class"] == contact_class and float(row["system_v"]) == system_v:
            return LoadFactor(
                float(row["factor"]),
                float(row["unknown_inrush_factor"]),
                store.yes(row["needs_contact_volts"]),
                row["status"],
                row["source"],
            )
    return None
