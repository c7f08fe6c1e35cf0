"""Words and options that several commands share."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any, TypeVar

import typer

Function = TypeVar("Function", bound=Callable[..., Any])

PlanFile = Annotated[
    str, typer.Argument(metavar="PLAN", help="Plan file: .yaml, .csv or .xlsx.", show_default=False)
]
AsJson = Annotated[bool, typer.Option("--json", help="One JSON document alone on standard output.")]


def example(*lines: str) -> Callable[[Function], Function]:
    """Mark a command with examples for its help, each of which works as typed."""

    def mark(function: Function) -> Function:
        function.examples = lines  # type: ignore[attr-defined]
        return function

    return mark
