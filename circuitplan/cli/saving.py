"""Writing a changed plan, as every command with ``--keep`` that changes it says it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

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
