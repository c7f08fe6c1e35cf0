"""How high the letters of the card are, and how much room words take in them.

Three heights of capitals, by what a text is for, read at 70 cm in a dark cab:

- name: what is looked for first and what is needed in an emergency (dead things, numbers of
  switches, how to cut the power): 4.1 mm at least, 20 minutes of arc (ISO 9241-303; MIL-STD-1472
  asks 4 to 8 mm of fixed critical figures at 710 mm and less than 3.5 cd/m²; both second-hand);
- second: what is read next (fuse, rating, colour, relay, the order of faults): 3.3 mm, 16 minutes,
  the least of NUREG-0700 (read);
- small: what is read with the card in the hand (limits, spares, jump-start): 2.5 mm at least, 16
  minutes at 53 cm, and never less (MIL-STD-1472, 1.3 to 5 mm for what is not critical).

The largest set of ``LEVELS`` is taken that needs no more faces than the smallest. The last two set
what is read next below 3.3 mm too: they are taken only where they save a face, and the card then
asks to be read at 53 cm rather than at arm's length.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from typing import Literal

from circuitplan.report.fonts import CAP_HEIGHT_EM, width_mm

Height = Literal["name", "second", "small"]
LINE_EM = {"name": 1.0, "second": 1.05, "small": 1.08}
"""Distance of lines [em]: from the highest ascender to the lowest descender it takes 0.93."""


@dataclass(frozen=True, slots=True)
class Letters:
    """Heights of capitals [mm]."""

    name: float
    second: float
    small: float

    def em(self, height: Height) -> float:
        """Size of the type [mm] whose capitals have this height; never a hair below it."""
        capital_mm: float = getattr(self, height)
        return math.ceil(100.0 * capital_mm / CAP_HEIGHT_EM) / 100.0

    def line(self, height: Height) -> float:
        """Distance of lines [mm]."""
        return round(LINE_EM[height] * self.em(height), 2)


LEVELS = (
    Letters(5.0, 4.1, 3.3),
    Letters(5.0, 3.3, 3.3),
    Letters(4.1, 3.3, 3.3),
    Letters(4.1, 3.3, 2.8),
    Letters(4.1, 3.3, 2.5),
    Letters(4.1, 2.9, 2.5),
    Letters(4.1, 2.5, 2.5),
)


@dataclass(frozen=True, slots=True)
class Bit:
    """Words of one height within a line."""

    text: str
    height: Height
    bold: bool = False


Line = tuple[Bit, ...]
Cell = tuple[Line, ...]
"""Lines that begin anew; each may run over several of the page."""


@cache
def word_mm(word: str, em: float, bold: bool) -> float:
    """Width of a word [mm]."""
    return width_mm(word, em, 700 if bold else 600)


def count(line: Line, letters: Letters, room_mm: float) -> int:
    """Lines of the page that ``line`` fills, broken at blanks as a browser breaks it."""
    lines, at = 1, 0.0
    for bit in line:
        em = letters.em(bit.height)
        blank = word_mm(" ", em, bit.bold)
        for word in bit.text.split(" ") if bit.text else ():
            long = word_mm(word, em, bit.bold)
            if at > 0.0 and at + blank + long > room_mm:
                lines, at = lines + 1, 0.0
            at += long + (blank if at > 0.0 else 0.0)
            if at > room_mm:  # a word longer than the line is broken where it ends
                lines += math.ceil(at / room_mm - 1e-9)
                at = room_mm
    return lines


def cell_mm(cell: Cell, letters: Letters, room_mm: float) -> float:
    """Height of a cell [mm]; each line is as high as its highest letters."""
    total = 0.0
    for line in cell:
        high = max((letters.line(b.height) for b in line), default=0.0)
        total += high * count(line, letters, room_mm)
    return total
