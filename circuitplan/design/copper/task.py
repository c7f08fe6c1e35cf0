"""What is to be chosen, in whole numbers: tenths of a gram, microvolts and microohms.

Costs are rounded to the nearest, what uses up a limit is rounded up and limits down, so that a
choice within the limits here is within them in truth.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

MICRO = 1e6
TENTHS_OF_A_GRAM_PER_KG = 1e4


@dataclass(frozen=True, slots=True)
class Wire:
    """One wire, out and back, of one size. Sizes ascend; ``least`` is the first that its own heat,
    strength and fuse allow; ``cost`` is of each size."""

    name: str
    sizes: tuple[str, ...]
    cost: tuple[int, ...]
    least: int = 0


@dataclass(frozen=True, slots=True)
class Limit:
    """Sum over wires of what their sizes use up, at most so much."""

    name: str
    uses: Mapping[int, tuple[int, ...]]  # wire -> of each size
    most: int


@dataclass(frozen=True, slots=True)
class Task:
    """Wires and limits; ``limits`` never get tighter when a wire gets thicker."""

    wires: tuple[Wire, ...]
    limits: tuple[Limit, ...]


@dataclass(frozen=True, slots=True)
class Chosen:
    """Index of the size of each wire. ``bound``: no choice costs less [tenths of a gram]."""

    sizes: tuple[int, ...]
    cost: int
    bound: int
    proven: bool
