"""Commands that are named but not built yet; each says so and points to what there is."""

from __future__ import annotations

from typing import Annotated, NoReturn

import typer

from circuitplan.cli.options import AsJson, PlanFile, example
from circuitplan.errors import InputError, Problem

Rest = Annotated[list[str] | None, typer.Argument(metavar="REST", hidden=True, show_default=False)]


@example("circuitplan check examples/owners-list.csv")
def assign(plan: PlanFile, rest: Rest = None, json: AsJson = False) -> int:
    """Choose a switch for each accessory (not built yet).

    Until then: name a switch for each accessory in the plan and check it, or try another one.
    """
    _not_built("assign", f'circuitplan try {plan} --change "NAME switch S1"')


@example("circuitplan check examples/owners-list.csv --json")
def compare(plan: PlanFile, rest: Rest = None, json: AsJson = False) -> int:
    """Compare two revisions of a plan (not built yet)."""
    _not_built("compare", f"circuitplan check {plan} --json for each, and compare those")


def _not_built(word: str, until_then: str) -> NoReturn:
    raise InputError([Problem("", f"'{word}' is not built yet", "", f"until then: {until_then}")])
