"""Problems of the input, each with its place and the way to mend it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from circuitplan.cli.terminal.text import ink, page_width, wrap
from circuitplan.errors import Problem


def problem_lines(problems: Sequence[Problem]) -> Iterator[str]:
    """CANNOT SAY and why, then every problem."""
    width = page_width()
    if len(problems) == 1 and not problems[0].where:
        yield from answer_lines("CANNOT SAY", problems[0].found)
        yield from _advice(problems[0], width)
        return
    count = "1 problem" if len(problems) == 1 else f"{len(problems)} problems"
    yield from answer_lines("CANNOT SAY", f"the input cannot be used: {count}. Nothing written.")
    for problem in problems:
        yield ""
        yield from wrap(f"{problem.where}: {problem.found}", width, rest="  ", first="")
        yield from _advice(problem, width)


def answer_lines(answer: str, because: str) -> Iterator[str]:
    """The first line of every answer: the answer, then why."""
    lines = wrap(because, page_width(), first=f"{answer.upper()}: ", rest="  ")
    yield lines[0].replace(answer.upper(), ink(answer.upper(), answer.upper()), 1)
    yield from lines[1:]


def _advice(problem: Problem, width: int) -> Iterator[str]:
    if problem.allowed:
        yield from wrap(problem.allowed, width, first="  allowed: ", rest="    ")
    if problem.remedy.startswith("did you mean"):
        yield from wrap(problem.remedy, width, first="  ", rest="    ")
    elif problem.remedy:
        yield from wrap(problem.remedy, width, first="  to mend it: ", rest="    ")
