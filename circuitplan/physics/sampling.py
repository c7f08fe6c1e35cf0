"""Distributions as quantile functions, and what repeated scrambled point sets say of a chance.

Quantile functions take shares ``u`` between 0 and 1, or standard normal scores ``z``, as arrays of
any shape, and give values of the same shape.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Counts = NDArray[np.int64]

Z_95 = 1.6448536269514722
"""95 % point of the standard normal distribution (ISO 3534-1; computed)."""
_STUDENT_975 = {
    # Two-sided 95 % points of Student's t by degrees of freedom (ISO 2854, table; from memory).
    1: 12.706, 3: 3.182, 7: 2.365, 15: 2.131, 31: 2.040, 63: 1.998,
}  # fmt: skip


Bounds = float | Floats
"""One number for all, or a column with one for each row."""


def uniform(u: Floats, low: Bounds, high: Bounds) -> Floats:
    """Quantile of the uniform distribution, low + u (high - low)."""
    found: Floats = u * (high - low)
    found += low
    return found


def triangular(u: Floats, low: Bounds, middle: Bounds, high: Bounds) -> Floats:
    """Quantile of the triangular distribution; ValueError unless low <= middle <= high.

    low + sqrt(u (h - l)(m - l)) up to the middle, h - sqrt((1 - u)(h - l)(h - m)) above it.
    Source: Johnson, Kotz, Balakrishnan, Continuous Univariate Distributions 2, ch. 26 (memory).
    """
    if np.any(np.asarray(low) > middle) or np.any(np.asarray(middle) > high):
        raise ValueError(f"{low}, {middle}, {high} do not ascend")
    width, rise = high - low, middle - low
    below = np.sqrt(u * (width * rise))
    below += low
    above = np.sqrt((1.0 - u) * (width * (high - middle)))
    np.subtract(high, above, out=above)
    found: Floats = np.where(u * width < rise, below, above)
    return found


@dataclass(frozen=True, slots=True)
class LogNormal:
    """shift + median exp(sigma z), z standard normal. ``sigma`` 0 is a constant."""

    median: float
    sigma: float
    shift: float = 0.0

    def at(self, z: Floats) -> Floats:
        """Values at normal scores."""
        found: Floats = self.shift + self.median * np.exp(self.sigma * z)
        return found

    @property
    def mean(self) -> float:
        """shift + median exp(sigma²/2)."""
        return self.shift + self.median * math.exp(0.5 * self.sigma**2)

    @property
    def variance(self) -> float:
        """median² w (w - 1), w = exp(sigma²)."""
        w = math.exp(self.sigma**2)
        return self.median**2 * w * (w - 1.0)

    @property
    def third(self) -> float:
        """Third central moment, median³ w^1.5 (w - 1)² (w + 2)."""
        w = math.exp(self.sigma**2)
        return float(self.median**3 * w**1.5 * (w - 1.0) ** 2 * (w + 2.0))


def lognormal_of(median: float, high: float) -> LogNormal:
    """The one with this median whose 95 % point is ``high``; constant where that is no higher.

    ValueError unless the median is positive.
    """
    if median <= 0.0:
        raise ValueError(f"median {median} is not positive")
    return LogNormal(median, max(0.0, math.log(high / median) / Z_95) if high > median else 0.0)


def sum_of(parts: list[tuple[int, LogNormal]], constant: float = 0.0) -> LogNormal:
    """Sum of (count, distribution) independent lognormals and a constant, as one shifted lognormal.

    It has the mean, the variance and the skewness of the sum (moments of independent terms add).
    Fenton's form without the shift falls short in the far tail, which is where limits fail.
    Source: Fenton, IRE Trans. Commun. Syst. 8 (1960) 57; the shift: Johnson, Biometrika 36 (1949)
    149 (both from memory).
    """
    mean = constant + sum(count * part.mean for count, part in parts)
    variance = sum(count * part.variance for count, part in parts)
    if variance <= 0.0:
        return LogNormal(0.0, 0.0, mean)
    skewness = sum(count * part.third for count, part in parts) / variance**1.5
    # (w + 2)² (w - 1) = skewness²
    half = 1.0 + 0.5 * skewness**2
    root = skewness * math.sqrt(1.0 + 0.25 * skewness**2)
    w = math.cbrt(half + root) + math.cbrt(half - root) - 1.0
    median = math.sqrt(variance / (w * (w - 1.0)))
    return LogNormal(median, math.sqrt(math.log(w)), mean - median * math.sqrt(w))


def correlated(shared: Floats, own: Floats, correlation: float) -> Floats:
    """Normal scores with a given correlation through a shared one: sqrt(r) zs + sqrt(1 - r) zo."""
    found: Floats = math.sqrt(correlation) * shared + math.sqrt(1.0 - correlation) * own
    return found


def chance_between(hits: Counts, points: int) -> tuple[float, float, float]:
    """(chance, low, high): mean and 95 % interval of hits of repeated scramblings of ``points``.

    The repetitions are independent and each is unbiased, so Student's t over their spread holds
    (Owen, Monte Carlo theory, ch. 17; memory). Where all or none hit, or all repetitions agree, the
    spread says nothing: no interval is narrower than 3 in all points (Hanley & Lippman-Hand, JAMA
    249 (1983) 1743; memory). Repetitions: 2, 4, 8, 16, 32 or 64.
    """
    repeats = len(hits)
    total = repeats * points
    share = float(hits.sum()) / total
    least = 3.0 / total
    if share in (0.0, 1.0):
        return share, max(0.0, share - least), min(1.0, share + least)
    spread = float(np.std(hits / points, ddof=1)) / math.sqrt(repeats)
    half = max(_STUDENT_975[repeats - 1] * spread, least)
    return share, max(0.0, share - half), min(1.0, share + half)


def first_order_shares(counts: Floats, per_bin: float, chance: float) -> Floats:
    """Share of the variance of an event that each variable explains alone, by binning.

    ``counts`` (variables, bins): events in each of the equal bins of a variable, of ``per_bin``
    points; ``chance`` of the event. Var(E[event | bin]) / (p (1 - p)), less what the scatter of
    the bins adds. Source: Saltelli et al., Global Sensitivity Analysis (2008), 4.4 (memory).
    """
    whole = chance * (1.0 - chance)
    if whole <= 0.0:
        return np.zeros(len(counts))
    within = counts / per_bin
    between = within.var(axis=1)
    scatter = (within * (1.0 - within)).mean(axis=1) / per_bin
    found: Floats = np.clip((between - scatter) / whole, 0.0, 1.0)
    return found
