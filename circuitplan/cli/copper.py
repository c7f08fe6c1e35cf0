"""``copper``: the sizes of all wires chosen together, with proof."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from circuitplan.cli.answers import exit_code, print_json, print_lines
from circuitplan.cli.options import AsJson, PlanFile, example


@example(
    "circuitplan copper examples/workboat.yaml",
    "circuitplan copper examples/rescue-pickup.yaml --keep",
)
def copper(
    plan: PlanFile,
    seconds: Annotated[
        float, typer.Option(metavar="S", help="Most time for one search.", min=0.1)
    ] = 30.0,
    keep: Annotated[
        bool, typer.Option("--keep", help="Write it into the plan (a .bak copy stays).")
    ] = False,
    json: AsJson = False,
) -> int:
    """Choose the sizes of all wires together: the least copper.

    check sizes one wire after the other, with a fixed share of the drop for what several use.
    Here the shares are chosen too. Exact, and proven where it says so; the plan with the sizes
    in it is checked as a whole. Nothing is written without --keep.
    """
    from circuitplan.cli.searching import kept, too_late
    from circuitplan.cli.terminal.copper import as_data, copper_lines
    from circuitplan.planfile import read_plan
    from circuitplan.planfile.edits import apply
    from circuitplan.planfile.writing import plan_text
    from circuitplan.planner.copper import FORMAT, least

    read = read_plan(plan)
    text = plan_text(Path(plan))
    try:
        found = least(read, text, plan, seconds)
    except TimeoutError as late:
        return too_late(FORMAT, str(late), as_json=json)
    said: tuple[str, ...] = ()
    if keep:
        said = kept(Path(plan), read, apply(text, found.edits), bool(found.edits))
    if json:
        print_json(as_data(found, said))
    else:
        print_lines(copper_lines(found, said))
    return exit_code(found.answer)
