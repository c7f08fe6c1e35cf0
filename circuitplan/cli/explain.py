"""``explain``: a rule, a failure, a key of a plan, an error, or the working of one circuit."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from circuitplan.cli.answers import print_lines
from circuitplan.cli.options import example


@example(
    "circuitplan explain D01",
    "circuitplan explain G07",
    "circuitplan explain peak",
    "circuitplan explain examples/owners-list.csv Fridge",
    "circuitplan explain unknown key",
)
def explain(
    what: Annotated[
        list[str],
        typer.Argument(
            metavar="WHAT",
            help="A rule (D01), a known failure (G07), a key of a plan (peak), words of an error, "
            "or PLAN and a circuit.",
            show_default=False,
        ),
    ],
) -> int:
    """Explain a rule, a key, an error, or a circuit's working."""
    from circuitplan.cli.terminal import explaining

    if Path(what[0]).suffix.casefold() in (".yaml", ".yml", ".csv", ".xlsx"):
        from circuitplan.cli.narrowing import narrow
        from circuitplan.planfile import read_plan
        from circuitplan.planner import study

        result = study(read_plan(what[0]))
        if what[1:]:
            result = narrow(result, " ".join(what[1:]))
        print_lines(explaining.working_lines(result))
        return 0
    print_lines(explaining.page_lines(" ".join(what)))
    return 0
