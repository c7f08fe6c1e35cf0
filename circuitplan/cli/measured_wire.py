"""Which wire is this? The thinnest conductor a measured wire can hold, and its largest fuse."""

from __future__ import annotations

import math
from dataclasses import dataclass

from circuitplan.library.conductors import Conductor

UNKNOWN_CLASS_C = 70.0
HOT_PLACE_C = 50.0
NOMINAL_V = 12.0  # of the watts that are stated
FUSE_TYPES = ("C", "E", "SF30")
FORMAT = "circuitplan wire 1"


@dataclass(frozen=True, slots=True)
class MeasuredWire:
    """What a measured wire counts as; ``max_fuse_a`` None: no fuse in the tables is small enough.

    ``area_mm2`` is the table's area of the size it counts as, ``measured_mm2`` that of the
    strands where these were counted. ``continuous_a`` is what a load that stays on may draw behind
    the largest fuse, ``drop_v_per_m`` what it then loses on a metre of loop (feed and return both
    counted), at the temperature that the wire then has.
    """

    format: str
    answer: str
    size: str
    area_mm2: float
    measured_mm2: float | None
    gauge: str
    outer_mm: float
    insulation_c: float
    ambient_c: float
    bundle_wires: int
    ampacity_a: float
    ampacity_source: str
    max_fuse_a: float | None
    max_fuse_type: str | None
    continuous_a: float | None
    continuous_w: float | None
    drop_v_per_m: float | None
    assumptions: tuple[str, ...]


def strands_area_mm2(strands: int, strand_mm: float) -> float:
    """Copper area of ``strands`` round strands of diameter ``strand_mm``: n pi d^2 / 4 [mm2]."""
    return strands * math.pi / 4.0 * strand_mm**2


def by_outside(outer_mm: float) -> Conductor | None:
    """The thinnest conductor behind an outside diameter [mm]; None below the tables."""
    from circuitplan.library import conductors

    return conductors.by_outer(outer_mm)


def by_area(area_mm2: float, gauge: str) -> Conductor | None:
    """The largest offered size of a gauge whose area is not above that measured [mm2]."""
    from circuitplan.library import conductors

    return conductors.nearest_smaller(gauge, area_mm2)


def judge(
    conductor: Conductor,
    *,
    measured_mm2: float | None,
    insulation_c: float | None,
    ambient_c: float | None,
    bundle_wires: int | None,
) -> MeasuredWire:
    """Ampacity, largest fuse (In <= Iz) and continuous load (I <= 0.8 ka In) of a conductor.

    ka: what heat leaves of a fuse's rating. What is None is assumed and said so.
    """
    from circuitplan.design.protection import protect
    from circuitplan.design.wire import Candidate, Surroundings
    from circuitplan.errors import InputError, Problem
    from circuitplan.library import fuses, insulation, materials

    assumed = ["copper, fully loaded beside its neighbours (safe side)"]
    if insulation_c is None:
        insulation_c = UNKNOWN_CLASS_C
        assumed.append(f"insulation of {insulation_c:g} °C (judgement: nothing marked on it)")
    if ambient_c is None:
        ambient_c = HOT_PLACE_C
        assumed.append(f"surroundings of {ambient_c:g} °C (judgement)")
    if bundle_wires is None:
        bundle_wires = 2
        assumed.append("lies with one other wire, its return (judgement)")
    sort = insulation.get(insulation_c)
    if sort is None:
        known = ", ".join(f"{c:g} °C" for c in insulation.classes())
        raise InputError(
            [
                Problem(
                    "--insulation", f"no class of {insulation_c:g} °C", known, "take the lower one"
                )
            ]
        )
    copper = materials.get("copper")
    if copper is None:
        raise LookupError("the table of materials holds no copper")
    candidate = Candidate(conductor, sort, copper)
    around = Surroundings(ambient_c, 1.0, bundle_wires, 1.0)
    ampacity_a = candidate.ampacity(around)
    source = candidate.single_ampacity(ambient_c)[1]
    fitting = [
        (rating, kind)
        for kind in FUSE_TYPES
        for rating in fuses.ratings(kind)
        if rating <= ampacity_a
    ]
    rating, kind = max(fitting, key=lambda pair: pair[0], default=(None, None))
    load_a = drop_v_per_m = None
    if rating is not None:
        load_a = protect.CONTINUOUS_SHARE * protect.ambient_share(ambient_c) * rating
        drop_v_per_m = load_a * candidate.ohm_per_m(candidate.temperature(load_a, around))
    return MeasuredWire(
        FORMAT,
        "ok" if rating is not None else "cannot say",
        conductor.label,
        conductor.area_mm2,
        measured_mm2,
        conductor.gauge,
        conductor.outer_mm,
        insulation_c,
        ambient_c,
        bundle_wires,
        ampacity_a,
        source,
        rating,
        kind,
        load_a,
        None if load_a is None else load_a * NOMINAL_V,
        drop_v_per_m,
        tuple(assumed),
    )
