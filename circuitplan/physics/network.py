"""Feeds and returns as one resistive network behind one EMF, with non-linear loads.

A load between its feed and return node sees U = E - Z I, where Z holds the resistance that its
path shares with each load's path (its own on the diagonal). Loads draw I = Ir (U / Ur)^m.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from circuitplan.physics.exclusion import Exclusion, heaviest_rows

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

_MOST_STEPS = 60
_SMALLEST_SHARE_STEP = 1e-3


@dataclass(frozen=True, slots=True)
class OperatingPoint:
    """Volts and currents of each load; ``found`` is False where the network collapses.

    Then volts and currents are NaN, and ``share`` is the part of all rated currents, scaled
    together, that the network can still feed.
    """

    volts: Floats
    currents: Floats
    found: bool
    share: float = 1.0


@dataclass(frozen=True, slots=True)
class Bound:
    """Lowest volts and largest current that each load can have, whatever else is on or off."""

    volts: Floats
    currents: Floats
    found: bool


def port_matrix(paths: Floats, segment_ohm: Floats) -> Floats:
    """Z = P diag(R) P^T [ohm], shape (loads, loads).

    ``paths`` (loads, segments) says which part of a load's current each segment carries, feed and
    return segments alike; ``segment_ohm`` (segments,) are their resistances.
    """
    weighted: Floats = paths * segment_ohm
    z: Floats = weighted @ paths.T
    return z


def solve(
    emf_v: float,
    z: Floats,
    rated_a: Floats,
    rated_v: Floats,
    exponent: Floats,
    on: Bools | None = None,
) -> OperatingPoint:
    """Operating point on the high-voltage branch, all arrays of shape (loads,).

    Newton's method from no load downwards; where that fails, the loads are raised step by step
    from nothing, which follows the branch until it ends. A load that is off still has its volts.
    """
    drawn_a = rated_a if on is None else np.where(on, rated_a, 0.0)
    active = np.flatnonzero(drawn_a > 0.0)
    count = len(rated_a)
    if len(active) == 0:
        return OperatingPoint(np.full(count, float(emf_v)), np.zeros(count), True)
    emf = np.full(len(active), float(emf_v))
    part = z[np.ix_(active, active)]
    loads = (drawn_a[active], rated_v[active], exponent[active])
    volts, share = _high_branch(emf, part, loads)
    if volts is None:
        nothing = np.full(count, np.nan)
        return OperatingPoint(nothing, nothing, False, share)
    currents = np.zeros(count)
    currents[active] = _drawn(volts, loads)
    return OperatingPoint(emf_v - z @ currents, currents, True)


def guaranteed(
    emf_v: float,
    z: Floats,
    rated_a: Floats,
    rated_v: Floats,
    exponent: Floats,
    never_with: Bools | None = None,
    least_a: Floats | None = None,
) -> Bound:
    """Bounds that hold for every allowed set of loads switched on: U_k >= E - max sum Z_kl I_l.

    I_l is the largest current of load l: with m > 0 the current at E; with m <= 0 the least
    fixed point of I = f(E - Z I), in which the sum runs over the heaviest allowed set that holds
    l. That map rises with every current, so the fixed point is above the solution of any set.

    ``never_with`` (loads, loads) marks pairs that interlocks keep apart. ``least_a`` raises the
    largest currents (a motor of unknown kind may draw more than its exponent says). Volts are
    those of a load while it is on. ``found`` is False, and all is NaN, if no bound exists.
    """
    count = len(rated_a)
    if count == 0:
        return Bound(np.zeros(0), np.zeros(0), True)
    nothing = Bound(np.full(count, np.nan), np.full(count, np.nan), False)
    emf = np.full(count, float(emf_v))
    floor = np.zeros(count) if least_a is None else least_a
    at_emf = np.maximum(_drawn(emf, (rated_a, rated_v, exponent)), floor)
    exclusion = None if never_with is None else Exclusion.of(never_with)
    held = (exponent >= 0.0) | (floor >= at_emf) | (rated_a <= 0.0)
    largest = at_emf
    mask: Floats | None = None
    # Each turn solves the map for the sets (and holdings) that are worst at the last currents;
    # currents only rise from turn to turn, so it ends when neither changes.
    for _ in range(2 * count + 20):
        if exclusion is None:
            shared = z
        else:
            worst = exclusion.worst_sets(z * largest)
            if mask is not None and np.array_equal(worst, mask):
                worst = mask
            mask = worst
            shared = z * mask
        free = np.flatnonzero(~held)
        found = largest.copy()
        if len(free):
            fixed_drop = shared[:, held] @ at_emf[held]
            reduced = (emf - fixed_drop)[free]
            if reduced.min() <= 0.0:
                return nothing
            loads = (rated_a[free], rated_v[free], exponent[free])
            volts, _ = _high_branch(reduced, shared[np.ix_(free, free)], loads, share=False)
            if volts is None:
                return nothing
            found[free] = np.maximum(_drawn(volts, loads), found[free])
        volts_all = emf - heaviest_rows(z * found, exclusion)
        if volts_all.min() <= 0.0:
            return nothing
        risen = _drawn(volts_all, (rated_a, rated_v, exponent))
        release = held & (exponent < 0.0) & (risen > at_emf * (1.0 + 1e-12)) & (rated_a > 0.0)
        settled = exclusion is None or bool(
            np.all(volts_all >= emf - (shared * found).sum(axis=1) - 1e-12 * emf_v)
        )
        largest = found
        if settled and not release.any():
            return Bound(volts_all, largest, True)
        held = held & ~release
    return guaranteed(emf_v, z, rated_a, rated_v, exponent, None, least_a)


def largest_constant_power_w(emf_v: float, resistance_ohm: float) -> float:
    """E^2 / 4R [W]: the largest constant-power load that works behind a resistance."""
    return emf_v * emf_v / (4.0 * resistance_ohm)


def fault_current(emf_v: float, source_ohm: float, path_ohm: float) -> float:
    """Current of a bolted fault, I = E / (Rs + Rpath) [A]. ValueError unless Rs + Rpath > 0."""
    total_ohm = source_ohm + path_ohm
    if total_ohm <= 0.0:
        raise ValueError(f"loop resistance {total_ohm} ohm is not positive")
    return emf_v / total_ohm


_Loads = tuple[Floats, Floats, Floats]


def _drawn(volts: Floats, loads: _Loads) -> Floats:
    rated_a, rated_v, exponent = loads
    currents: Floats = rated_a * (volts / rated_v) ** exponent
    return currents


def _high_branch(
    emf: Floats, z: Floats, loads: _Loads, share: bool = True
) -> tuple[Floats | None, float]:
    """Volts of loads that all are on, or None and the share of them that still works."""
    volts = _newton(emf, z, loads, emf)
    if volts is not None:
        return volts, 1.0
    # With m <= 0 throughout, Newton from the top finds the branch whenever there is one.
    if not share and bool(np.all(loads[2] <= 0.0)):
        return None, 0.0
    rated_a, rated_v, exponent = loads
    reached, step, start = 0.0, 0.5, emf
    while step >= _SMALLEST_SHARE_STEP:
        goal = min(1.0, reached + step)
        volts = _newton(emf, z, (rated_a * goal, rated_v, exponent), start)
        if volts is None:
            step /= 2.0
            continue
        reached, start = goal, volts
        if reached >= 1.0:
            return volts, 1.0
    return None, reached


def _newton(emf: Floats, z: Floats, loads: _Loads, start: Floats) -> Floats | None:
    """Newton on F(U) = U - E + Z I(U), kept above zero volts; None if it does not converge."""
    exponent = loads[2]
    eye = np.eye(len(emf))
    volts = start.copy()
    currents = _drawn(volts, loads)
    residual = volts - emf + z @ currents
    size = float(np.abs(residual).max())
    scale = float(emf.max())
    for _ in range(_MOST_STEPS):
        jacobian = eye + z * (exponent * currents / volts)
        try:
            step = np.linalg.solve(jacobian, residual)
        except np.linalg.LinAlgError:
            return None
        length = 1.0
        while True:
            trial = volts - length * step
            if trial.min() > 0.0:
                trial_currents = _drawn(trial, loads)
                trial_residual = trial - emf + z @ trial_currents
                trial_size = float(np.abs(trial_residual).max())
                if trial_size <= size * (1.0 - 0.1 * length) or trial_size <= 1e-13 * scale:
                    break
            length *= 0.5
            if length < 1e-3:
                return None
        volts, currents, residual, size = trial, trial_currents, trial_residual, trial_size
        if size <= 1e-13 * scale or float(np.abs(length * step).max()) <= 1e-12 * scale:
            return volts
    return None
