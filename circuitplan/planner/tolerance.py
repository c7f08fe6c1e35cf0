"""The tolerance study: how likely each limit of a sized plan holds on real vehicles.

The design takes every value at its safe end. Here lengths, wire, joints, body, heat, draws, supply
and fuses vary as real ones do (``tolerance_distributions``), the sizes stay as they were chosen,
and every sample is solved whole. The answer of the plan is not changed by it.
"""

from __future__ import annotations

from collections.abc import Collection

import numpy as np
from numpy.typing import NDArray

from circuitplan.design import compose, numbering
from circuitplan.design.assume import Ledger
from circuitplan.design.tolerance.inputs import Drawing
from circuitplan.design.tolerance.limits import SLACK, Limit, Margins, margins_of
from circuitplan.design.tolerance.points import (
    POINTS_LOG2,
    SCRAMBLINGS,
    normal_scores,
    scrambling,
    seed_of,
)
from circuitplan.design.tolerance.variables import NORMAL, Variable, rows
from circuitplan.model.plan import Plan
from circuitplan.model.record import record
from circuitplan.physics.sampling import chance_between, first_order_shares

Floats = NDArray[np.float64]

FORMAT = "circuitplan tolerance 1"
BLOCK = 1024
"""Samples solved at once: what they need stays in the processor's cache (measured)."""
BINS = 32
MOST_TRIED = 16
"""Variables whose share is reckoned for one limit: those that move it most when moved alone."""
LEAST_SHARE = 0.02
"""Below this share no single variable is named (judgement)."""


@record
class Driver:
    """A variable and the share of the scatter of a limit's outcome that it explains alone."""

    name: str
    share: float


@record
class Chance:
    """How likely one limit of one circuit or feeder holds, with its 95 % interval."""

    circuit: str
    label: str
    limit: str
    chance: float
    low: float
    high: float
    at_design: bool  # whether it holds with the values that the design takes, both supply ends
    driver: Driver | None
    measure: str | None  # the one measurement worth taking


@record
class Spread:
    """A distribution that the study used."""

    quantity: str
    shape: str
    relative_to: str
    status: str
    source: str


@record
class Tolerance:
    """The study of one plan."""

    samples: int
    scramblings: int
    variables: int
    seed: str
    chances: tuple[Chance, ...]
    not_known: tuple[str, ...]  # devices without a known curve: whether they clear is not studied
    distributions: tuple[Spread, ...]
    format: str = FORMAT


def tolerance_of(plan: Plan) -> Tolerance:
    """Study a plan, sized as ``study`` sizes it."""
    return study_margins(sized(plan), seed_of(plan))


def sized(plan: Plan) -> Margins:
    """The plan's limits, its sizes chosen with every assumed value at its safe end."""
    state, sizer = compose.sized(plan, Ledger())
    return margins_of(state, sizer, sizer.ways, numbering.give(state))


def study_margins(
    margins: Margins, seed: str, *, vary: Collection[Variable] | None = None,
    log2: int = POINTS_LOG2, repeats: int = SCRAMBLINGS,
) -> Tolerance:
    """Sample every limit. ``vary`` leaves all other variables in the middle of their range."""
    drawing = margins.drawing
    order = _order(drawing)
    kept = np.array([vary is None or v in vary for v in order])
    points = 2**log2
    bins = np.empty((len(order), repeats * points), dtype=np.uint8)
    holds = np.empty((len(margins.limits), repeats * points), dtype=bool)
    for repeat in range(repeats):
        shares = scrambling(seed, len(order), repeat, log2)
        for first in range(0, points, BLOCK):
            block = np.ascontiguousarray(shares[first : first + BLOCK].T)
            block[~kept] = 0.5
            start = repeat * points + first
            here = slice(start, start + block.shape[1])
            np.multiply(block, BINS, out=bins[:, here], casting="unsafe")
            holds[:, here] = margins_at(margins, block) >= SLACK
    at_design = np.all(
        [margins.of(drawing.design_point(end))[:, 0] >= SLACK for end in (0.0, 1.0)], axis=0
    )
    moved = _moved(margins, order)
    moved[:, ~kept] = 0.0
    chances = tuple(
        _chance(limit, holds[row].reshape(repeats, points), bool(at_design[row]), bins,
                moved[row], order)
        for row, limit in enumerate(margins.limits)
    )
    used = tuple(
        Spread(r.quantity, r.shape, r.relative_to, r.status, r.source)
        for r in rows().values() if r.quantity not in _UNUSED
    )
    return Tolerance(
        repeats * points, repeats, len(order), seed, chances, margins.unknown, used
    )


_UNUSED = ("draw measured", "alternator output")
"""The plan does not say what was measured; the alternator's margin is not one of the limits."""


def margins_at(margins: Margins, shares: Floats) -> Floats:
    """Margins (limits, samples) at shares (variables, samples), rows in the study's order."""
    drawing = margins.drawing
    split = sum(1 for v in drawing.variables if v.family not in NORMAL)
    return margins.of(drawing.inputs(shares[:split], normal_scores(shares[split:])))


def _order(drawing: Drawing) -> list[Variable]:
    """Variables drawn as shares, then those drawn as normal scores."""
    return sorted(drawing.variables, key=lambda v: v.family in NORMAL)


def _moved(margins: Margins, order: list[Variable]) -> Floats:
    """How far each limit's margin moves when one variable alone goes from end to end."""
    count = len(order)
    shares = np.full((count, 2 * count), 0.5)
    shares[np.arange(count), np.arange(count)] = 0.02
    shares[np.arange(count), count + np.arange(count)] = 0.98
    found = np.nan_to_num(margins_at(margins, shares), posinf=1e3, neginf=-1e3)
    moved: Floats = np.abs(found[:, count:] - found[:, :count])
    return moved


def _chance(
    limit: Limit, holds: NDArray[np.bool_], at_design: bool, bins: NDArray[np.uint8],
    moved: Floats, order: list[Variable],
) -> Chance:
    chance, low, high = chance_between(holds.sum(axis=1), holds.shape[1])
    driver = measure = None
    if 0.0 < chance < 1.0:
        driver, measure = _driver(holds.reshape(-1), chance, bins, moved, order)
    return Chance(
        limit.circuit, limit.label, limit.name, chance, low, high, at_design, driver, measure
    )


def _driver(
    holds: NDArray[np.bool_], chance: float, bins: NDArray[np.uint8], moved: Floats,
    order: list[Variable],
) -> tuple[Driver | None, str | None]:
    """(what explains most of the outcome, the measurement that would tell most of it)."""
    tried = np.argsort(-moved, kind="stable")[:MOST_TRIED]
    tried = tried[moved[tried] > 0.0]
    if not len(tried):
        return None, None
    events = np.flatnonzero(holds if chance < 0.5 else ~holds)
    counts = np.array([np.bincount(bins[row, events], minlength=BINS) for row in tried])
    shares = first_order_shares(
        counts.astype(np.float64), len(holds) / BINS, min(chance, 1.0 - chance)
    )
    ranked = sorted(zip(shares.tolist(), tried.tolist(), strict=True), key=lambda s: (-s[0], s[1]))
    best = ranked[0]
    if best[0] < LEAST_SHARE:
        return None, None
    measurable = next(
        (order[row] for share, row in ranked if share >= LEAST_SHARE and order[row].measurement),
        None,
    )
    return (
        Driver(order[best[1]].name, best[0]),
        None if measurable is None else measurable.measurement,
    )
