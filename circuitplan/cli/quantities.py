"""Option texts to SI floats, every bad one said at once, in the words of the option."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, TypeVar

from circuitplan import units
from circuitplan.errors import InputError, Problem

T = TypeVar("T")


class Reader:
    """Reads option texts and gathers what is wrong with them."""

    def __init__(self) -> None:
        self.problems: list[Problem] = []

    def quantity(self, option: str, text: str | None, dimension: str) -> float | None:
        """``text`` in the unit of ``dimension``; None when absent or wrong (then noted)."""
        return self.read(option, text, lambda given: units.parse(given, dimension))

    def read(self, option: str, text: str | None, parse: Callable[[str], T]) -> T | None:
        """``parse(text)``; None when the text is absent or wrong (then noted)."""
        if text is None:
            return None
        try:
            return parse(text)
        except units.UnitError as wrong:
            self.problem(option, wrong.found, wrong.allowed, wrong.remedy)
            return None

    def choice(self, option: str, text: str | None, words: Sequence[str]) -> Any:
        """``text`` if it is one of ``words``, capitals forgiven; else noted."""
        if text is None or text.casefold() in words:
            return text if text is None else text.casefold()
        self.problem(option, f"'{text}'", ", ".join(words), "take one of these")
        return None

    def kind(self, option: str, words: str | None) -> None:
        """Note a kind that the tables do not hold, with the nearest ones."""
        from circuitplan.library import kinds

        if words is None or kinds.find(words) is not None:
            return
        near = ", ".join(kinds.nearest(words))
        remedy = f"nearest: {near}" if near else "give --power or --current instead"
        self.problem(option, f"no kind '{words}'", "any of 'circuitplan tables kinds'", remedy)

    def problem(self, option: str, found: str, allowed: str, remedy: str) -> None:
        """Note one problem of one option."""
        self.problems.append(Problem(option, found, allowed, remedy))

    def finish(self) -> None:
        """Raises InputError when anything was wrong."""
        if self.problems:
            raise InputError(self.problems)
