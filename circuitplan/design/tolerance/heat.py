"""Conductor temperature of many samples at once: a fitted law with the steady heat balance behind.

ln(T - Ta) as a polynomial in ln(I² R20) and Ta. The fit is taken through the design's own
temperature, which it then gives back exactly, and is lifted away from it just so far that it
nowhere lies below the balance on the grid of the fit.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np
from numpy.typing import NDArray

from circuitplan.design.tolerance.arrays import column
from circuitplan.design.wire import FIRST_PRINCIPLES_SHARE, Candidate, Surroundings
from circuitplan.model.record import record
from circuitplan.physics import heat

Floats = NDArray[np.float64]

AMBIENT_OFFSETS_K = (-40.0, -28.0, -14.0, 0.0, 12.0)
"""Range of the fit about the planned ambient: that of the samples is -30 to +10 K."""
RISES_K = tuple(float(rise) for rise in np.geomspace(0.002, 260.0, 48))
HIGHEST_OVER_CLASS_K = 60.0
DEGREE_LOAD = 4
LEAST_LOAD = 1e-30


@record
class _Fit:
    """coefficients (load power, ambient power); ``points`` (n, 3): ln(I² R20), Ta, ln(T - Ta)."""

    coefficients: Floats
    points: Floats

    def at(self, load: Floats | float, ambient_c: Floats | float) -> Floats:
        found = np.zeros(())
        for power in reversed(range(DEGREE_LOAD + 1)):
            row = self.coefficients[power]
            found = found * load + (row[0] + row[1] * ambient_c)
        return found


@record
class WarmLaw:
    """Laws of several wires, one a row: arrays of shape (wires,) and (powers, wires).

    ``load_share2``: r20 over the square of what bundle, tube and margin leave of the current.
    """

    constant: Floats  # (powers, wires, 1)
    slope: Floats
    load_share2: Floats  # (wires, 1) [ohm/m]
    least: Floats  # range of ln(I² R20) of the fit; what lies outside is taken at its end
    most: Floats
    anchor_load: Floats
    anchor_ambient_c: Floats
    lift: Floats
    lift_ambient_per_k: Floats
    shift: Floats

    def of(self, rows: NDArray[np.intp]) -> WarmLaw:
        """The laws of some of the wires."""
        return WarmLaw(
            self.constant[:, rows], self.slope[:, rows], self.load_share2[rows],
            self.least[rows], self.most[rows],
            self.anchor_load[rows], self.anchor_ambient_c[rows], self.lift[rows],
            self.lift_ambient_per_k[rows], self.shift[rows],
        )

    def temperature(self, current_a: Floats, r20_factor: Floats, ambient_c: Floats) -> Floats:
        """Steady temperatures [°C], arguments and result of shape (wires, samples)."""
        load = current_a * current_a
        load *= r20_factor
        load *= self.load_share2
        np.maximum(load, LEAST_LOAD, out=load)
        np.log(load, out=load)
        np.clip(load, self.least, self.most, out=load)
        term: Floats = np.multiply(self.slope[-1], ambient_c)
        found: Floats = term + self.constant[-1]
        for power in reversed(range(DEGREE_LOAD)):
            found *= load
            np.multiply(self.slope[power], ambient_c, out=term)
            term += self.constant[power]
            found += term
        found += self.shift
        load -= self.anchor_load
        np.abs(load, out=load)
        load *= self.lift
        found += load
        np.subtract(ambient_c, self.anchor_ambient_c, out=term)
        np.abs(term, out=term)
        term *= self.lift_ambient_per_k
        found += term
        np.exp(found, out=found)
        found += ambient_c
        return found


def warm_law(wires: list[tuple[Candidate, Surroundings, float]]) -> WarmLaw:
    """Laws through (wire, surroundings, design current) each, exact at that point."""
    rows = [_anchored(*wire) for wire in wires]
    fits = [_fit(wire, around.ambient_c) for wire, around, _ in wires]
    powers = np.array([fit.coefficients for fit in fits]).reshape(-1, DEGREE_LOAD + 1, 2)

    least = [min(fit.points[:, 0].min(), row[1]) for fit, row in zip(fits, rows, strict=True)]
    return WarmLaw(
        powers[:, :, 0].T[:, :, None], powers[:, :, 1].T[:, :, None],
        column([row[0] for row in rows]), column(least),
        column([fit.points[:, 0].max() for fit in fits]),
        *(column([row[index] for row in rows]) for index in range(1, 6)),
    )


def _anchored(
    wire: Candidate, around: Surroundings, current_a: float
) -> tuple[float, float, float, float, float, float]:
    """(r20 / share², anchor load, anchor ambient, lift, lift per K, shift) of one wire."""
    share = FIRST_PRINCIPLES_SHARE * around.tube * around.bundle_factor
    load_share2 = wire.r20 / (share * share)
    fit = _fit(wire, around.ambient_c)
    ambient = around.ambient_c
    warm = wire.temperature(current_a, around) if current_a > 0.0 else math.inf
    if not ambient < warm <= wire.insulation.class_c + HIGHEST_OVER_CLASS_K:
        # No current, or too hot to be fitted: the law of the wire as it stands, lifted whole.
        missing = fit.points[:, 2] - fit.at(fit.points[:, 0], fit.points[:, 1])
        return load_share2, 0.0, ambient, 0.0, 0.0, float(max(missing.max(), 0.0))
    load = math.log(current_a * current_a * load_share2)
    shift = math.log(warm - ambient) - float(fit.at(load, ambient))
    missing = fit.points[:, 2] - fit.at(fit.points[:, 0], fit.points[:, 1]) - shift
    far = np.abs(fit.points[:, 0] - load)
    far_ambient = np.abs(fit.points[:, 1] - ambient) / AMBIENT_SCALE_K
    lift = float(max((missing / (far + far_ambient + 1e-9)).max(), 0.0))
    return load_share2, load, ambient, lift, lift / AMBIENT_SCALE_K, shift


AMBIENT_SCALE_K = 10.0
"""Ambient difference that counts as much as a factor e of heat in the lift."""


@cache
def _fit(wire: Candidate, planned_c: float) -> _Fit:
    c = wire.conductor
    inner = heat.insulation_k_m_per_w(
        c.conductor_mm, c.outer_mm, wire.insulation.resistivity_k_m_per_w
    )
    alpha = wire.material.alpha_per_k
    highest = wire.insulation.class_c + HIGHEST_OVER_CLASS_K
    points = []
    for ambient_c in (planned_c + offset for offset in AMBIENT_OFFSETS_K):
        for rise in RISES_K:
            loss = heat.surface_loss_w_per_m(c.outer_mm, ambient_c + rise, ambient_c)
            warm = ambient_c + rise + loss * inner
            if warm > highest:
                break
            cold_loss = loss / (1.0 + alpha * (warm - 20.0))
            points.append((math.log(cold_loss), ambient_c, math.log(warm - ambient_c)))
    table = np.array(points)
    load, ambient = table[:, 0], table[:, 1]
    basis = np.stack(
        [load**p * ambient**q for p in range(DEGREE_LOAD + 1) for q in range(2)], axis=1
    )
    weight = np.exp(0.5 * table[:, 2])  # hot wires matter more: the error in kelvin counts
    found, *_ = np.linalg.lstsq(basis * weight[:, None], table[:, 2] * weight, rcond=None)
    return _Fit(found.reshape(DEGREE_LOAD + 1, 2), table)
