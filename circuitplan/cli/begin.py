"""``begin``: a starter plan, from a few questions or from options; never overwrites."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from circuitplan.cli.answers import print_lines
from circuitplan.cli.options import example
from circuitplan.errors import InputError

if TYPE_CHECKING:
    from circuitplan.planfile.starter import Question


@example(
    "circuitplan begin my-truck.yaml --system 12V --battery 95Ah",
    'circuitplan begin boat.yaml --accessory "bilge pump" --accessory fridge',
)
def begin(
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help="Where to write it.", show_default=False)
    ] = Path("plan.yaml"),
    title: Annotated[
        str | None, typer.Option(metavar="TEXT", help="What the plan is for.", show_default=False)
    ] = None,
    system: Annotated[
        str | None, typer.Option(metavar="VOLTS", help="12V, 24V or 48V.", show_default=False)
    ] = None,
    battery: Annotated[
        str | None,
        typer.Option(metavar="AMP-HOURS", help="Capacity, e.g. 95Ah.", show_default=False),
    ] = None,
    battery_type: Annotated[
        str | None,
        typer.Option(metavar="TYPE", help="flooded, agm, gel or lifepo4.", show_default=False),
    ] = None,
    second_battery: Annotated[
        str | None,
        typer.Option(metavar="AMP-HOURS", help="A second one, e.g. 100Ah.", show_default=False),
    ] = None,
    charger: Annotated[
        str | None,
        typer.Option(metavar="WORDS", help='What charges it: "dc-dc 25A".', show_default=False),
    ] = None,
    alternator: Annotated[
        str | None,
        typer.Option(metavar="AMPERES", help="Rated current, e.g. 120A.", show_default=False),
    ] = None,
    switches: Annotated[
        str | None,
        typer.Option(metavar="LIST", help='As "S1: 30 A, S2: 20 A".', show_default=False),
    ] = None,
    accessory: Annotated[
        list[str] | None,
        typer.Option(
            metavar="KIND",
            help='What is fitted: "two rear work lamps"; may be given more than once.',
            show_default=False,
        ),
    ] = None,
    ask: Annotated[
        bool, typer.Option("--ask/--no-ask", help="Ask for what is not given (on a terminal).")
    ] = True,
) -> int:
    """Write a starter plan, ready to be filled in.

    It asks a few questions on a terminal and never overwrites a file.
    """
    from circuitplan.cli.terminal.problems import answer_lines
    from circuitplan.planfile.saving import create_file

    given = {
        "title": title,
        "system": system,
        "battery": battery,
        "battery_type": battery_type,
        "second_battery": second_battery,
        "charger": charger,
        "alternator": alternator,
        "switches": switches,
        "accessories": ", ".join(accessory) if accessory else None,
    }
    answers = {key: value for key, value in given.items() if value is not None}
    text = _starter(answers, ask=ask and sys.stdin.isatty() and sys.stdout.isatty())
    create_file(file, text.encode("utf-8"))
    print_lines(
        answer_lines("OK", f"{file} is written. Fill it in, then: circuitplan check {file}")
    )
    return 0


def _starter(answers: dict[str, str], *, ask: bool) -> str:
    from circuitplan.planfile import starter

    if ask:
        for question in starter.QUESTIONS:
            wanted = not question.after or any(answers.get(key) for key in question.after)
            if question.key not in answers and wanted:
                answers[question.key] = _asked(question)
    return starter.starter_plan(answers)


def _asked(question: Question) -> str:
    """One question, put again until the plan can hold the answer."""
    from circuitplan.cli.terminal.problems import problem_lines
    from circuitplan.planfile.starter import check_answer, said_to

    while True:
        shown = question.default or f"as {question.example}, or nothing"
        said = input(f"{question.ask} [{shown}] ")
        try:
            return check_answer(question.key, said_to(question.key, said))
        except InputError as error:
            print_lines(problem_lines(error.problems))
