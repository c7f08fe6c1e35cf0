"""``compare``: two revisions of a plan, for the shop's revision note."""

from __future__ import annotations

from typing import Annotated

import typer

from circuitplan.cli.answers import exit_code, print_json, print_lines
from circuitplan.cli.options import AsJson, example

Old = Annotated[
    str, typer.Argument(metavar="OLD", help="The plan as it was.", show_default=False)
]
New = Annotated[
    str, typer.Argument(metavar="NEW", help="The plan as it is now.", show_default=False)
]


@example("circuitplan compare examples/owner.yaml examples/overloaded-compressor.yaml")
def compare(old: Old, new: New, json: AsJson = False) -> int:
    """Compare two revisions of a plan.

    Accessories, wires, fuses, margins, findings, parts to buy. The answer is that of NEW.
    """
    from circuitplan.planfile import read_plan
    from circuitplan.planner import study
    from circuitplan.planner.aside import Aside
    from circuitplan.planner.comparing import compare as compare_results
    from circuitplan.planner.comparing import same_work

    old_plan, new_plan = read_plan(old), read_plan(new)
    if same_work(old_plan, new_plan):
        before = after = study(old_plan, whole=False)  # the working is not compared
    else:
        meanwhile = Aside(lambda: study(old_plan, whole=False))
        after = study(new_plan, whole=False)
        before = meanwhile.result()
    found = compare_results(old_plan, before, new_plan, after)
    if json:
        print_json(found)
    else:
        from circuitplan.cli.terminal.comparing_plans import comparison_lines

        print_lines(comparison_lines(found, old, new))
    return exit_code(found.answer)
