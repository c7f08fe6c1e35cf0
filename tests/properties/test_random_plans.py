"""What every accepted circuit of a random plan must keep, found again with independent formulas.

600 plans in the ordinary suite; ``CIRCUITPLAN_PLANS=20000 pytest tests/properties`` for more.
"""

from __future__ import annotations

import os
from collections.abc import Callable

import independent
import numpy as np
import pytest
import random_plans
import survey as surveys

PLANS = int(os.environ.get("CIRCUITPLAN_PLANS", "600"))
PARTS = 8


@pytest.fixture(scope="module", params=range(PARTS))
def survey(request: pytest.FixtureRequest) -> surveys.Survey:
    step = -(-PLANS // PARTS)
    return surveys.survey(request.param * step, min(PLANS, (request.param + 1) * step))


def columns(rows: list[surveys.Row]) -> Callable[[str], np.ndarray]:
    return lambda name: np.array([row[name] for row in rows], dtype=float)


def too_hot(rows: list[surveys.Row], found_c: np.ndarray, over_class_k: float) -> list[str]:
    return [
        f"{row['where']}: {found:.1f} °C, class {row['class']:g}, {row}"
        for row, found in zip(rows, found_c, strict=True)
        if found > row["class"] + over_class_k
    ]


def test_enough_circuits_are_accepted_for_the_other_tests_to_mean_something(
    survey: surveys.Survey,
) -> None:
    assert survey.circuits > 2 * survey.plans
    assert survey.refused < 0.5 * survey.circuits
    assert len(survey.heated) > 10 * len(survey.wires)


def test_fuses_guard_carry_and_clear_and_volts_are_kept(survey: surveys.Survey) -> None:
    """In <= Iz, In >= I/(f ka), far-end short cleared in min(5 s, (kS/I)2), drop, volts."""
    assert survey.wrong == []


def test_a_wire_at_its_current_stays_within_its_class(survey: surveys.Survey) -> None:
    """Heat balance with other air data than the package's; the bundle counts as more current.

    Tolerance 0.5 K: the two sets of air properties differ by 1 % at most.
    """
    steady = [w for w in survey.wires if not w["cycles"]]
    c = columns(steady)
    found = independent.steady_c(
        c("r20"), c("d"), c("outer"), c("rho"), c("thermal") / c("share"), c("ambient")
    )
    assert too_hot(steady, found, 0.5) == []


def test_a_short_time_wire_stays_within_its_class(survey: surveys.Survey) -> None:
    cycling = [w for w in survey.wires if w["cycles"]]
    assert cycling or survey.plans < 100
    assert all(w["peak"] <= w["class"] * (1 + 1e-9) for w in cycling)


def test_no_ampacity_is_above_what_the_air_carries_away(survey: surveys.Survey) -> None:
    """At its rated current the wire, alone in still air, keeps to its class (0.5 K as above)."""
    c = columns(survey.wires)
    found = independent.steady_c(
        c("r20"), c("d"), c("outer"), c("rho"), c("iz") / c("share"), c("ambient")
    )
    assert too_hot(survey.wires, found, 0.5) == []


def test_until_its_fuse_has_cleared_a_wire_stays_within_class_and_50_k(
    survey: surveys.Survey,
) -> None:
    """From twice the rating to the far-end prospective current, integrated in 200 small steps.

    Heat path: that of the installed ampacity. Start: the temperature at 0.8 of the rating.
    Tolerance 0.5 K for the start's air data and the steps.
    """
    c = columns(survey.heated)
    start = independent.steady_c(
        c("r20"), c("d"), c("outer"), c("rho"), 0.8 * c("rating") / c("share"), c("ambient")
    )
    hot_loss = c("iz") ** 2 * independent.ohm_per_m(c("r20"), c("class"))
    found = independent.after(
        start, c("current"), c("seconds"), c("r20"), hot_loss / (c("class") - c("ambient")),
        independent.capacity_j_per_k_m(c("area"), c("d"), c("outer")), c("ambient"),
    )
    assert too_hot(survey.heated, found, 50.5) == []


def test_the_generator_reaches_every_model_return_gauge_and_voltage() -> None:
    plans = [random_plans.plan(seed) for seed in range(200)]
    every = [a for p in plans for a in p.accessories]
    assert {a.load for a in every} == set(random_plans.LOADS)
    assert {a.back for a in every} == {"wire", "chassis"}
    assert {p.gauge for p in plans} == {"metric", "awg", "sae"}
    assert {p.nominal_v for p in plans} == {12.0, 24.0}
    assert any(a.switches for a in every)
    assert any(a.never_with for a in every)
    assert min(a.length_m for a in every if a.length_m) < 0.5
    assert max(a.length_m for a in every if a.length_m) > 10.0
