"""Pages of rules, failures, keys and errors, and the working of circuits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from circuitplan.cli import error_pages
from circuitplan.cli.terminal.problems import answer_lines
from circuitplan.cli.terminal.text import ink, page_width, wrap
from circuitplan.errors import InputError, Problem
from circuitplan.model.result import Circuit, Result

MOST_NEAR = 5

if TYPE_CHECKING:
    from circuitplan.planfile.meanings import Meaning


def page_lines(words: str) -> Iterator[str]:
    """The page of a rule or failure id, a plan's key, else of the error that ``words`` name.

    Raises InputError when none is known.
    """
    from circuitplan import rules
    from circuitplan.planfile import meanings

    found = meanings.of_key(words)
    page = None if found else error_pages.named(words)
    try:
        text = "" if found or page else rules.page(words)
    except LookupError:
        text = ""
        found = meanings.alike(words)
        page = None if found else error_pages.find(words)
        if not found and page is None:
            raise InputError([_unknown(words)]) from None
    if found:
        yield from _key_lines(found, words)
        return
    if page is not None:
        yield from answer_lines("OK", f"the error '{page.name}' is explained here.")
        yield ""
        yield from wrap(page.means, page_width())
        yield ""
        yield from wrap(page.mend, page_width(), first="To mend it: ", rest="  ")
        return
    head, _, body = text.partition("\n")
    yield from answer_lines("OK", f"{' '.join(head.split())} is explained here.")
    yield from body.rstrip("\n").split("\n")


def _unknown(words: str) -> Problem:
    """At most five words that are near; else where the keys are listed."""
    from circuitplan import rules
    from circuitplan.planfile import meanings

    ids = [*(rule.id for rule in rules.all_rules()), *(f"G{n:02}" for n in range(1, 21))]
    also = [*ids, *(page.name for page in error_pages.PAGES)]
    near = [w.upper() if w.upper() in ids else w for w in meanings.near(words, also, MOST_NEAR)]
    remedy = f"did you mean {', '.join(near)}?" if near else (
        "circuitplan explain accessories lists the keys of an accessory, and so on"
    )
    return Problem(
        "", f"nothing is known of '{words[:60]}'",
        "a rule (D01), G01 to G20, a key or section of a plan (peak, supply), words of an error",
        remedy,
    )  # fmt: skip


def _key_lines(found: Sequence[Meaning], words: str) -> Iterator[str]:
    keys = list(dict.fromkeys(meaning.key for meaning in found))
    plain = " ".join(words.replace("_", " ").rstrip(":").casefold().split())
    if any(k.replace("_", " ").casefold() == plain for k in keys) or len(keys) == 1:
        many = "" if len(found) == 1 else f", which has {len(found)} meanings,"
        said = f"the key '{keys[0]}' of a plan{many} is explained here."
    else:
        said = f"'{words}' may be meant for the keys {', '.join(keys)}, explained here."
    yield from answer_lines("OK", said)
    for meaning in found:
        yield ""
        home = f"in {', '.join(meaning.sections)}" if meaning.sections else "a section"
        text = f"{meaning.key}, {home}: {meaning.means}."
        yield from wrap(text, page_width(), rest="  ", first="")
        if meaning.sections:
            yield from wrap(meaning.example, page_width(), first="  as ", rest="     ")
        for head, values in (("one of", meaning.allowed), ("written as", meaning.takes)):
            if values:
                yield from wrap(
                    ", ".join(values), page_width(), first=f"  {head}: ", rest="    "
                )
        if meaning.snippet:
            yield "  in a plan:"
            for line in meaning.snippet.split("\n"):
                inset = " " * (4 + len(line) - len(line.lstrip()))
                yield from wrap(line.lstrip(), page_width(), first=inset, rest=f"{inset}  ")


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
