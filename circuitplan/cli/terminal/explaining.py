"""Pages of rules, failures and errors, and the working of circuits."""

from __future__ import annotations

from collections.abc import Iterator

from circuitplan.cli import error_pages
from circuitplan.cli.terminal.problems import answer_lines
from circuitplan.cli.terminal.text import ink, page_width, wrap
from circuitplan.errors import InputError, Problem
from circuitplan.model.result import Circuit, Result


def page_lines(words: str) -> Iterator[str]:
    """The page of a rule or failure id, else of the error that ``words`` name.

    Raises InputError when neither is known.
    """
    from circuitplan import rules

    try:
        text = rules.page(words)
    except LookupError as unknown:
        page = error_pages.find(words)
        if page is None:
            known = ", ".join(p.name for p in error_pages.PAGES)
            allowed = f"a rule, G01 to G20, or an error: {known}"
            raise InputError([Problem("", str(unknown).strip('"'), allowed, "")]) from None
        yield from answer_lines("OK", f"the error '{page.name}' is explained here.")
        yield ""
        yield from wrap(page.means, page_width())
        yield ""
        yield from wrap(page.mend, page_width(), first="To mend it: ", rest="  ")
        return
    head, _, body = text.partition("\n")
    yield from answer_lines("OK", f"{' '.join(head.split())} is explained here.")
    yield from body.rstrip("\n").split("\n")


def working_lines(result: Result) -> Iterator[str]:
    """Every step that led to the circuits of ``result``: formula, numbers, source."""
    circuits = result.circuits
    numbers = ", ".join(str(c.number) for c in circuits) or "none"
    which = f"circuit {numbers}" if len(circuits) == 1 else f"circuits {numbers}"
    yield from answer_lines(
        "OK", f"the working of {which} is below; its answer is {result.answer.upper()}."
    )
    yield from wrap(result.because, page_width(), first="  ", rest="  ")
    for circuit in circuits:
        yield from _steps(circuit)


def _steps(circuit: Circuit) -> Iterator[str]:
    width = page_width()
    yield ""
    head = wrap(f"CIRCUIT {circuit.number}: {circuit.label}", width, first="", rest="  ")
    yield from (ink(line, "head") for line in head)
    for number, step in enumerate(circuit.working, start=1):
        yield from wrap(step.what, width, first=f"{number:>3}. ", rest="     ")
        yield from wrap(f"{step.formula} = {step.result}", width, first="       ", rest="         ")
        yield from wrap(step.source, width, first="       from: ", rest="         ")
