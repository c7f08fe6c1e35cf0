"""Fuse families: ratings, colours, time gates, breaking capacity, heat, own resistance."""

from __future__ import annotations

from functools import cache

from circuitplan.errors import TableError
from circuitplan.library import store
from circuitplan.library.facts import interpolate
from circuitplan.model.record import record

HOTTEST_C = 125.0


@record
class Family:
    """One kind of overcurrent protection.

    ``rated_v``: the voltage classes it is made in [V]; ``breaking_capacity_a`` None: not known, the
    maker's figure is wanted. ``drop_v_design`` and ``drop_v_worst``: hot voltage drop at rated
    current [V], so that its resistance is that over its rating. ``max_continuous_a``: largest
    continuous current of an ordinary holder [A]. ``holder_max_mm2``: thickest wire it takes.
    ``bolted``: joined by studs, not by blades.
    """

    type: str
    name: str
    rated_v: tuple[float, ...]
    breaking_capacity_a: float | None
    drop_v_design: float
    drop_v_worst: float
    max_continuous_a: float | None
    holder_design_ohm: float
    holder_worst_ohm: float
    holder_max_mm2: float | None
    bolted: bool
    status: str
    source: str


@record
class Gate:
    """At ``multiple`` times its rating a fuse melts no sooner than ``t_min_s`` and, where the
    standard says so, no later than ``t_max_s``."""

    multiple: float
    t_min_s: float
    t_max_s: float | None


@cache
def families() -> tuple[Family, ...]:
    """All families, in table order."""
    return tuple(
        Family(
            type=row["type"],
            name=row["name"],
            rated_v=tuple(float(row[c]) for c in ("rated_v", "other_rated_v") if row[c]),
            breaking_capacity_a=store.number(row["breaking_capacity_a"]),
            drop_v_design=float(row["drop_v_design"]),
            drop_v_worst=float(row["drop_v_worst"]),
            max_continuous_a=store.number(row["max_continuous_a"]),
            holder_design_ohm=float(row["holder_design_ohm"]),
            holder_worst_ohm=float(row["holder_worst_ohm"]),
            holder_max_mm2=store.number(row["holder_max_mm2"]),
            bolted=store.yes(row["bolted"]),
            status=row["status"],
            source=row["source"],
        )
        for row in store.rows("fuse_families")
    )


def type_name(words: str) -> str | None:
    """The family's type as the table writes it, whatever the case: "class t" is "class T"."""
    wanted = " ".join(words.lower().replace("-", " ").split())
    for row in store.rows("fuse_families"):
        if row["type"].lower().replace("-", " ") == wanted:
            return row["type"]
    return None


@cache
def family(type: str) -> Family:
    """The family of a type; TableError for an unknown one (see ``type_name``)."""
    for found in families():
        if found.type == type:
            return found
    known = ", ".join(found.type for found in families())
    raise TableError(f"no fuse family is named {type}; known: {known}")


@cache
def ratings(type: str) -> tuple[float, ...]:
    """The ratings of a family, ascending [A]; empty where any rating may stand (output)."""
    found = (float(r["rating_a"]) for r in store.rows("fuse_ratings") if r["type"] == type)
    return tuple(sorted(found))


@cache
def colour(type: str, rating_a: float) -> str | None:
    """Colour of a fuse in English words (ISO 8820-3), or None where there is no colour code."""
    for row in store.rows("fuse_ratings"):
        if row["type"] == type and float(row["rating_a"]) == rating_a:
            return row["colour"] or None
    return None


@cache
def gates(type: str) -> tuple[Gate, ...]:
    """Time gates of a family, ascending; empty for a breaker and an output (maker's curve)."""
    found = (
        Gate(float(r["multiple"]), float(r["t_min_s"]), store.number(r["t_max_s"]))
        for r in store.rows("fuse_gates")
        if r["type"] == type
    )
    return tuple(sorted(found, key=lambda gate: gate.multiple))


@cache
def gates_source(type: str) -> tuple[str, str] | None:
    """Status and source of a family's gates, or None where it has none."""
    for row in store.rows("fuse_gates"):
        if row["type"] == type:
            return row["status"], row["source"]
    return None


@cache
def _ambient_points() -> tuple[tuple[float, float], ...]:
    found = ((float(r["ambient_c"]), float(r["factor"])) for r in store.rows("fuse_ambient"))
    return tuple(sorted(found))


def ambient_factor(ambient_c: float) -> float | None:
    """Share of its rating that a fuse carries for good in a hot place; None above 125 °C. [-]

    1 up to 20 °C, then straight lines between the points of one published part.
    """
    points = _ambient_points()
    if ambient_c > HOTTEST_C:
        return None
    return points[0][1] if ambient_c <= points[0][0] else interpolate(points, ambient_c)
