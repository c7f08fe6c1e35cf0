"""Words, numbers and tables fitted to a width; colour only where somebody looks."""

from __future__ import annotations

import math
import os
import shutil
import sys
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

_SLACK = 1e-9
_CODES = {
    "DANGER": "1;97;41",
    "WARNING": "1;30;43",
    "CAUTION": "1;33",
    "NOTICE": "1;34",
    "OK": "1;32",
    "NOT OK": "1;31",
    "CANNOT SAY": "1;33",
    "head": "1",
    "faint": "2",
}


def page_width() -> int:
    """Columns to write for: those of the terminal, between 72 and 100; 80 when unknown."""
    return min(max(shutil.get_terminal_size((80, 24)).columns, 72), 100)


def coloured() -> bool:
    """Whether to colour: only on a terminal, and not against NO_COLOR."""
    if os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb":
        return False
    return bool(sys.stdout.isatty())


def ink(text: str, style: str) -> str:
    """``text`` in the colour of a signal word, an answer, a head; plain when not coloured."""
    return f"\x1b[{_CODES[style]}m{text}\x1b[0m" if coloured() and style in _CODES else text


def cells(text: str) -> int:
    """Columns that ``text`` takes: wide characters two, combining marks none."""
    if text.isascii():
        return len(text)
    total = 0
    for char in text:
        if unicodedata.combining(char) or unicodedata.category(char) in ("Cf", "Mn", "Me"):
            continue
        total += 2 if unicodedata.east_asian_width(char) in ("W", "F") else 1
    return total


def clip(text: str, width: int) -> str:
    """``text`` cut to ``width`` columns, the cut shown by an ellipsis."""
    if cells(text) <= width:
        return text
    kept = ""
    for char in text:
        if cells(kept + char) > width - 1:
            break
        kept += char
    return kept + "…"


def pad(text: str, width: int, *, right: bool = False) -> str:
    """``text`` clipped or filled with spaces to exactly ``width`` columns."""
    text = clip(text, width)
    gap = " " * (width - cells(text))
    return gap + text if right else text + gap


def wrap(text: str, width: int, *, first: str = "", rest: str | None = None) -> list[str]:
    """Lines of at most ``width`` columns; ``first`` and ``rest`` stand before them."""
    rest = first if rest is None else rest
    lines: list[str] = []
    line, empty = first, True
    for word in _words(text, width - max(cells(first), cells(rest))):
        gap = "" if empty else " "
        if not empty and cells(line + gap + word) > width:
            lines.append(line)
            line, gap = rest, ""
        line, empty = line + gap + word, False
    lines.append(line)
    return [ready.rstrip() for ready in lines]


def _words(text: str, longest: int) -> Iterator[str]:
    for word in text.split():
        while cells(word) > longest:
            head = clip(word, longest)[:-1]
            yield head
            word = word[len(head) :]
        yield word


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table: ``most`` columns wide at most; ``right``: aligned right."""

    head: str
    most: int = 100
    right: bool = False
    gives_way: bool = False  # this one is clipped first when the page is too narrow


def table(columns: Sequence[Column], rows: Iterable[Sequence[str]], *, width: int) -> list[str]:
    """A head and a line a row, each at most ``width`` columns."""
    rows = [tuple(row) for row in rows]
    wide = [
        max(cells(c.head), min(c.most, max((cells(r[i]) for r in rows), default=0)))
        for i, c in enumerate(columns)
    ]
    over = sum(wide) + 2 * (len(wide) - 1) - width
    for i in sorted(range(len(columns)), key=lambda i: not columns[i].gives_way):
        if over <= 0:
            break
        cut = min(over, wide[i] - max(4, min(wide[i], cells(columns[i].head))))
        wide[i] -= cut
        over -= cut

    def line(row: Sequence[str]) -> str:
        parts = (pad(t, w, right=c.right) for t, w, c in zip(row, wide, columns, strict=True))
        return "  ".join(parts).rstrip()

    head = line([c.head for c in columns])
    return [ink(head, "head"), *(line(row) for row in rows)]


def up(value: float, digits: int = 1) -> str:
    """A demand, rounded away from the optimistic side."""
    scale = 10.0**digits
    return f"{math.ceil(value * scale * (1 - _SLACK)) / scale:.{digits}f}"


def down(value: float, digits: int = 1) -> str:
    """A capacity, rounded away from the optimistic side."""
    scale = 10.0**digits
    return f"{math.floor(value * scale * (1 + _SLACK)) / scale:.{digits}f}"


def plain(value: float | None, unit: str = "") -> str:
    """A stated figure with no more digits than it has; "-" when unknown."""
    if value is None:
        return "-"
    return f"{value:.6g} {unit}".rstrip()


def seconds(value: float | None) -> str:
    """A clearing time in words: never, milliseconds or seconds."""
    if value is None or math.isinf(value):
        return "never"
    return f"{up(value * 1000, 0)} ms" if value < 1 else f"{up(value)} s"
