"""Units at the edge: text to plain floats (``current_a``, ``length_m``), and back to text.

Nothing above this room handles units: names carry them.
"""

from circuitplan.units.quantities import (
    DIMENSIONS,
    Dimension,
    UnitError,
    knows,
    parse,
    parse_length,
    registry,
    tidy,
)
from circuitplan.units.showing import (
    Toward,
    round_down,
    round_up,
    show,
    show_days,
    show_drain,
    show_hours,
    show_time,
)
from circuitplan.units.wording import (
    DutyWords,
    FuseWords,
    WireWords,
    parse_duty,
    parse_fuse,
    parse_wire,
)

__all__ = [
    "DIMENSIONS",
    "Dimension",
    "DutyWords",
    "FuseWords",
    "Toward",
    "UnitError",
    "WireWords",
    "knows",
    "parse",
    "parse_duty",
    "parse_fuse",
    "parse_length",
    "parse_wire",
    "registry",
    "round_down",
    "round_up",
    "show",
    "show_days",
    "show_drain",
    "show_hours",
    "show_time",
    "tidy",
]
