"""Volts, currents and temperatures of a block of samples, all loads and samples at once.

The bound is the design's: U_k >= E - sum Z_kl I_l over the heaviest allowed set, where loads whose
current falls with the volts draw what the source's own volts give, and the others the least fixed
point of I = f(E - Z I). That point is found from below; once no solution of a load's own quadratic
is left at some step, there is none at all, so a sample is given up for good.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from circuitplan.design.tolerance.frozen import Frozen
from circuitplan.design.tolerance.inputs import Inputs
from circuitplan.design.tolerance.net import Case
from circuitplan.design.tolerance.warmth import ambients, temperatures

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

MOST_STEPS = 60
SETTLED = 1e-10
"""Largest change in the last step, of shared volts over the supply's or of a current."""
LEAST_V = 1e-3


@dataclass(slots=True)
class Volts:
    """Per load and sample; ``held`` False where the supply collapses (then all is the design's)."""

    volts: Floats
    supply_v: Floats
    current_a: Floats
    conductor_v: Floats  # of critical loads alone, in the order of ``net.critical``
    held: Bools
    body_c: Floats  # temperature of each body that the resistances were taken at
    wire_ohm: Floats  # of every wire at 20 °C
    frozen_a: Floats  # currents that those temperatures belong to
    around_c: Floats  # temperature around each body


def solve(frozen: Frozen, inputs: Inputs) -> Volts:
    """The whole plan at every sample."""
    loads, net, wires = frozen.loads, frozen.net, frozen.wires
    samples = inputs.supply.shape[1]
    count = len(loads.loads)
    frozen_a = loads.frozen_a * inputs.draw
    if len(loads.varying):
        frozen_a[loads.varying] = _frozen_of_varying(frozen, inputs)
    around = ambients(frozen, inputs)
    warm = temperatures(frozen, inputs, frozen_a, around)
    ohm = wire_ohm(frozen, inputs)
    wire = ohm * (1.0 + wires.alpha_per_k * (warm[wires.body] - 20.0))
    whole = wire + inputs.contact_ohm
    own = net.own @ whole + net.own_chassis * inputs.chassis_ohm
    shared = net.shared @ whole + net.shared_chassis * inputs.chassis_ohm
    rated_a = loads.rated_a * inputs.draw
    supplies = [case_volts(case, inputs) for case in net.cases]
    tops: dict[int, Floats] = {}
    for case, emf in zip(net.cases, supplies, strict=True):
        tops[case.top] = np.maximum(tops.get(case.top, emf), emf)

    found = Volts(
        np.zeros((count, samples)), np.zeros((count, samples)), frozen_a.copy(),
        np.zeros((len(net.critical), samples)), np.ones((count, samples), dtype=bool), warm, ohm,
        frozen_a, around,
    )
    thin = (net.own_critical @ wire, net.shared @ wire) if len(net.critical) else None
    for case, emf in zip(net.cases, supplies, strict=True):
        rows, here = case.members, case.here
        volts, current, held = _solve_case(
            frozen, inputs, case, emf, tops[case.top], rated_a[rows], own[rows], shared
        )
        found.volts[here] = volts[case.position]
        found.supply_v[here] = emf
        found.held[here] = held
        found.current_a[here] = np.where(held, current[case.position], frozen_a[here])
        if thin is not None and len(case.critical):
            wires_v = _shared_drop(frozen, case, thin[1], current)
            at = case.critical_position
            found.conductor_v[case.critical] = (
                thin[0][case.critical] * current[at] + wires_v[at]
            )
    return found


def wire_ohm(frozen: Frozen, inputs: Inputs) -> Floats:
    """Resistance of every wire at 20 °C [ohm], shape (wires, samples)."""
    wires = frozen.wires
    found: Floats = wires.legs @ inputs.length
    found *= wires.r20_ohm_per_m
    found *= inputs.spool[wires.spool]
    return found


def case_volts(case: Case, inputs: Inputs) -> Floats:
    """Volts at the source between its low and its high end, shape (1, samples)."""
    low: Floats | float = case.emf_v
    if case.battery is not None:
        low = case.emf_v - np.maximum(case.least_sag_v, case.sag_v * inputs.sag[case.battery])
    return np.atleast_2d(low + inputs.supply * (case.high_v - low))


def _frozen_of_varying(frozen: Frozen, inputs: Inputs) -> Floats:
    """Worst current of loads with a drawn exponent: at whichever end of the volts is worse."""
    loads = frozen.loads
    rows = loads.varying
    ends = np.log(loads.frozen_ends_v[rows] / loads.rated_v[rows])
    rises = [
        exponent * ends[:, end : end + 1]
        for exponent in (inputs.falling, inputs.rising) for end in (0, 1)
    ]
    found: Floats = loads.rated_a[rows] * inputs.draw[rows] * np.exp(np.maximum.reduce(rises))
    return found


def _shared_drop(
    frozen: Frozen, case: Case, shared: Floats, current: Floats
) -> Floats:
    """Volts that each load loses in the parts it shares, over the heaviest allowed set with it."""
    uses = case.uses
    found: Floats = uses @ (shared * (uses.T @ current))
    for members, sets in frozen.loads.groups:
        mine = np.flatnonzero(np.isin(case.members, members))
        if not len(mine):
            continue
        columns = np.searchsorted(members, case.members[mine])
        part = uses[mine]
        sums = []
        for chosen in sets:
            kept = chosen[columns]
            drop = uses @ (shared * ((part * kept[:, None]).T @ current[mine]))
            drop[mine[kept == 0.0]] = -np.inf
            sums.append(drop)
        found += np.maximum.reduce(sums) - uses @ (shared * (part.T @ current[mine]))
    return found


def _solve_case(
    frozen: Frozen, inputs: Inputs, case: Case, emf: Floats, top: Floats, rated_a: Floats,
    own: Floats, shared: Floats,
) -> tuple[Floats, Floats, Bools]:
    """(volts, currents, found) of the loads of one source at the volts of ``case``."""
    loads, rows, square = frozen.loads, case.members, case.square
    rated_v = loads.rated_v[rows]
    current = _at_source(frozen, inputs, case, top, rated_a)
    least = current[case.drawn]
    # A constant-power load solves its own quadratic in the volts that the others leave it.
    power = rated_a[:square] * rated_v[:square]
    four = 4.0 * own[:square] * power
    lost = np.zeros(current.shape[1], dtype=bool)
    change = np.zeros(current.shape[1])
    grouped = bool(loads.groups)
    parts = shared * (case.uses.T @ current)
    for step in range(MOST_STEPS):
        if not square and not len(case.drawn):
            break
        lost_v = _shared_drop(frozen, case, shared, current) if grouped else case.uses @ parts
        left = emf - lost_v
        here = left[:square]
        root = here * here
        root -= four
        lost |= root.min(axis=0, initial=LEAST_V) < LEAST_V
        lost |= left.min(axis=0) <= 0.0
        np.maximum(root, LEAST_V, out=root)
        np.sqrt(root, out=root)
        volts = here + root
        np.maximum(volts, LEAST_V, out=volts)
        np.divide(2.0 * power, volts, out=current[:square])
        drawn = 0.0 if not len(case.drawn) else _step_drawn(
            frozen, inputs, case, left, own, rated_a, current, least
        )
        fresh = shared * (case.uses.T @ current)
        if not grouped:
            # Newton's step for each part by itself. The drops are convex in each other, so that
            # from below it stays below, and a slope of 1 before the end means that there is none.
            slope = shared * (case.uses[:square].T @ (current[:square] / root))
            lost |= slope.max(axis=0, initial=0.0) >= 1.0
            fresh = parts + (fresh - parts) / np.maximum(1.0 - slope, LEAST_V)
        moved = np.abs(fresh - parts).max(axis=0, initial=0.0)
        change = np.maximum(moved / emf[0], drawn)
        change[lost] = 0.0
        parts = fresh
        if (step or not len(parts)) and change.max() <= SETTLED:
            break
    volts = emf - own * current - _shared_drop(frozen, case, shared, current)
    held = ~lost & (change <= SETTLED) & (volts > 0.0).all(axis=0)
    return volts, current, held


def _at_source(frozen: Frozen, inputs: Inputs, case: Case, top: Floats, rated_a: Floats) -> Floats:
    """What the loads draw at the source's own highest volts: none draws less in the bound."""
    loads = frozen.loads
    ratio = top / loads.rated_v[case.members]
    found = np.empty_like(rated_a)
    for exponent, rows in case.by_exponent:
        if exponent == -1.0:
            found[rows] = rated_a[rows] / ratio[rows]
        elif exponent == 0.0:
            found[rows] = rated_a[rows]
        elif exponent == 1.0:
            found[rows] = rated_a[rows] * ratio[rows]
        else:
            found[rows] = rated_a[rows] * np.exp(exponent * np.log(ratio[rows]))
    if len(case.drawn):
        exponents = inputs.rising[case.drawn_rows]
        found[case.drawn] = rated_a[case.drawn] * np.exp(exponents * np.log(ratio[case.drawn]))
    return found


def _step_drawn(
    frozen: Frozen, inputs: Inputs, case: Case, left: Floats, own: Floats, rated_a: Floats,
    current: Floats, least: Floats,
) -> Floats:
    """One step of the loads with a drawn exponent, in place; returns their relative change."""
    rows = case.drawn
    volts = np.maximum(left[rows] - own[rows] * current[rows], LEAST_V)
    ratio = np.log(volts / frozen.loads.rated_v[case.members[rows]])
    fresh = np.maximum(rated_a[rows] * np.exp(inputs.falling[case.drawn_rows] * ratio), least)
    change: Floats = np.abs(fresh / current[rows] - 1.0).max(axis=0)
    current[rows] = fresh
    return change
