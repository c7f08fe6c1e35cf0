"""Places in a vehicle: how hot they get, and which insulation is offered there."""

from __future__ import annotations

from functools import cache

from circuitplan.library import store
from circuitplan.model.record import record


@record
class PlaceDefault:
    """A known place. ``allowed`` False: no wire belongs there; ``ambient_c`` is then None."""

    name: str
    ambient_c: float | None
    insulation_class_c: float
    insulation_material: str | None
    in_engine_bay: bool
    allowed: bool
    status: str
    source: str


@cache
def default(name: str) -> PlaceDefault | None:
    """The place meant by ``name``: same words, an alias, or all words of one of them in the name.

    "rear load bed, left" is the load bed. The longest match rules; None if nothing matches.
    """
    words = _words(name)
    best: tuple[int, dict[str, str]] | None = None
    for row in store.rows("places"):
        for known in (row["place"], *row["aliases"].split(";")):
            wanted = _words(known)
            if wanted and wanted <= words and (best is None or len(wanted) > best[0]):
                best = (len(wanted), row)
    return None if best is None else _typed(best[1])


def all_of() -> tuple[PlaceDefault, ...]:
    """Every known place, in table order."""
    return tuple(_typed(row) for row in store.rows("places"))


def _typed(row: dict[str, str]) -> PlaceDefault:
    return PlaceDefault(
        row["place"],
        store.number(row["ambient_c"]),
        float(row["insulation_class_c"]),
        row["insulation_material"] or None,
        store.yes(row["in_engine_bay"]),
        store.yes(row["allowed"]),
        row["status"],
        row["source"],
    )


def _words(text: str) -> frozenset[str]:
    plain = "".join(letter if letter.isalnum() else " " for letter in text.lower())
    return frozenset(plain.split())
