"""How one value of a plan is read: from a node of the tree to a plain Python value.

Each maker below gives a ``Value``: the reading function and its JSON Schema, side by side, so that
what the program reads and what an editor is told cannot part.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from circuitplan import units
from circuitplan.planfile.tree import MOST_PROBLEMS, Node, Troubles, listed, nearest
from circuitplan.units import UnitError

HIGHEST_V = 60.0
"""Extra-low voltage is where this program ends."""

LONGEST_NAME = 80
LONGEST_TEXT = 400

Schema = Mapping[str, Any]


@dataclass(slots=True)
class Context:
    """What reading a value needs to know of the rest of the plan."""

    troubles: Troubles
    gauge: str = "metric"
    nominal_v: float = 12.0
    names: dict[str, dict[str, str]] = field(default_factory=dict)  # sort -> folded -> as written
    any_place: bool = False
    sheet: bool = False  # a cell holds several names by ";" or ","
    folder: Path = Path()  # where the plan lies, and curves beside it
    drawn_in: dict[str, str] = field(default_factory=dict)  # such a file -> SHA-256 as read

    @property
    def hints(self) -> bool:
        """Whether the nearest right word is still worth the search: not after a flood."""
        return len(self.troubles.problems) < MOST_PROBLEMS


@dataclass(frozen=True, slots=True, eq=False)
class Value:
    """``read(node, key, context)`` returns the value, or None after noting what is wrong."""

    read: Callable[[Node, str, Context], Any]
    schema: Schema


def text_value(parse: Callable[[str, Context], Any], schema: Schema, named: bool = False) -> Value:
    """A value that is one text. ``named``: a comment close behind it may be part of it."""

    def read(node: Node, key: str, context: Context) -> Any:
        if node.text is None:
            context.troubles.add(
                node.spot, f"{key} is {node.describe()}", "one value", f"write {key}: value"
            )
            return None
        if named and node.cut is not None:
            cut_short(node, key, context)
            return None
        try:
            return parse(node.text, context)
        except UnitError as error:
            context.troubles.add(node.spot, f"{key} is {error.found}", error.allowed, error.remedy)
            return None

    return Value(read, schema)


def cut_short(node: Node, key: str, context: Context) -> None:
    """Note that ' #' may have cut a name."""
    whole = f"{node.text} #{node.cut}".strip()
    context.troubles.add(
        node.spot,
        f"{key} is '{node.text}', cut short by ' #'",
        "a name in quotes; or two spaces before, and one behind, the # of a comment",
        f'write "{whole[:60]}" in quotes if # belongs to it',
    )


def quantity(
    dimension: str, zero: bool = False, most: float | None = None, least: float | None = None
) -> Value:
    """A number with its unit; above zero unless ``zero``."""
    kind = units.DIMENSIONS[dimension]

    def parse(text: str, context: Context) -> float:
        value = units.parse(text, dimension)
        allowed = f"a {kind.name} as {kind.examples}"
        if value == 0 and not zero and kind.least == 0:
            raise UnitError(f"'{text}', which is zero", allowed, "give it, or leave the key out")
        if most is not None and value > most:
            limit = f"at most {units.show(most, kind.symbol)}"
            raise UnitError(f"'{text}', which is too much", limit, "check the number")
        if least is not None and value < least:
            limit = f"at least {units.show(least, kind.symbol)}"
            raise UnitError(f"'{text}', which is too little", limit, "check the number")
        return value

    return text_value(parse, {"type": "string", "pattern": "[0-9]", "examples": [kind.examples]})


def volts(zero: bool = False) -> Value:
    """A stated voltage; more than 60 V is outside this program."""

    def parse(text: str, context: Context) -> float:
        value = units.parse(text, "voltage")
        if value > HIGHEST_V:
            raise UnitError(
                f"'{text}', above {HIGHEST_V:g} V", f"up to {HIGHEST_V:g} V DC",
                "leave higher voltages, and all of AC, to a qualified electrician",
            )  # fmt: skip
        if value == 0 and not zero:
            raise UnitError(f"'{text}'", f"more than 0, up to {HIGHEST_V:g} V DC", "give the volts")
        return value

    return text_value(parse, {"type": "string", "pattern": "[0-9]", "examples": ["10.5 V"]})


def nominal() -> Value:
    """The system's voltage by name."""

    def parse(text: str, context: Context) -> float:
        value = units.parse(text, "voltage")
        if value not in (12.0, 24.0, 48.0):
            remedy = "give the nominal voltage, not the one measured"
            if value > HIGHEST_V:
                remedy = "more than 60 V DC, and AC, are work for a qualified electrician"
            raise UnitError(f"'{text}'", "12 V, 24 V or 48 V nominal", remedy)
        return value

    return text_value(parse, {"enum": ["12 V", "24 V", "48 V", "12V", "24V", "48V"]})


def check_text(text: str, most: int) -> str:
    """``text`` trimmed; raises ``UnitError`` for line breaks, control characters, over-length."""
    plain = text.strip()
    allowed = f"1 to {most} printable characters on one line"
    for letter in plain:
        if unicodedata.category(letter) in ("Cc", "Cs", "Zl", "Zp") or letter in _HIDDEN:
            what = "a line break" if letter in "\n\r\u2028\u2029" else "a control character"
            shown = "".join(c if c.isprintable() else "?" for c in plain[:40])
            raise UnitError(f"'{shown}', with {what} in it", allowed, "write it on one line")
    if not plain:
        raise UnitError("an empty text", allowed, "give it a name")
    if len(plain) > most:
        raise UnitError(f"'{plain[:30]}...', {len(plain)} characters long", allowed, "shorten it")
    return plain


_HIDDEN = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff"
"""Characters that turn or hide the text after them."""


def name() -> Value:
    """A name, kept as written; < > and & are legal."""
    return text_value(
        lambda text, _: check_text(text, LONGEST_NAME),
        {"type": ["string", "number"], "minLength": 1, "maxLength": LONGEST_NAME}, named=True,
    )  # fmt: skip


def text() -> Value:
    """Free words, on one line."""
    return text_value(
        lambda given, _: check_text(given, LONGEST_TEXT),
        {"type": ["string", "number"], "maxLength": LONGEST_TEXT}, named=True,
    )  # fmt: skip


def yes_no() -> Value:
    """yes or no, in the words YAML has had for them."""
    words = {"yes": True, "true": True, "no": False, "false": False}

    def parse(given: str, context: Context) -> bool:
        found = words.get(given.strip().lower())
        if found is None:
            raise UnitError(f"'{given[:40]}'", "yes or no", "write yes or no")
        return found

    return text_value(parse, {"enum": ["yes", "no", True, False]})


def whole(least: int, most: int) -> Value:
    """A whole number."""

    def parse(given: str, context: Context) -> int:
        plain = given.strip()
        if not re.fullmatch(r"[+]?[0-9]{1,9}", plain) or not least <= int(plain) <= most:
            raise UnitError(
                f"'{plain[:40]}'", f"a whole number from {least} to {most}", "write it in digits"
            )
        return int(plain)

    return text_value(parse, {"type": ["integer", "string"], "minimum": least, "maximum": most})


def choice(options: Sequence[str], also: Mapping[str, str] | None = None) -> Value:
    """One of a few words; ``also`` maps other words for the same."""
    known = {word.casefold(): word for word in options} | dict(also or {})

    def parse(given: str, context: Context) -> str:
        plain = " ".join(given.replace("_", " ").split()).casefold()
        if plain in known:
            return known[plain]
        near = nearest(plain, known)
        remedy = f"did you mean {known.get(near.casefold(), near)}?" if near else "use one of these"
        raise UnitError(f"'{given[:40]}'", listed(options), remedy)

    return text_value(parse, {"enum": [*options, *(also or {})]})


def percent(most: float = 100.0) -> Value:
    """A share of a whole, kept as 0..1."""

    def parse(given: str, context: Context) -> float:
        value = units.parse(given, "percent")
        if value > most:
            raise UnitError(f"'{given[:40]}'", f"0 % to {most:g} %", "give a share of the whole")
        return value / 100.0

    return text_value(parse, {"type": "string", "pattern": "%", "examples": ["40 %"]})


def drop() -> Value:
    """An allowed voltage drop: ("percent", 3.0) or ("volt", 0.5)."""

    def parse(given: str, context: Context) -> tuple[str, float]:
        allowed = "a share of the nominal voltage as 3 %, or volts as 0.5 V"
        plain = units.tidy(given)
        if not re.search(r"[%vV]", plain):
            raise UnitError(f"'{plain[:40]}'", allowed, "add % or V")
        sort = "percent" if re.search("%|p", plain.lower()) else "volt"
        value = units.parse(plain, "percent" if sort == "percent" else "voltage")
        most = 50.0 if sort == "percent" else context.nominal_v / 2
        if not 0 < value <= most:
            raise UnitError(f"'{plain[:40]}'", allowed, "give an allowed drop, as 3 % or 0.5 V")
        return sort, value

    return text_value(parse, {"type": "string", "pattern": "%|V", "examples": ["3 %", "0.5 V"]})
