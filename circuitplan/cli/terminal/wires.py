"""The answer of ``wire``."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.cli.measured_wire import MeasuredWire
from circuitplan.cli.terminal.problems import answer_lines
from circuitplan.cli.terminal.text import down, page_width, up, wrap


def wire_lines(found: MeasuredWire) -> Iterator[str]:
    """Thinnest size, what a load behind its largest fuse may draw, and what was assumed."""
    width = page_width()
    if found.max_fuse_a is None or found.continuous_a is None:
        because = f"count it as {found.size}; no fuse in the tables is small enough for it."
    else:
        because = (
            f"count it as {found.size}; what stays on may draw {down(found.continuous_a)} A "
            f"({down(found.continuous_w or 0.0, 0)} W at 12 V), behind {found.max_fuse_a:g} A type "
            f"{found.max_fuse_type}, its largest fuse."
        )
    yield from answer_lines(found.answer, because)
    yield ""
    if found.drop_v_per_m is not None and found.continuous_a is not None:
        yield from wrap(
            f"{up(found.drop_v_per_m, 3)} V a metre of loop (feed and return both counted) at "
            f"{down(found.continuous_a)} A; contacts come on top",
            width, first="Drop: ", rest="  ",
        )  # fmt: skip
    yield from wrap(
        f"{down(found.ampacity_a)} A at {found.ambient_c:g} °C, by {found.ampacity_source}",
        width, first="The wire itself may carry: ", rest="  ",
    )  # fmt: skip
    if found.measured_mm2 is not None:
        yield f"Copper measured: {down(found.measured_mm2, 2)} mm²"
    for assumption in found.assumptions:
        yield from wrap(assumption, width, first="Assumed: ", rest="  ")
    yield from wrap(
        "An outside diameter cannot tell how thick the wall is: this is the thinnest the wire can "
        "be. Strip an end and count strands to know more. Old or hot-running wire: replace it.",
        width,
    )
