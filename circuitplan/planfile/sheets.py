"""Tables to the tree: heads to keys, rows to entries. CSV is read here, XLSX in workbook.py."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from itertools import zip_longest

from circuitplan.planfile import list_switches
from circuitplan.planfile.fields import ACCESSORY
from circuitplan.planfile.heads import Cell, Head, heads_of, read_heads
from circuitplan.planfile.key_forms import Field, Section
from circuitplan.planfile.tree import Node, Spot, Troubles

MOST_ROWS = 2000

_BARE_NUMBER = re.compile(
    r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?|[1-4]/0|0{2,4}"
)
_COMMA_NUMBER = re.compile(r"([+-]?[0-9]+),([0-9]+)(\s*[^0-9,;]*)")
_POINT_THOUSANDS = re.compile(r"[+-]?[0-9]{1,3}(\.[0-9]{3})+(,[0-9]+)?(\s*[^0-9,;]*)")
_ERROR_VALUES = ("#REF!", "#N/A", "#VALUE!", "#DIV/0!", "#NAME?", "#NUM!", "#NULL!")


def csv_tree(text: str, file: str, troubles: Troubles) -> Node:
    """The tree of a list of accessories; comma, semicolon or tab, found by the heads."""
    text = text.removeprefix("\ufeff")
    first = text.split("\n", 1)[0].strip()
    skipped = 0
    mark = _separator(text)
    if re.fullmatch(r"sep=.", first, re.IGNORECASE):  # spreadsheets write this line
        mark, skipped = first[4], 1
        text = text.split("\n", 1)[1] if "\n" in text else ""
        mark = "\t" if mark == "" else mark
    rows: list[list[Cell]] = []
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True)
    line = skipped
    try:
        for record in reader:
            begun, line = line + 1, reader.line_num + skipped
            rows.append([
                Cell(cell.strip(), Spot(file, begun, cell=f"{letters(i)}{begun}"))
                for i, cell in enumerate(record)
            ])  # fmt: skip
            if len(rows) > MOST_ROWS:
                break
    except csv.Error as error:
        troubles.add(
            Spot(file, reader.line_num + skipped), f"broken CSV: {error}",
            "quotes closed, and doubled inside quotes", "save it again from the spreadsheet",
        )  # fmt: skip
    items = table(rows, ACCESSORY, Spot(file, 1), troubles, comma=mark == ";")
    start = Spot(file, 1)
    items, switches = list_switches.split(items, troubles)
    entries = [(Node(start, text="accessories"), items)]
    if switches is not None:
        entries.append((Node(start, text="switches"), switches))
    return Node(start, entries=tuple(entries))


def letters(index: int) -> str:
    """The name of a column: A, B ... Z, AA."""
    name = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        name = chr(65 + rest) + name
    return name


def _separator(text: str) -> str:
    head = next((line for line in text.split("\n") if line.strip()), "")
    outside = re.sub(r'"[^"]*"', "", head)
    counts = {mark: outside.count(mark) for mark in (",", ";", "\t")}
    return max(counts, key=lambda mark: counts[mark])


def table(
    rows: Sequence[Sequence[Cell]],
    section: Section,
    spot: Spot,
    troubles: Troubles,
    comma: bool = False,
    named: bool = False,
) -> Node:
    """Rows under heads as a list of entries, or keyed by their name where ``named``.

    ``comma``: numbers may have a decimal comma (files parted by semicolons).
    """
    filled = [row for row in rows if any(cell.text for cell in row)]
    if not filled:
        troubles.add(spot, "an empty list", f"heads in the first row: {heads_of(section, named)}",
                     "write a head for each column, then a row for each entry")  # fmt: skip
        return Node(spot, items=())
    if len(filled) > MOST_ROWS:
        troubles.add(filled[MOST_ROWS][0].spot, f"more than {MOST_ROWS} rows",
                     f"at most {MOST_ROWS}", "delete the rows below the list")  # fmt: skip
        return Node(spot, items=())
    heads = read_heads(filled[0], filled[1:], section, named, troubles)
    names = ("name",) in [head.path for head in heads if head]
    if not names and (named or section.find("name")):
        troubles.add(filled[0][0].spot, "no column 'name'", heads_of(section, named),
                     "give the column of names the head 'name'")  # fmt: skip
        return Node(spot, items=())
    items = []
    for row in filled[1:]:
        pairs: list[tuple[Head, Cell]] = []
        for head, cell in zip_longest(heads, row[: len(heads)]):
            if head is not None and cell is not None and cell.text:
                pairs.append((head, cell))
        for extra in row[len(heads) :]:
            if extra.text:
                troubles.add(
                    extra.spot, f"'{extra.text[:40]}' in a column without a head",
                    "as many cells as heads", "a text with the separator in it goes in quotes",
                )  # fmt: skip
        items.append(group(pairs, section, row[0].spot, troubles, comma))
    if not named:
        return Node(spot, items=tuple(items))
    return Node(spot, entries=tuple(_keyed(item, troubles) for item in items))


def _keyed(item: Node, troubles: Troubles) -> tuple[Node, Node]:
    name = item.get("name")
    rest = tuple(pair for pair in item.entries or () if pair[0].text != "name")
    if name is None:
        troubles.add(item.spot, "a row without a name", "a name in each row", "give it a name")
    return name or Node(item.spot, text="?"), Node(item.spot, entries=rest)


def group(
    pairs: Sequence[tuple[Head, Cell]],
    section: Section,
    spot: Spot,
    troubles: Troubles,
    comma: bool = False,
) -> Node:
    """Keyed entries from heads and cells; a head of two words goes into a group of its own."""
    entries: list[tuple[Node, Node]] = []
    inner: dict[str, list[tuple[Head, Cell]]] = {}
    for head, cell in pairs:
        if len(head.path) > 1:
            if head.path[0] not in inner:
                entries.append((Node(cell.spot, text=head.path[0]), Node(spot)))
            inner.setdefault(head.path[0], []).append((Head(head.path[1:], head.unit), cell))
            continue
        key = head.path[0]
        text = cell_text(cell, section.find(key), head.unit, troubles, comma)
        value = Node(cell.spot, text=text or "", spoilt=text is None)
        entries.append((Node(cell.spot, text=key), value))
    done = []
    for key_node, value in entries:
        deeper = inner.get(key_node.text or "")
        if deeper and value.text is None:
            field = section.find(key_node.text or "")
            below = field.value if field and isinstance(field.value, Section) else section
            value = group(deeper, below, key_node.spot, troubles, comma)
        done.append((key_node, value))
    return Node(spot, entries=tuple(done))


def cell_text(
    cell: Cell, field: Field | None, unit: str | None, troubles: Troubles, comma: bool
) -> str | None:
    """What a cell says, with the unit of its head; None after noting that it cannot be used."""
    text = cell.text
    if text.startswith("=") or text in _ERROR_VALUES:
        what = "an error value" if text in _ERROR_VALUES else "a formula"
        troubles.add(cell.spot, f"'{text[:40]}', {what}", "values and texts",
                     "write the value itself (copy, then paste values)")  # fmt: skip
        return None
    if comma and field is not None and _measured(field):
        if _POINT_THOUSANDS.fullmatch(text):
            troubles.add(
                cell.spot, f"{field.key} is '{text[:40]}', a point that may mark thousands",
                "in a file parted by semicolons: 1500 or 1,5", "write it without the point",
            )  # fmt: skip
            return None
        match = _COMMA_NUMBER.fullmatch(text)
        text = f"{match[1]}.{match[2]}{match[3]}" if match else text
    if unit and _BARE_NUMBER.fullmatch(text):
        return f"{text} {unit}"
    return text


def _measured(field: Field) -> bool:
    """Whether a key's value begins with a number (names and words keep their commas)."""
    if isinstance(field.value, Section):
        return bool(field.value.short)
    examples = field.value.schema.get("examples", ("",))
    return any(character.isdigit() for character in str(examples[0])[:2])
