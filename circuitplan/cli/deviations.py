"""First-principles ampacity held against the published tables, size by size."""

from __future__ import annotations

from dataclasses import dataclass

GATE = 0.15
AMBIENT_C = 30.0
RESISTIVITY_PVC_K_M_PER_W = 5.5


@dataclass(frozen=True, slots=True)
class Deviation:
    """One size of one document: published and computed current, and their relative distance."""

    document: str
    clause: str
    size: str
    class_c: float
    published_a: float
    computed_a: float

    @property
    def relative(self) -> float:
        """Computed over published, less one."""
        return self.computed_a / self.published_a - 1.0


def deviations() -> tuple[Deviation, ...]:
    """Every row of the table ``ampacity_gate``: single wire in still air at 30 °C [A]."""
    from circuitplan.library import store
    from circuitplan.physics import heat
    from circuitplan.physics.resistance import COPPER_ALPHA

    found = []
    for row in store.rows("ampacity_gate"):
        class_c = float(row["class_c"])
        computed_a = heat.ampacity_a(
            float(row["r20_ohm_per_m"]),
            COPPER_ALPHA,
            float(row["conductor_mm"]),
            float(row["outer_mm"]),
            RESISTIVITY_PVC_K_M_PER_W,
            class_c,
            AMBIENT_C,
        )
        published_a = float(row["published_a"])
        found.append(
            Deviation(row["document"], row["clause"], row["size"], class_c, published_a, computed_a)
        )
    return tuple(found)
