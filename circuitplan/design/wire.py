"""What one wire of a size may carry where it runs: ampacity both ways, and its temperature."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from circuitplan.design.draft import Segment
from circuitplan.library import ampacity, conductors, materials
from circuitplan.library import bundle as bundles
from circuitplan.library.conductors import Conductor
from circuitplan.library.insulation import Insulation
from circuitplan.library.materials import Material
from circuitplan.model.record import record
from circuitplan.physics import heat, transient

FIRST_PRINCIPLES_SHARE = 0.9
"""Keeps a wire at its class at 1.10 times its fuse, and within class + 50 K at 1.35 (computed)."""
LARGEST_LOOM = 12
"""Wires tied into one bundle at most; a fuller way is tied as several looms (judgement)."""
OVERLOAD_K = 50.0
"""ISO 6722 overload: class + 50 K for 6 h (from memory)."""


@record
class Surroundings:
    """Where the worst stretch of a wire lies: ambient, tube, neighbours and their loading."""

    ambient_c: float
    tube: float
    wires: int
    loading: float

    @property
    def bundle_factor(self) -> float:
        return _bundle_factor(self.wires, self.loading)


@dataclass(frozen=True, slots=True, eq=False)
class Candidate:
    """One conductor in one insulation: everything about a metre of it.

    Compared by identity (each is made once), so that it is a cheap key of what is reckoned for it.
    """

    conductor: Conductor
    insulation: Insulation
    material: Material

    @property
    def r20(self) -> float:
        """Highest resistance at 20 °C [ohm/m]."""
        if self.material.name == "tinned copper" and self.conductor.tinned_r20_ohm_per_m:
            return self.conductor.tinned_r20_ohm_per_m
        return self.conductor.r20_ohm_per_m * self.material.r_factor

    @property
    def published_a(self) -> float | None:
        """Published single wire at 30 °C [A], less for a material that is worse than copper."""
        found = _published(self)
        if found is None:
            return None
        return found.current_a / math.sqrt(max(1.0, self.material.r_factor))

    @property
    def published_source(self) -> str:
        found = _published(self)
        return found.source if found is not None else "outside the published tables"

    @property
    def adiabatic_k(self) -> float:
        aluminium = "aluminium" in self.material.name
        return self.insulation.k_aluminium if aluminium else self.insulation.k_copper

    @property
    def first_principles_class_c(self) -> float:
        return min(self.insulation.class_c, ampacity.HIGHEST_CLASS_C)

    def raw_ampacity(self, ambient_c: float) -> float:
        """First principles, single wire, at its place's temperature [A]."""
        return _raw(self, ambient_c)

    def single_ampacity(self, ambient_c: float) -> tuple[float, str]:
        """(single wire where it runs [A], which source ruled); 0 where the class is too low."""
        return _single(self, ambient_c)

    def _single_ampacity(self, ambient_c: float) -> tuple[float, str]:
        class_c = self.first_principles_class_c
        if class_c - ambient_c < heat.LEAST_MARGIN_K:
            return 0.0, "surroundings too hot for the insulation"
        first = FIRST_PRINCIPLES_SHARE * self.raw_ampacity(ambient_c)
        published = self.published_a
        if published is None:
            return 0.0, self.published_source
        published *= heat.ambient_factor(class_c, max(ambient_c, 30.0))
        if published < first:
            return published, self.published_source
        return first, "0.9 x first principles"

    def ampacity(self, around: Surroundings) -> float:
        """Ampacity as installed [A]."""
        return self.single_ampacity(around.ambient_c)[0] * around.tube * around.bundle_factor

    def temperature(
        self, current_a: float, around: Surroundings, ambient_c: float | None = None
    ) -> float:
        """Steady conductor temperature [°C]; inf in runaway. Never below the truth: the bundle
        and tube count as more current in free air. ``ambient_c``: at a cooler end."""
        share = FIRST_PRINCIPLES_SHARE * around.tube * around.bundle_factor
        return _warm(self, current_a / share, around.ambient_c if ambient_c is None else ambient_c)

    def body(self, around: Surroundings) -> transient.Body:
        """The wire as one body whose heat path is that of its installed ampacity."""
        rated = self.ampacity(around)
        hot = self.r20 * (1.0 + self.material.alpha_per_k * (self.insulation.class_c - 20.0))
        path = (self.insulation.class_c - around.ambient_c) / (rated * rated * hot)
        return transient.Body(
            self.r20, self.material.alpha_per_k, path,
            transient.heat_capacity_j_per_m_k(
                self.conductor.area_mm2, self.conductor.conductor_mm, self.conductor.outer_mm
            ),
            around.ambient_c,
        )

    def ohm_per_m(self, temperature_c: float) -> float:
        return self.r20 * (1.0 + self.material.alpha_per_k * (temperature_c - 20.0))


@cache
def _bundle_factor(wires: int, loading: float) -> float:
    factor = bundles.factor(wires, loading)
    if factor is None:
        raise ValueError(f"{wires} wires are more than the bundle table holds")
    return factor


@cache
def _published(candidate: Candidate) -> ampacity.Published | None:
    return ampacity.published(candidate.conductor, candidate.insulation.class_c)


@cache
def _single(candidate: Candidate, ambient_c: float) -> tuple[float, str]:
    return candidate._single_ampacity(ambient_c)


@cache
def _raw(candidate: Candidate, ambient_c: float) -> float:
    c = candidate.conductor
    return heat.ampacity_a(
        candidate.r20, candidate.material.alpha_per_k, c.conductor_mm, c.outer_mm,
        candidate.insulation.resistivity_k_m_per_w, candidate.first_principles_class_c, ambient_c,
    )


@cache
def _warm(candidate: Candidate, current_a: float, ambient_c: float) -> float:
    c = candidate.conductor
    return heat.conductor_temperature_c(
        candidate.r20, candidate.material.alpha_per_k, c.conductor_mm, c.outer_mm,
        candidate.insulation.resistivity_k_m_per_w, current_a, ambient_c,
    )


@cache
def _made(conductor: Conductor, insulation: Insulation, material: str) -> Candidate:
    found = materials.get(material)
    if found is None:
        raise ValueError(f"unknown conductor material {material}")
    return Candidate(conductor, insulation, found)


@cache
def _offered(
    gauge: str, insulation: Insulation, material: str, shelf: frozenset[str]
) -> tuple[Candidate, ...]:
    known = conductors.all_of(gauge) if shelf else conductors.offered(gauge)
    return tuple(
        _made(c, insulation, material) for c in known if not shelf or c.size in shelf
    )


def laid(wire: Candidate, segment: Segment) -> Candidate:
    """The same size in the insulation and material of another stretch of its group."""
    if wire.insulation is segment.insulation and wire.material.name == segment.material:
        return wire
    return _made(wire.conductor, segment.insulation, segment.material)


def candidates(segment: Segment) -> tuple[Candidate, ...]:
    """Sizes that may stand in a segment, ascending: the given one alone, those on the shelf, or all
    offered ones."""
    spec = segment.spec
    if spec.size is not None:
        found = conductors.get(segment.gauge, spec.size)
        if found is None:
            raise ValueError(f"unknown size {spec.size} in gauge {segment.gauge}")
        return (_made(found, segment.insulation, segment.material),)
    if spec.unknown:
        found = conductors.by_outer(spec.outer_mm) if spec.outer_mm is not None else None
        found = found or conductors.offered(segment.gauge)[0]
        return (_made(found, segment.insulation, segment.material),)
    return _offered(segment.gauge, segment.insulation, segment.material, segment.shelf)
