"""One connector of a result: its cavities, what is in each, and what its contacts bear."""

from __future__ import annotations

from typing import Literal

from circuitplan.model.record import record

CavityRole = Literal["feed", "return", "empty"]


@record
class Cavity:
    """One cavity by its moulded number; ``use``: what the standard has it for."""

    number: str
    use: str | None
    role: CavityRole
    run: str | None  # wire that ends in it
    area_mm2: float | None
    size: str | None
    colour: str | None


@record
class Connector:
    """``rows`` are seen from the wire side; none: where the poles stand is not known here.

    ``usable_a``: what one contact may carry for good where it sits. None: nobody has said what it
    is rated for, and it is not counted; 0 without a rating: nothing may hang on it.
    """

    id: str  # X1, X2 ...
    of: str  # the accessory or panel whose wires end in it
    what: str  # "4-way", or the standard's name
    standard: bool
    pieces: int  # alike, one at each piece of the accessory
    ways: int
    rows: tuple[tuple[str, ...], ...]
    rows_given: bool  # the plan gives the numbers as they stand
    cavities: tuple[Cavity, ...]
    contact: str | None  # blade width; None: not known, or the standard's own
    contact_ohm: float  # each, as designed with
    ambient_c: float
    class_c: float
    rating_a: float | None
    rated_at_c: float | None
    usable_a: float | None
    current_a: float  # what heats each contact: rms for short-time loads
    least_mm2: float | None
    most_mm2: float | None
    takes_source: str | None
    sealed: bool | None
    source: str  # of the standard, with its status; empty for one of the plan alone

    @property
    def name(self) -> str:
        """What it is called on paper, without its id."""
        return self.what if self.standard else f"{self.what} connector"

    def at(self, run: str) -> str | None:
        """``X3:1`` of the wire with that number, or None if it does not end here."""
        return next((f"{self.id}:{c.number}" for c in self.cavities if c.run == run), None)
