"""Repeated scrambled Sobol points, the same for the same plan whatever the order of its entries."""

from __future__ import annotations

import dataclasses
import hashlib
import json
from typing import Any

import numpy as np
from numpy.typing import NDArray

from circuitplan.model.plan import Plan

Floats = NDArray[np.float64]

POINTS_LOG2 = 13
SCRAMBLINGS = 16
SAMPLES = SCRAMBLINGS * 2**POINTS_LOG2  # 131,072
_NOT_OF_THE_PLAN = ("where", "file", "sha256", "drawn_in", "price_list")


def seed_of(plan: Plan) -> str:
    """SHA-256 of all that the plan says, its entries sorted; where it stands does not count."""
    return hashlib.sha256(_sorted(plan).encode()).hexdigest()


def _sorted(value: Any) -> str:
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        fields = [f.name for f in dataclasses.fields(value) if f.name not in _NOT_OF_THE_PLAN]
        return json.dumps({name: _sorted(getattr(value, name)) for name in sorted(fields)})
    if isinstance(value, dict):
        return json.dumps({str(k): _sorted(v) for k, v in value.items()}, sort_keys=True)
    if isinstance(value, (tuple, list, set, frozenset)):
        return json.dumps(sorted(_sorted(entry) for entry in value))
    return json.dumps(value)


def scrambling(seed: str, variables: int, repeat: int, log2: int = POINTS_LOG2) -> Floats:
    """The ``repeat``-th scrambling of 2^log2 Sobol points, shape (points, variables).

    Matoušek's linear scrambling with a digital shift; scramblings are independent of each other.
    Every share lies strictly between 0 and 1. Source: Owen, Monte Carlo theory, ch. 17; Matoušek,
    J. Complexity 14 (1998) 527 (from memory).
    """
    from scipy.stats import qmc  # type: ignore[import-untyped]

    words = [int(seed[i : i + 8], 16) for i in range(0, 64, 8)]
    source = np.random.default_rng([*words, repeat])
    points: Floats = qmc.Sobol(variables, scramble=True, bits=32, seed=source).random_base2(log2)
    points += 2.0**-33  # they are multiples of 2^-32 from 0 on
    return points


def normal_scores(shares: Floats) -> Floats:
    """Standard normal scores of shares strictly between 0 and 1."""
    from scipy.special import ndtri  # type: ignore[import-untyped]

    found: Floats = ndtri(shares)
    return found
