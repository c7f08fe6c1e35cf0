"""Bundle derating on a free-air base: MIL-W-5088L (later SAE AS50881), by wires and loading."""

from __future__ import annotations

from functools import cache

from circuitplan.library import store
from circuitplan.library.facts import interpolate

LOWEST_LOADING = 0.20


@cache
def _curves() -> dict[int, tuple[tuple[float, float], ...]]:
    """wires -> ((loading, factor), ...) ascending in loading."""
    found: dict[int, list[tuple[float, float]]] = {}
    for row in store.rows("bundle_factors"):
        point = (float(row["loading"]), float(row["factor"]))
        found.setdefault(int(row["wires"]), []).append(point)
    return {wires: tuple(sorted(points)) for wires, points in found.items()}


def factor(wires: int, loading: float) -> float | None:
    """Factor on the free-air ampacity of each wire of a bundle, or None above 19 wires. [-]

    ``loading`` is the sum of the currents that flow together over the sum of the derated
    ampacities, as a fraction; below 0.20 the 20 % column stands, above 1 the 100 % column. Straight
    lines between columns. Raises ValueError for fewer than one wire or a negative loading.
    """
    if wires < 1 or loading < 0:
        raise ValueError(
            f"a bundle needs a wire and a loading of 0 or more, not {wires}, {loading}"
        )
    curve = _curves().get(wires)
    if curve is None:
        return None
    return interpolate(curve, min(max(loading, LOWEST_LOADING), 1.0))


def most_wires() -> int:
    """The largest bundle of the table."""
    return max(_curves())
