"""A canvas whose texts stand in cells: cut to their room, and recorded so that none can overlap."""

from __future__ import annotations

from dataclasses import dataclass, field

from circuitplan.report.fonts import width_mm, wrap
from circuitplan.report.svg import Canvas

TEXT_MM = 2.8
LINE_MM = 3.3


@dataclass(frozen=True, slots=True)
class TextBox:
    """Where a text stands on the sheet [mm]."""

    text: str
    x: float
    y: float
    w: float
    h: float


@dataclass(slots=True)
class Pen:
    """Writes on ``canvas``; ``boxes`` tell where each text stands."""

    canvas: Canvas
    boxes: list[TextBox] = field(default_factory=list)

    def above(self, x: float, y: float, room: float, words: tuple[str, ...]) -> None:
        """Lines that end just over the line at ``y``; the first is bold."""
        lines = _fit(words, room, 3)
        for n, line in enumerate(lines):
            self._put(x, y - 1.3 - LINE_MM * (len(lines) - 1 - n), line, bold=n == 0)

    def below(
        self, x: float, y: float, room: float, words: tuple[str, ...], most: int = 3
    ) -> None:
        """Lines that begin under ``y``; the first is bold."""
        for n, line in enumerate(_fit(words, room, most)):
            self._put(x, y + 2.4 + LINE_MM * n, line, bold=n == 0)

    def line(self, x: float, y: float, room: float, text: str, *, bold: bool = False) -> None:
        """One line on the base line ``y``, cut to ``room``."""
        for line in _fit((text,), room, 1):
            self._put(x, y, line, bold=bold)

    def mark(self, x: float, y: float, text: str) -> None:
        """A terminal's number on the base line ``y``."""
        self._put(x, y, text, bold=False)

    def _put(self, x: float, y: float, line: str, *, bold: bool) -> None:
        self.canvas.text(x, y, line, TEXT_MM, bold=bold)
        wide = width_mm(line, TEXT_MM, 600 if bold else 400)
        self.boxes.append(TextBox(line, x, y - 0.75 * TEXT_MM, wide, TEXT_MM))


def _fit(words: tuple[str, ...], room: float, most: int) -> list[str]:
    """Each of ``words`` on its own line, wrapped; what is over ``most`` lines ends in "…"."""
    lines: list[str] = []
    for word in words:
        if word:
            lines.extend(wrap(word, TEXT_MM, room, 600 if not lines else 400))
    if len(lines) <= most:
        return lines
    last = lines[most - 1]
    while last and width_mm(f"{last}…", TEXT_MM, 600) > room:
        last = last[:-1]
    return [*lines[: most - 1], f"{last.rstrip()}…"]
