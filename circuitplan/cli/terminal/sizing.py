"""The answer of ``size``."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from circuitplan.cli.terminal.findings import finding_lines
from circuitplan.cli.terminal.overview import assumption_lines, caution_lines
from circuitplan.cli.terminal.problems import answer_lines
from circuitplan.cli.terminal.text import down, ink, page_width, up, wrap

if TYPE_CHECKING:
    from circuitplan.planner import SizeAnswer


def size_lines(found: SizeAnswer) -> Iterator[str]:
    """Wire, fuse, drop, what ruled, findings, assumptions."""
    width = page_width()
    run, drop, fuse = found.run, found.drop, found.fuse
    device = "no fuse fits"
    if fuse is not None:
        colour = f" ({fuse.colour})" if fuse.colour else ""
        device = f"fuse {fuse.rating_a:g} A type {fuse.type}{colour}"
    if found.answer == "ok":
        yield from answer_lines("OK", f"{run.size}, {device}; {found.because}.")
    else:
        yield from answer_lines(found.answer, found.because)
    yield ""
    wires = "feed and return" if run.loop_m > run.length_m else "feed alone"
    given = ", given" if run.given else f"; ruled by {run.limited_by}"
    yield from wrap(
        f"{run.size} ({run.area_mm2:.4g} mm²), {run.length_m:.4g} m one way, {run.loop_m:.4g} m "
        f"{wires}{given}",
        width, first="Wire: ", rest="  ",
    )  # fmt: skip
    if run.next_smaller:
        yield from wrap(run.next_smaller, width, first="  One size down: ", rest="    ")
    yield from wrap(
        f"{up(run.current_a, 2)} A flow, {down(run.ampacity_a, 1)} A may, at {run.ambient_c:g} °C "
        f"beside {run.bundle_wires - 1} other loaded wires, insulation {run.insulation_c:g} °C "
        f"({run.ampacity_source})",
        width, first="Heat: ", rest="  ",
    )  # fmt: skip
    yield from wrap(
        f"{up(drop.total_v, 3)} V ({up(drop.percent, 2)} %) of {down(drop.limit_v, 3)} V allowed, "
        f"copper at {up(run.conductor_c, 0)} °C; conductors only, contacts come on top",
        width, first="Drop: ", rest="  ",
    )  # fmt: skip
    if fuse is not None:
        yield from wrap(
            f"{fuse.rating_a:g} A type {fuse.type}; at least {up(fuse.min_a)} A for the load, at "
            f"most {down(fuse.max_a)} A for the wire. At the source end.",
            width, first="Fuse: ", rest="  ",
        )  # fmt: skip
    if found.findings:
        yield ""
        yield ink(f"FINDINGS ({len(found.findings)})", "head")
        yield from finding_lines(found.findings, None)
    yield from assumption_lines(found.assumptions, None, every=True)
    yield from caution_lines()
