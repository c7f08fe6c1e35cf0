"""The plan as written: texts, lists and keyed entries, each knowing where it stands.

YAML, CSV and XLSX all become this tree, so that one reader judges them alike. Every value is kept
as its source text: ``revision: 1.10`` stays 1.10, ``number: 012`` stays 012, ``hot: no`` stays no.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from circuitplan.errors import InputError, Problem
from circuitplan.model.record import record

MOST_PROBLEMS = 60


@record
class Spot:
    """A position in the input: a line of a text file, or a cell of a sheet."""

    file: str
    line: int | None = None
    sheet: str | None = None
    cell: str | None = None

    def __str__(self) -> str:
        parts = [self.file]
        if self.sheet is not None:
            parts.append(f"sheet {self.sheet}")
        if self.line is not None and self.sheet is None:
            parts.append(f"line {self.line}")
        if self.cell is not None:
            parts.append(f"cell {self.cell}")
        return ", ".join(parts)


@record
class Node:
    """One text, list or group of keyed entries.

    ``cut`` is the comment that follows an unquoted text so closely that it may be part of it.
    ``spoilt``: what stands here has been told already, and is not to be read.
    """

    spot: Spot
    text: str | None = None
    quoted: bool = False
    cut: str | None = None
    spoilt: bool = False
    items: tuple[Node, ...] | None = None
    entries: tuple[tuple[Node, Node], ...] | None = None

    @property
    def is_text(self) -> bool:
        return self.text is not None

    @property
    def is_empty(self) -> bool:
        """A key with nothing behind it (``place:``), or YAML's word for nothing, ``~``."""
        return self.text is not None and not self.quoted and self.text.strip() in ("", "~")

    def get(self, key: str) -> Node | None:
        """The value of the first entry named ``key``, or None."""
        for name, value in self.entries or ():
            if name.text == key:
                return value
        return None

    def describe(self) -> str:
        """What stands here, in words, for messages."""
        if self.text is not None:
            return f"'{self.text[:60]}'" if self.text.strip() else "nothing"
        return "a list" if self.items is not None else "a group of keys"


@dataclass(slots=True)
class Troubles:
    """Gathers every problem of one input, so that they can be told at once."""

    problems: dict[Problem, None] = field(default_factory=dict)  # a set that keeps its order
    noted: int = 0  # repeats included: whoever reads an entry sees whether it went well

    def add(self, spot: Spot, found: str, allowed: str, remedy: str) -> None:
        """Note one problem."""
        problem = Problem(str(spot), found, allowed, remedy, spot.file, spot.line, spot.cell)
        self.problems[problem] = None
        self.noted += 1

    def raise_if_any(self) -> None:
        """Raise ``InputError`` with all problems, in reading order."""
        if not self.problems:
            return
        ordered = sorted(self.problems, key=lambda p: p.line or 0)
        rest = len(ordered) - MOST_PROBLEMS
        if rest > 0:
            file = ordered[0].file
            last = Problem(file, f"{rest} more problems", "", "mend these first", file)
            ordered = [*ordered[:MOST_PROBLEMS], last]
        raise InputError(ordered)


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The one of ``known`` most like ``word`` (whatever the case), or None."""
    from difflib import get_close_matches

    plain = {name.casefold(): name for name in known}
    alike = 0.5 if len(word) <= 3 else 0.6  # S2 for S1 differs in half of its letters
    found = get_close_matches(word.casefold(), plain, 1, alike)
    if not found:
        found = [name for name in plain if word and name.startswith(word.casefold())][:1]
    return plain[found[0]] if found else None


def listed(words: Iterable[str], most: int = 12) -> str:
    """Words in a row, for "allowed": a, b, c ..."""
    words = list(words)
    shown = ", ".join(words[:most])
    return shown + (f" and {len(words) - most} more" if len(words) > most else "")
