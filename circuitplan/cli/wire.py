"""``wire``: which wire is this, at the thinnest, and which fuse protects that?"""

from __future__ import annotations

from typing import Annotated

import typer

from circuitplan.cli.answers import exit_code, print_json, print_lines
from circuitplan.cli.options import AsJson, example


@example(
    "circuitplan wire --outside 3mm",
    "circuitplan wire --strands 19 --strand 0.3mm",
)
def wire(
    outside: Annotated[
        str | None,
        typer.Option(
            metavar="LENGTH", help="Outside diameter, over the insulation.", show_default=False
        ),
    ] = None,
    strands: Annotated[
        int | None,
        typer.Option(metavar="N", help="How many strands.", min=1, max=5000, show_default=False),
    ] = None,
    strand: Annotated[
        str | None,
        typer.Option(metavar="LENGTH", help="Diameter of one strand.", show_default=False),
    ] = None,
    gauge: Annotated[
        str, typer.Option(metavar="GAUGE", help="Name strands in metric, awg or sae.")
    ] = "metric",
    insulation: Annotated[
        str | None,
        typer.Option(
            metavar="TEMPERATURE", help="Class marked on it, e.g. 105C.", show_default=False
        ),
    ] = None,
    ambient: Annotated[
        str | None,
        typer.Option(
            metavar="TEMPERATURE", help="How hot it gets where it lies.", show_default=False
        ),
    ] = None,
    bundle: Annotated[
        int | None,
        typer.Option(
            metavar="N",
            help="Wires that lie together, this one too.",
            min=1,
            max=19,
            show_default=False,
        ),
    ] = None,
    json: AsJson = False,
) -> int:
    """Name an unmarked wire by its size or strands.

    The answer is the thinnest it can be, and the largest fuse that protects that.
    """
    from circuitplan.cli import measured_wire
    from circuitplan.cli.quantities import Reader
    from circuitplan.cli.terminal.wires import wire_lines

    reader = Reader()
    outer_mm = reader.quantity("--outside", outside, "diameter")
    strand_mm = reader.quantity("--strand", strand, "diameter")
    insulation_c = reader.quantity("--insulation", insulation, "temperature")
    ambient_c = reader.quantity("--ambient", ambient, "temperature")
    if gauge not in ("metric", "awg", "sae"):
        reader.problem("--gauge", gauge, "metric, awg or sae", "")
    if (strands is None) != (strand is None):
        reader.problem("--strands", "--strands and --strand go together", "", "give both")
    elif (outside is None) == (strands is None):
        allowed = "--outside 3mm, or --strands 19 --strand 0.3mm"
        reader.problem("wire", "one way of measuring is wanted", allowed, "give one of the two")
    reader.finish()
    area_mm2 = None
    if outer_mm is not None:
        conductor = measured_wire.by_outside(outer_mm)
    else:
        area_mm2 = measured_wire.strands_area_mm2(strands or 0, strand_mm or 0.0)
        conductor = measured_wire.by_area(area_mm2, gauge)
    if conductor is None:
        reader.problem(
            "wire", "thinner than any size in the tables", "", "replace it: no fuse protects it"
        )
        reader.finish()
        raise AssertionError("not reached: finish raises")
    found = measured_wire.judge(
        conductor,
        measured_mm2=area_mm2,
        insulation_c=insulation_c,
        ambient_c=ambient_c,
        bundle_wires=bundle,
    )
    if json:
        print_json(found)
    else:
        print_lines(wire_lines(found))
    return exit_code(found.answer)
