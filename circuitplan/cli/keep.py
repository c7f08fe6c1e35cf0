"""``keep``: write what was chosen, and the circuit numbers, into the plan."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from circuitplan.cli.answers import NOT_MET, exit_code, print_lines
from circuitplan.cli.options import PlanFile, example


@example("circuitplan keep examples/workboat.yaml --show")
def keep(
    plan: PlanFile,
    show: Annotated[
        bool, typer.Option("--show", help="Show the lines that would change; write nothing.")
    ] = False,
) -> int:
    """Write what was chosen into the plan.

    Circuit numbers, wire sizes and fuses that the plan did not give; never sizes and fuses of a
    circuit that does not hold. Your remarks, order and style stay, and a .bak copy of the plan as
    it was. From a .csv or .xlsx a .yaml beside it is made; the sheet stays as it is. Answer and
    exit code are those of the plan.
    """
    from circuitplan.cli.terminal.keeping import kept_lines, left_out_lines
    from circuitplan.cli.terminal.problems import answer_lines
    from circuitplan.planfile import read_plan, read_text
    from circuitplan.planfile.edits import apply
    from circuitplan.planfile.kept import chosen
    from circuitplan.planfile.saving import create_file, save_plan
    from circuitplan.planfile.writing import plan_text
    from circuitplan.planner import study
    from circuitplan.planner.holding import failing

    path = Path(plan)
    read = read_plan(plan)
    before = study(read)
    without = failing(before)
    start = plan_text(path)
    text = apply(start, chosen(read, before, without))
    after = study(read_text(text, plan))
    if after.answer != before.answer and before.answer == "ok":
        because = (
            f"the plan with these values in it would be {after.answer.upper()}: {after.because}"
        )
        print_lines(answer_lines("NOT OK", f"{because} Nothing written."))
        return NOT_MET
    sheet = path.suffix.casefold() not in (".yaml", ".yml")
    print_lines(answer_lines(before.answer, before.because))
    if show:
        if without:
            print_lines(left_out_lines(before, without))
        print_lines(kept_lines(plan, "" if sheet else start, text))
    elif sheet:
        target = path.with_suffix(".yaml")
        create_file(target, text.encode("utf-8"))
        print_lines([f"{target} is written; {path} is as it was."])
    elif text == start:
        print_lines([f"{path} holds all of it already."])
    else:
        copy = save_plan(path, text, read_sha256=read.sha256)
        print_lines([f"{path} is written; the plan as it was is {copy}."])
    if without and not show:
        print_lines(left_out_lines(before, without))
    return exit_code(before.answer)
