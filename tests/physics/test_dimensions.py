"""Quantities with units sent through the formulas: dimensions that do not fit raise an error.

Formulas with a fixed change of unit inside (mm2, mil, inch) are checked by their published cases.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pint
import pytest

from circuitplan.physics import (
    alternator,
    battery,
    loads,
    network,
    relays,
    resistance,
    sources,
    transient,
    winch,
)

UREG: Any = pint.UnitRegistry(cache_folder=None)
V, A, OHM, M, S, H = (UREG.Unit(u) for u in ("V", "A", "ohm", "m", "s", "hour"))

FORMULAS: list[tuple[Callable[..., Any], tuple[Any, ...], str]] = [
    (resistance.at_temperature, (7.6e-3 * OHM / M, 60.0, 0.00393), "ohm/m"),
    (resistance.drop_v, (7.6e-3 * OHM / M, 5 * M, 10 * A), "V"),
    (resistance.longest_run_m, (0.5 * V, 7.6e-3 * OHM / M, 10 * A), "m"),
    (loads.rated_ohm, (12 * V, 2 * A), "ohm"),
    (loads.capacitor_peak_a, (12 * V, 0.01 * OHM), "A"),
    (loads.capacitor_i2t, (12 * V, UREG.Quantity(0.01, "F"), 0.01 * OHM), "A**2*s"),
    (loads.stall_a, (12 * V, 0.05 * OHM, 0.01 * OHM), "A"),
    (loads.back_emf_v, (12 * V, 10 * A, 0.1 * OHM), "V"),
    (loads.running_motor_a, (12 * V, 10 * V, 0.1 * OHM), "A"),
    (loads.decaying_inrush_a, (10 * A, 6.0, 0.1 * S, 0.05 * S), "A"),
    (loads.rms_share, (10 * A, 0.25), "A"),
    (sources.terminal_v, (12.6 * V, 0.005 * OHM, 200 * A), "V"),
    (sources.inner_ohm, (12.6 * V, 11.6 * V, 200 * A), "ohm"),
    (sources.delivered_a, (12.6 * V, 11.6 * V, 0.005 * OHM), "A"),
    (sources.largest_power_w, (12 * V, 0.1 * OHM), "W"),
    (network.largest_constant_power_w, (12 * V, 0.1 * OHM), "W"),
    (battery.cranking_v, (12.6 * V, 0.006 * OHM, 300 * A), "V"),
    (
        battery.warming_k_per_s,
        (50 * A, 0.01 * OHM, UREG.Quantity(20, "kg"), UREG.Quantity(1255, "J/kg/K")),
        "K/s",
    ),
    (winch.current_a, (UREG.Quantity(20, "kN"), 70 * A, 460 * A, UREG.Quantity(42, "kN")), "A"),
    (relays.hot_pick_up_v, (7.2 * V, 115.0), "V"),
    (relays.coil_current, (12 * V, 80 * OHM, 60.0), "A"),
    (relays.usable_a, (20 * A, 5.0), "A"),
    (
        transient.adiabatic_time_s,
        (UREG.Quantity(115, "A*s**0.5/mm**2"), UREG.Quantity(2.5, "mm**2"), 1000 * A),
        "s",
    ),
    (alternator.output_a, (60 * A, 1500.0, 150 * A, 6000.0, 1800.0), "A"),
]


NAMES = [f"{formula.__module__}.{formula.__name__}" for formula, *_ in FORMULAS]


def in_base_units(value: Any) -> Any:
    return value.to_base_units().magnitude if isinstance(value, pint.Quantity) else value


@pytest.mark.parametrize(("formula", "inputs", "unit"), FORMULAS, ids=NAMES)
def test_dimensions_fit(formula: Callable[..., Any], inputs: tuple[Any, ...], unit: str) -> None:
    """The result has the stated dimension, and no hidden change of unit: SI in gives SI out."""
    measured = formula(*inputs)
    assert measured.check(unit)
    plain = formula(*[in_base_units(value) for value in inputs])
    assert in_base_units(measured) == pytest.approx(plain)


def test_a_wrong_dimension_is_noticed() -> None:
    with pytest.raises(pint.DimensionalityError):
        sources.terminal_v(12.6 * V, 0.005 * OHM, 200 * V)
