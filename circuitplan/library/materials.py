"""Conductor materials: resistance against copper, temperature and short-circuit constants."""

from __future__ import annotations

from functools import cache

from circuitplan.library import store
from circuitplan.model.record import record


@record
class Material:
    """A conductor material.

    ``r_factor`` multiplies the resistance of bare copper; ``alpha_per_k`` is the temperature
    coefficient at 20 °C [1/K]; ``k_constant`` [A·s^0.5/mm²] and ``beta_c`` [°C] are those of the
    adiabatic equation of IEC 60949.
    """

    name: str
    r_factor: float
    alpha_per_k: float
    k_constant: float
    beta_c: float
    status: str
    source: str


@cache
def get(name: str) -> Material | None:
    """The material ``name`` (case forgiven, also by its short name: cca), or None."""
    wanted = " ".join(name.lower().replace("-", " ").split())
    for row in store.rows("materials"):
        written = {row["name"].replace("-", " "), *row["aliases"].split(";")}
        if wanted in written:
            return Material(
                row["name"],
                float(row["r_factor"]),
                float(row["alpha_per_k"]),
                float(row["k_constant"]),
                float(row["beta_c"]),
                row["status"],
                row["source"],
            )
    return None


def names() -> tuple[str, ...]:
    """All materials, in table order."""
    return tuple(row["name"] for row in store.rows("materials"))
