"""The sizes that FAA AC 43.13-1B CHG 1 (2001), table 11-7, finds for drop, run and current (read).

Its own resistances (table 11-9, tinned conductors at 20 C) and the project's drop must lead to the
size printed, and the next smaller size must not do.
"""

from __future__ import annotations

import pytest

from circuitplan.library import store
from circuitplan.physics.resistance import METRES_PER_1000_FT, drop_v

METRES_PER_FT = METRES_PER_1000_FT / 1000.0
OHM_PER_M = {
    row["size"]: float(row["ohm_per_1000ft"]) / METRES_PER_1000_FT
    for row in store.rows("resistance_ac4313_t11_9")
}


@pytest.mark.parametrize(
    ("allowed_v", "run_ft", "current_a", "size"),
    [(1.0, 107.0, 20.0, "6"), (4.0, 88.0, 20.0, "12"), (7.0, 100.0, 20.0, "14")],
)
def test_smallest_size_within_the_drop(
    allowed_v: float, run_ft: float, current_a: float, size: str
) -> None:
    fitting = [
        name
        for name, ohm_per_m in OHM_PER_M.items()
        if drop_v(ohm_per_m, run_ft * METRES_PER_FT, current_a) <= allowed_v
    ]
    assert max(fitting, key=OHM_PER_M.__getitem__) == size
