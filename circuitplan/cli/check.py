"""``check``: is the plan all right, whole or one circuit of it?"""

from __future__ import annotations

from typing import Annotated

import typer

from circuitplan.cli.answers import exit_code, plain_data, print_json, print_lines
from circuitplan.cli.options import AsJson, PlanFile, example


@example(
    "circuitplan check examples/rescue-pickup.yaml",
    "circuitplan check examples/overloaded-compressor.yaml Compressor",
)
def check(
    plan: PlanFile,
    name: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="NAME",
            help="One accessory, circuit number, switch or panel.",
            show_default=False,
        ),
    ] = None,
    assumed: Annotated[bool, typer.Option("--assumed", help="List every assumed value.")] = False,
    tolerance: Annotated[
        bool, typer.Option("--tolerance", help="Add how likely each limit holds on real vehicles.")
    ] = False,
    json: AsJson = False,
) -> int:
    """Check a plan, or one circuit of it.

    Verdict, findings (those that fail first), circuits, switches, supply. With NAME: one circuit
    on one screen; answer and exit code are then those of that circuit and of what feeds it.
    """
    from circuitplan.planfile import read_plan
    from circuitplan.planner import study

    given = read_plan(plan)
    if name and not json:
        from circuitplan.planner import advised

        result = advised(given)
    else:
        result = study(given, whole=json)
    chances = None
    if tolerance:
        from circuitplan.planner.tolerance import tolerance_of

        chances = tolerance_of(given)
    if name:
        from circuitplan.cli.narrowing import narrow

        result = narrow(result, " ".join(name))
    if json:
        print_json(result if chances is None else plain_data(result) | {"tolerance": chances})
    elif name:
        from circuitplan.cli.terminal.one_circuit import narrowed_lines

        print_lines(narrowed_lines(result, plan))
    else:
        from circuitplan.cli.terminal.overview import overview_lines
        from circuitplan.planfile import unlikely

        doubtful = unlikely.questions(given)
        print_lines(overview_lines(result, plan, assumed=assumed, questions=doubtful))
    if chances is not None and not json:
        from circuitplan.cli.terminal.tolerance import tolerance_lines

        shown = {c.id for c in result.circuits} | {p.id for p in result.panels}
        print_lines(tolerance_lines(chances, shown))
    return exit_code(result.answer)
