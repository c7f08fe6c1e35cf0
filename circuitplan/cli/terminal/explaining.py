"""Pages of rules, failures, keys and errors, and the working of circuits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from circuitplan.cli import error_pages
from circuitplan.cli.terminal.problems import answer_lines
from circuitplan.cli.terminal.text import ink, page_width, wrap
from circuitplan.errors import InputError, Problem
from circuitplan.model.result import Circuit, Result

if TYPE_CHECKING:
    from circuitplan.planfile.meanings import Meaning


def page_lines(words: str) -> Iterator[str]:
    """The page of a rule or failure id, a plan's key, else of the error that ``words`` name.

    Raises InputError when none is known.
    """
    from circuitplan import rules
    from circuitplan.planfile import meanings

    found = meanings.of_key(words)
    if found:
        yield from _key_lines(found)
        return
    try:
        text = rules.page(words)
    except LookupError as unknown:
        page = error_pages.find(words)
        if page is None:
            known = ", ".join(p.name for p in error_pages.PAGES)
            allowed = f"a rule, G01 to G20, a key of a plan, or an error: {known}"
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


def _key_lines(found: Sequence[Meaning]) -> Iterator[str]:
    key = found[0].key
    many = "" if len(found) == 1 else f", which has {len(found)} meanings,"
    yield from answer_lines("OK", f"the key '{key}' of a plan{many} is explained here.")
    for meaning in found:
        yield ""
        home = f"in {', '.join(meaning.sections)}" if meaning.sections else "a section"
        text = f"{meaning.key}, {home}: {meaning.means}."
        yield from wrap(text, page_width(), rest="  ", first="")
        yield from wrap(meaning.example, page_width(), first="  as ", rest="     ")
        if meaning.allowed:
            yield from wrap(
                ", ".join(meaning.allowed), page_width(), first="  one of: ", rest="    "
            )


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
