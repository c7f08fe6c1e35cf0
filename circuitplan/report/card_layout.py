"""The faces of the card, laid out here so that paper and browser set the same lines.

What is worth most comes first; a lesser part may stand before it only to fill the foot of a face
on which the greater finds no room. Letters are the largest that need no more faces.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from circuitplan.report.card_letters import LEVELS, Bit, Cell, Height, Letters, cell_mm, word_mm
from circuitplan.report.card_parts import (
    GAP_MM,
    INDENT_MM,
    ITEM_MM,
    PART_MM,
    SEAT_GAP_MM,
    SEAT_MM,
    SEAT_PAD_MM,
    Card,
    Content,
    Face,
    Part,
    Picture,
    Piece,
    Row,
    Seats,
    Size,
    Zone,
)
from circuitplan.report.card_table import head_mm, row_mm, shape_of


def lay_out(content: Content, size: Size) -> Card:
    """The faces in the largest letters that need no more of them than the smallest."""
    cards = [Card(_faces(content, size, letters), letters) for letters in LEVELS]
    least = min(len(c.faces) for c in cards)
    return next(c for c in cards if len(c.faces) == least)


def part_mm(part: Part, letters: Letters, room_mm: float) -> float:
    """Height of a part or of what is left of it [mm]."""
    head = 0.0
    if part.heading:
        head = PART_MM + cell_mm(((Bit(part.heading, _head(part), True),),), letters, room_mm)
    note = cell_mm(((Bit(part.note, "second"),),), letters, room_mm) if part.note else 0.0
    return head + note + sum(
        ITEM_MM + cell_mm(((Bit(item, part.height),),), letters, room_mm - INDENT_MM[part.height])
        for item in part.items
    )


def _head(part: Part) -> Height:
    return "name" if part.whole else "second"


def seats_a_row(seats: Seats, letters: Letters, size: Size) -> int:
    """Boxes of switches side by side: eight at most, and no word broken where it can be."""
    longest = max(
        (
            word_mm(word, letters.em(bit.height), bit.bold)
            for _, switches in seats.rows for s in switches
            for (bit,) in seat_cell(*s) for word in bit.text.split(" ")
        ),
        default=0.0,
    )
    return max(1, min(8, int(size.room // (longest + SEAT_PAD_MM))))


def seats_mm(seats: Seats, letters: Letters, size: Size) -> float:
    """Height of the switches' boxes [mm]."""
    many = seats_a_row(seats, letters, size)
    total = 0.0
    for _, switches in seats.rows:
        total += PART_MM + letters.line("second")
        for first in range(0, len(switches), many):
            row = switches[first : first + many]
            total += SEAT_GAP_MM + seat_row_mm(row, letters, size.room / many)
    return total


def seat_row_mm(row: Sequence[tuple[str, str]], letters: Letters, width: float) -> float:
    """Height of one row of boxes with their edges [mm]."""
    words = max(cell_mm(seat_cell(i, label), letters, width - SEAT_PAD_MM) for i, label in row)
    return round(words + SEAT_MM, 2)


def seat_cell(identifier: str, label: str) -> Cell:
    """The words of one box."""
    return ((Bit(identifier, "second", True),), (Bit(label, "small"),))


def _faces(content: Content, size: Size, letters: Letters) -> tuple[Face, ...]:
    faces: list[list[Piece]] = [[]]
    left = size.depth
    if content.title:
        left -= 1.0 + cell_mm(((Bit(content.title, "name", True),),), letters, size.room)
    if content.warning:
        left -= 4.0 + cell_mm(((Bit(content.warning, "second", True),),), letters, size.room - 5.0)
    shape, many, width = shape_of(content, size, letters)
    head = head_mm(content, shape, letters, width)
    rows = list(content.rows)
    while rows:
        high = [row_mm(r, shape, letters, width) for r in rows]
        for tall in (left, *(0.5 * n for n in range(int(2.0 * left), 0, -1))):
            columns = _pour_rows(rows, high, [tall - head] * many)
            if sum(map(len, columns)) < len(rows):
                break
            best, used = columns, tall
        else:
            tall = 0.0
        if tall == left:  # not even this face holds them all
            best, used = columns, left
        done = sum(map(len, best))
        if not done:
            if faces[-1] or left < size.depth:
                faces.append([])
                left = size.depth
                continue
            best, done = [rows[:1]], 1  # a row higher than a face runs over it
        tables = [replace(shape, rows=tuple(c)) for c in best if c]
        faces[-1].append(
            tables[0] if many == 1 else
            Zone(tuple((t,) for t in tables), tuple(width for _ in tables))
        )
        left -= used
        band = next((r for r in reversed(rows[:done]) if r.band), None)
        rows = rows[done:]
        if rows:
            faces.append([])
            left = size.depth
            if band is not None and not rows[0].band:
                rows = [band, *rows]
    _fill(faces, left, content, size, letters)
    return tuple(tuple(face) for face in faces if face)


def _pour_rows(
    rows: Sequence[Row], high: Sequence[float], rooms: Sequence[float]
) -> list[list[Row]]:
    """Rows down one column after the other; a box's line never stands last in a column."""
    columns: list[list[Row]] = [[]]
    used = 0.0
    for index, row in enumerate(rows):
        follows = row.band and index + 1 < len(rows) and not rows[index + 1].band
        need = high[index] + (high[index + 1] if follows else 0.0)
        if used + need > rooms[len(columns) - 1]:
            if len(columns) == len(rooms):
                break
            columns.append([])
            used = 0.0
            if need > rooms[len(columns) - 1]:
                break
        columns[-1].append(row)
        used += high[index]
    return columns


def _fill(
    faces: list[list[Piece]], left: float, content: Content, size: Size, letters: Letters
) -> None:
    """Put the parts after the table: what is whole first, the lesser in columns around it."""
    whole = [p for p in content.parts if isinstance(p, Seats) or p.whole]
    lesser = [p for p in content.parts if isinstance(p, Part) and not p.whole]
    code = content.code
    side = _beside(whole, lesser, code, size, letters)
    ready: list[tuple[Piece, float]] = []
    if side is not None:
        zone, lesser, high = side
        code = None
        ready = [(zone, high)]
        whole = [p for p in whole if isinstance(p, Seats)]
    ready += [(p, _whole_mm(p, letters, size)) for p in whole]
    while ready or lesser or code is not None:
        chosen = next((r for r in ready if r[1] <= left), None)
        if chosen is None and ready and not faces[-1] and left >= size.depth:
            chosen = ready[0]  # higher than a face: it runs over it
        if chosen is not None:
            ready.remove(chosen)
            faces[-1].append(chosen[0])
            left -= chosen[1]
            continue
        # The foot of a face takes of the lesser what finds room, never the code before them.
        found = _zone(lesser, None if ready else code, left, size, letters)
        if found[0] is None and not ready and not faces[-1]:
            last = (*lesser, *((code,) if code else ()))
            found = Zone((last,), (size.room,)), [], None, left
        if found[0] is not None:
            faces[-1].append(found[0])
            lesser = found[1]
            code = code if ready else found[2]
            left -= found[3]
            if not (ready or lesser or code):
                break
        faces.append([])
        left = size.depth


def _beside(
    whole: list[Part | Seats], lesser: list[Part], code: Picture | None, size: Size,
    letters: Letters,
) -> tuple[Zone, list[Part], float] | None:
    """On a wide face the code and some lesser parts stand beside the emergency: (zone, parts left
    over, height). None where the face is narrow or low, or there is no code."""
    parts = [p for p in whole if isinstance(p, Part)]
    if code is None or size.room < 170.0 or not parts:
        return None
    width = round(max(code.side, 0.24 * size.room), 2)
    room = size.room - width - GAP_MM - 0.05
    high = sum(part_mm(p, letters, room) for p in parts) + 0.5
    below = high - _code_mm(code, letters, width)
    if high > size.depth or below < 0.0:
        return None
    (column,), rest = _whole_parts(lesser, [below], width, letters)
    return Zone((tuple(parts), (code, *column)), (room, width)), rest, high


def _code_mm(code: Picture, letters: Letters, width: float) -> float:
    words = Part("", (code.words,), "small")
    return PART_MM + code.side + part_mm(words, letters, width + INDENT_MM["small"])


def _whole_mm(piece: Part | Seats, letters: Letters, size: Size) -> float:
    if isinstance(piece, Seats):
        return seats_mm(piece, letters, size)
    return part_mm(piece, letters, size.room)


def zone_columns(size: Size) -> int:
    """Columns of lesser parts side by side."""
    return 3 if size.room >= 170.0 else 2 if size.room >= 120.0 else 1


def _zone(
    lesser: list[Part], code: Picture | None, left: float, size: Size, letters: Letters
) -> tuple[Zone | None, list[Part], Picture | None, float]:
    """(columns, parts left over, code if left over, height) of what fits ``left`` [mm]."""
    many = zone_columns(size)
    width = (size.room - GAP_MM * (many - 1)) / many - 0.02
    below = _code_mm(code, letters, width) if code is not None else 0.0
    for height in (0.5 * n for n in range(2, int(2.0 * left) + 1)):
        if below <= height:
            columns, rest = _pour(lesser, [height] * (many - 1) + [height - below], width, letters)
            if not rest and columns is not None:
                filled = columns if code is None else [*columns[:-1], [*columns[-1], code]]
                return _zone_of(filled, width), [], None, height + 0.5
    if code is not None and lesser:  # the words first, the code where it finds room
        zone, rest, _, high = _zone(lesser, None, left, size, letters)
        return zone, rest, code, high
    columns, rest = _whole_parts(lesser, [left] * many, width, letters)
    if not any(columns) and left >= size.depth:  # longer than a face
        columns, rest = _pour(lesser, [left] * many, width, letters)
    if not any(columns):
        return None, lesser, code, 0.0
    return _zone_of(columns, width), rest, code, left


def _zone_of(columns: list[list[Part | Picture]], width: float) -> Zone:
    return Zone(tuple(map(tuple, columns)), tuple(round(width, 2) for _ in columns))


def _pour(
    parts: list[Part], heights: list[float], width: float, letters: Letters
) -> tuple[list[list[Part | Picture]], list[Part]]:
    """Items into columns one after the other; a heading never stands without its first item."""
    columns: list[list[Part | Picture]] = [[] for _ in heights]
    at, used = 0, 0.0
    for index, part in enumerate(parts):
        done = 0
        while done < len(part.items):
            piece = _some(part, done, len(part.items))
            while len(piece.items) > 1 and used + part_mm(piece, letters, width) > heights[at]:
                piece = _some(part, done, done + len(piece.items) - 1)
            high = part_mm(piece, letters, width)
            if used + high > heights[at]:
                at, used = at + 1, 0.0
                if at == len(heights):
                    return columns, [_some(part, done, len(part.items)), *parts[index + 1 :]]
                continue
            columns[at].append(piece)
            used += high
            done += len(piece.items)
    return columns, []


def _whole_parts(
    parts: list[Part], heights: list[float], width: float, letters: Letters
) -> tuple[list[list[Part | Picture]], list[Part]]:
    """As many parts, from the first, as find room whole."""
    for many in range(len(parts), 0, -1):
        columns, rest = _pour(parts[:many], heights, width, letters)
        if not rest:
            return columns, parts[many:]
    return [[] for _ in heights], parts


def _some(part: Part, first: int, last: int) -> Part:
    heading = part.heading if first == 0 else ""
    return replace(part, heading=heading, items=part.items[first:last], start=part.start + first)
