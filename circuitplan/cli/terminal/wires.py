"""The answer of ``wire``."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.cli.measured_wire import MeasuredWire
from circuitplan.cli.terminal.problems import answer_lines
from circuitplan.cli.terminal.text import down, page_width, wrap


def wire_lines(found: MeasuredWire) -> Iterator[str]:
    """Thinnest size, what it may carry, largest fuse, and what was assumed."""
    width = page_width()
    if found.max_fuse_a is None:
        because = f"count it as {found.size}; no fuse in the tables is small enough for it."
    else:
        because = (
            f"count it as {found.size}; it may carry {down(found.ampacity_a)} A; "
            f"fuse it with {found.max_fuse_a:g} A type {found.max_fuse_type} at most."
        )
    yield from answer_lines(found.answer, because)
    yield ""
    if found.measured_mm2 is not None:
        yield f"Copper measured: {down(found.measured_mm2, 2)} mm²"
    yield from wrap(f"Ampacity by: {found.ampacity_source}", width, first="", rest="  ")
    for assumption in found.assumptions:
        yield from wrap(assumption, width, first="Assumed: ", rest="  ")
    yield from wrap(
        "An outside diameter cannot tell how thick the wall is: this is the thinnest the wire can "
        "be. Strip an end and count strands to know more. Old or hot-running wire: replace it.",
        width,
    )
