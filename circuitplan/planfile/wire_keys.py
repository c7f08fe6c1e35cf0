"""The keys of a wire and of a fuse, which several sections share."""

from __future__ import annotations

from circuitplan.planfile import trade, values
from circuitplan.planfile.key_forms import Field

WIRE_KEYS = (
    Field("size", "wire.size", trade.wire_size(),
          "wire size; 'unknown' for a wire that is there and not yet measured", "2.5 mm2"),
    Field("colour", "wire.colour", trade.colour(), "wire colour, IEC 60757", "RD/BK", ("color",)),
    Field("insulation", "wire.insulation", trade.insulation(),
          "temperature class of the wire, with its material if known", "105 °C PVC"),
    Field("material", "wire.material", trade.material(), "what the conductor is", "tinned copper"),
    Field("outside", "wire.outer_mm", values.quantity("diameter"),
          "measured diameter over the insulation", "3.4 mm"),
    Field("parallel", "wire.parallel", values.whole(1, 6),
          "wires side by side with the same ends", "2"),
)  # fmt: skip
FUSE_KEYS = (
    Field(
        "fuse",
        "fuse",
        trade.fuse(),
        "fuse rating, and its type if known; or none; a maker's curve "
        "as {rating: 40 A, type: E, curve: maker.csv, breaking: 2000 A}",
        "40 A E",
    ),
    Field(
        "breaker",
        "breaker",
        trade.breaker(),
        "a breaker in place of a fuse; nothing is credited to "
        "it without {rating: 125 A, curve: maker.csv}",
        "125 A",
    ),
)
