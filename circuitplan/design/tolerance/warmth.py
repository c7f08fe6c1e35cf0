"""How warm the wires are in a block of samples: steady, and at the hottest moment of a cycle."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from circuitplan.design.tolerance.frozen import Bodies, Frozen
from circuitplan.design.tolerance.inputs import Inputs, outside_c
from circuitplan.physics import transient

Floats = NDArray[np.float64]


def ambients(frozen: Frozen, inputs: Inputs) -> Floats:
    """Temperature around each body [°C]: never below the air outside, unless it is planned so."""
    bodies = frozen.bodies
    floor = np.minimum(bodies.planned_c, outside_c(frozen))
    return np.maximum(bodies.planned_c + inputs.place_k[bodies.place], floor)


def heating_a(frozen: Frozen, current_a: Floats) -> Floats:
    """Current that heats each body: the heaviest allowed sum of its loads."""
    bodies = frozen.bodies
    found = bodies.carried @ current_a
    for members, sets in frozen.loads.groups:
        part, mine = bodies.carries[:, members], current_a[members]
        found += np.maximum.reduce([(part * chosen) @ mine for chosen in sets]) - part @ mine
    found += bodies.constant_a
    return found


def temperatures(
    frozen: Frozen, inputs: Inputs, current_a: Floats, around_c: Floats,
    rows: NDArray[np.intp] | None = None,
) -> Floats:
    """Steady temperature of every body, or of some [°C]."""
    bodies = frozen.bodies
    heating, spool = heating_a(frozen, current_a), inputs.spool[bodies.spool]
    if rows is None:
        return bodies.law.temperature(heating, spool, around_c)
    return bodies.law.of(rows).temperature(heating[rows], spool[rows], around_c[rows])


def cycle_peaks(
    frozen: Frozen, inputs: Inputs, current_a: Floats, around: Floats
) -> Floats:
    """Hottest moment of the bodies on a duty cycle [°C], one row each; inf in runaway."""
    found = np.empty((len(frozen.bodies.cycled), current_a.shape[1]))
    for row, (body, load, pieces, on_s, off_s) in enumerate(frozen.bodies.cycled):
        r20 = inputs.spool[frozen.bodies.spool[body]]
        found[row] = _peak(frozen.bodies, body, current_a[load] / pieces, r20, around[body],
                           on_s, off_s)
    return found


def _peak(
    bodies: Bodies, body: int, current_a: Floats, r20_factor: Floats, around_c: Floats,
    on_s: float, off_s: float,
) -> Floats:
    """Fixed point of one cycle of on and off; see ``physics.transient.periodic_peak``.

    The heat path is that of the design: it does not change with the sample.
    """
    wire, around = bodies.wires[body]
    if wire.ampacity(around) <= 0.0:
        return np.full_like(current_a, np.inf)
    one: transient.Body = wire.body(around)
    conductance = 1.0 / one.thermal_k_m_per_w
    loss20 = current_a * current_a * (one.r20_ohm_per_m * r20_factor)
    heat = one.heat_capacity_j_per_m_k
    a_on = (loss20 * (1.0 - 20.0 * one.alpha_per_k) + conductance * around_c) / heat
    b_on = (conductance - loss20 * one.alpha_per_k) / heat
    b_off = conductance / heat
    runaway = b_on * on_s + b_off * off_s <= 0.0
    b_safe = np.where(np.abs(b_on * on_s) < 1e-12, 1e-12 / on_s, np.where(runaway, b_off, b_on))
    keep_on, keep_off = np.exp(-b_safe * on_s), np.exp(-b_off * off_s)
    gain_on = a_on * -np.expm1(-b_safe * on_s) / b_safe
    gain_off = around_c * (1.0 - keep_off)
    found = (gain_on + keep_on * gain_off) / (1.0 - keep_on * keep_off)
    return np.where(runaway, np.inf, found)
