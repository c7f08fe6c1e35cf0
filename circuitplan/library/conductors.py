"""Conductor sizes: copper area, resistance at 20 °C, diameters.

Gauges: ``metric`` (ISO 6722), ``awg`` (ASTM B258 solid, times 1.05 for stranding), ``sae``
(minimum areas of SAE J1127/J1128, times 1.02) and ``iec`` (IEC 60228 class 5, H07V-K diameters).
A SAE size is thinner than the AWG size of the same number.
"""

from __future__ import annotations

from functools import cache

from circuitplan.library import store
from circuitplan.model.record import record

GAUGES = ("metric", "awg", "sae", "iec")
_LABELS = {"metric": "{} mm²", "awg": "{} AWG", "sae": "{} SAE", "iec": "{} mm² class 5"}


@record
class Conductor:
    """One size of one gauge.

    ``area_mm2`` is the area that resistance and short-circuit withstand are reckoned with;
    ``r20_ohm_per_m`` the highest resistance at 20 °C of bare copper; ``tinned_r20_ohm_per_m``
    that of tinned copper, or None; ``offered`` says whether a size may be proposed.
    """

    gauge: str
    size: str
    area_mm2: float
    r20_ohm_per_m: float
    tinned_r20_ohm_per_m: float | None
    conductor_mm: float
    outer_mm: float
    offered: bool
    status: str
    source: str

    @property
    def label(self) -> str:
        """The size as people write it: 2.5 mm², 14 AWG, 14 SAE."""
        return _LABELS[self.gauge].format(self.size)


@cache
def all_of(gauge: str) -> tuple[Conductor, ...]:
    """Every size of ``gauge``, offered or not, ascending in area; empty for an unknown gauge."""
    found = (
        Conductor(
            gauge=row["gauge"],
            size=row["size"],
            area_mm2=float(row["area_mm2"]),
            r20_ohm_per_m=float(row["r20_ohm_per_m"]),
            tinned_r20_ohm_per_m=store.number(row["tinned_r20_ohm_per_m"]),
            conductor_mm=float(row["conductor_mm"]),
            outer_mm=float(row["outer_mm"]),
            offered=store.yes(row["offered"]),
            status=row["status"],
            source=row["source"],
        )
        for row in store.rows("conductors")
        if row["gauge"] == gauge
    )
    return tuple(sorted(found, key=lambda conductor: conductor.area_mm2))


@cache
def offered(gauge: str) -> tuple[Conductor, ...]:
    """The sizes of ``gauge`` that may be proposed, ascending in area."""
    return tuple(conductor for conductor in all_of(gauge) if conductor.offered)


@cache
def get(gauge: str, size: str) -> Conductor | None:
    """The conductor of ``gauge`` and ``size`` ("2.5", "14", "4/0", "0000"), or None."""
    wanted = _plain(size)
    for conductor in all_of(gauge):
        if conductor.size == wanted:
            return conductor
    return None


def nearest_smaller(gauge: str, area_mm2: float) -> Conductor | None:
    """The largest offered conductor of ``gauge`` whose area does not exceed ``area_mm2``."""
    best = None
    for conductor in offered(gauge):
        if conductor.area_mm2 <= area_mm2 * (1 + 1e-9):
            best = conductor
    return best


def by_outer(outer_mm: float) -> Conductor | None:
    """The thinnest conductor that a wire of ``outer_mm`` outside can hold, or None below the table.

    Of each gauge the largest wire that is no thicker than the measured one; of these the one with
    the most resistance: H07V-K has the thickest walls in small sizes, SAE J1127 in large ones. [mm]
    """
    found = []
    for gauge in GAUGES:
        fitting = [wire for wire in all_of(gauge) if wire.outer_mm <= outer_mm * (1 + 1e-9)]
        if not fitting:
            return None
        found.append(fitting[-1])
    return max(found, key=lambda conductor: conductor.r20_ohm_per_m)


def _plain(size: str) -> str:
    """4/0 for 0000 and 4/0, 2.5 for 2.50, 10 for 10.0."""
    text = size.strip()
    if text and set(text) == {"0"}:
        return f"{len(text)}/0"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return text
