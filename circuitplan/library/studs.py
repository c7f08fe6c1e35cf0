"""Which stud a lug goes on: by the thickness of its wire and by the current (stud_lugs.csv)."""

from __future__ import annotations

from functools import cache

from circuitplan.library import store
from circuitplan.model.record import record


@record
class Stud:
    """``from_mm2`` to ``to_mm2``: wires for which lugs with its hole are sold; torque [N m]."""

    name: str
    from_mm2: float
    to_mm2: float
    most_a: float
    torque_nm: float


@cache
def all() -> tuple[Stud, ...]:
    """Every stud, thinnest first."""
    found = [
        Stud(row["stud"], *(float(row[k]) for k in ("from_mm2", "to_mm2", "most_a", "torque_nm")))
        for row in store.rows("stud_lugs")
    ]
    return tuple(sorted(found, key=lambda s: s.to_mm2))


def named(name: str) -> Stud:
    """The stud of this name, as "M8"."""
    return next(s for s in all() if s.name == name)


def choose(area_mm2: float, current_a: float, least: str = "M5") -> Stud:
    """The thinnest stud, ``least`` or more, on which a lug of ``area_mm2`` and a current for good
    of ``current_a`` go; the thickest where none does."""
    enough = [s for s in all() if s.to_mm2 >= named(least).to_mm2]
    return next(
        (s for s in enough if s.to_mm2 >= area_mm2 and s.most_a >= current_a), enough[-1]
    )
