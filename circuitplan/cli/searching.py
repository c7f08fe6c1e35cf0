"""What the commands that search for the best share: too little time, and writing what is kept."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from circuitplan.cli.answers import NOT_MET, print_json, print_lines

if TYPE_CHECKING:
    from circuitplan.model.plan import Plan


def kept(path: Path, plan: Plan, text: str, changed: bool) -> tuple[str, ...]:
    """Write the text of a changed plan; what was done, in words. A list gets a plan beside it."""
    from circuitplan.planfile.saving import create_file, save_plan

    if path.suffix.casefold() not in (".yaml", ".yml"):
        target = path.with_suffix(".yaml")
        create_file(target, text.encode("utf-8"))
        return (f"written to {target}; {path} is as it was",)
    if not changed:
        return (f"{path} says all of it already",)
    copy = save_plan(path, text, read_sha256=plan.sha256)
    return (f"written to {path}; the plan as it was is {copy}",)


def too_late(format_: str, why: str, *, as_json: bool) -> int:
    """Say that the time was too short for any answer; the exit code."""
    from circuitplan.cli.terminal.problems import answer_lines

    if as_json:
        print_json({"format": format_, "answer": "cannot say", "because": why})
    else:
        print_lines(answer_lines("CANNOT SAY", f"{why}; allow more with --seconds."))
    return NOT_MET
