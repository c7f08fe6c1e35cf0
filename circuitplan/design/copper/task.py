"""What is to be chosen, in whole numbers: costs (see ``costs``), microvolts and microohms.

Costs are rounded to the nearest, what uses up a limit is rounded up and limits down, so that a
choice within the limits here is within them in truth.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

MICRO = 1e6


@dataclass(frozen=True, slots=True)
class Wire:
    """One wire, out and back, of one size. Sizes ascend; ``least`` is the first that its own heat,
    strength and fuse allow; ``cost`` is of each size, and a thicker one may cost less. Sizes
    ``barred`` are not to be had."""

    name: str
    sizes: tuple[str, ...]
    cost: tuple[int, ...]
    least: int = 0
    barred: frozenset[int] = frozenset()

    @property
    def allowed(self) -> tuple[int, ...]:
        return tuple(i for i in range(self.least, len(self.sizes)) if i not in self.barred)

    @property
    def floor(self) -> int:
        """The least that any size costs that may be chosen."""
        return min(self.cost[i] for i in self.allowed)


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
    """Index of the size of each wire. ``bound``: no choice costs less."""

    sizes: tuple[int, ...]
    cost: int
    bound: int
    proven: bool
