"""The keys of a connector: ``connector: 2-way``, a standard's name, or the keys below."""

from __future__ import annotations

import re

from circuitplan import units
from circuitplan.planfile import trade
from circuitplan.planfile.key_forms import Field, Section
from circuitplan.planfile.tree import listed, nearest
from circuitplan.planfile.values import Context, Value, check_text, quantity, text_value, yes_no
from circuitplan.units import UnitError

MOST_WAYS = 64
MOST_IN_A_ROW = 16
"""Cavities that can be drawn side by side with what is written in them."""
NONE = "none"
_WAYS = re.compile(r"([0-9]{1,3})[ -]*(?:ways?|poles?|pins?|cavit(?:y|ies))?", re.IGNORECASE)


def _ways() -> Value:
    def parse(given: str, context: Context) -> int:
        from circuitplan.library import connectors

        match = _WAYS.fullmatch(given.strip())
        if match is None or not 1 <= int(match[1]) <= MOST_WAYS:
            known = listed(k.kind for k in connectors.kinds())
            raise UnitError(
                f"'{given[:40]}'", f"1 to {MOST_WAYS} cavities as 2-way; or as kind: {known}",
                "count the cavities of the housing, the empty ones too",
            )
        return int(match[1])

    return text_value(
        parse, {"type": ["integer", "string"], "pattern": "[0-9]", "examples": ["2-way", "4"]}
    )


def _kind() -> Value:
    def parse(given: str, context: Context) -> str:
        from circuitplan.library import connectors

        found = connectors.find(given)
        if found is None:
            names = [k.kind for k in connectors.kinds()]
            near = nearest(given, names)
            raise UnitError(
                f"'{given[:40]}'", listed(names),
                f"did you mean {near}?" if near else "leave kind out and give its ways",
            )
        return found.kind

    return text_value(parse, {"type": "string", "examples": ["ISO 11446 13-pole"]})


def _contact() -> Value:
    def parse(given: str, context: Context) -> str:
        from circuitplan.library import connectors

        names = [t.contact for t in connectors.tabs()]
        plain = re.sub(r"\s*(blade|tab|terminal)s?$", "", " ".join(given.lower().split()))
        plain = re.sub(r"(?<=[0-9])(?=mm)", " ", plain)
        if f"{plain} blade" not in names:
            raise UnitError(
                f"'{given[:40]}'", listed(names),
                "take the width of the blade; leave it out for a contact of another form",
            )
        return f"{plain} blade"

    return text_value(parse, {"type": "string", "examples": ["6.3 mm blade"]})


def _rows() -> Value:
    """How many rows, or the numbers themselves as seen from the wire side: "2 1 / 4 3"."""

    def parse(given: str, context: Context) -> str:
        rows = [row.split() for row in given.replace(",", " ").split("/")]
        cells = [cell for row in rows for cell in row]
        if len(cells) == 1 and len(rows) == 1 and re.fullmatch("[1-9][0-9]?", cells[0]):
            return cells[0]
        if not all(rows) or len(cells) < 2 or any(len(cell) > 3 for cell in cells):
            raise UnitError(
                f"'{given[:40]}'",
                "how many rows, or the moulded numbers seen from the wire side, as 2 1 / 4 3",
                "write the numbers as they stand, rows parted by /",
            )
        widest = max(map(len, rows))
        if widest > MOST_IN_A_ROW:
            raise UnitError(
                f"a row of {widest}", f"at most {MOST_IN_A_ROW} in a row", "write it as two rows"
            )
        return " / ".join(" ".join(row) for row in rows)

    return text_value(parse, {"type": ["integer", "string"], "examples": ["2", "2 1 / 4 3"]})


def _takes() -> Value:
    """The wire that the contacts take: (least, most) mm²."""
    size = trade.wire_size()

    def parse(given: str, context: Context) -> tuple[float, float]:
        from circuitplan.library import conductors

        parts = re.split(r"\s+(?:to|up to)\s+|\s*(?:…|\.\.\.)\s*", units.tidy(given))
        found = []
        for part in parts:
            words = units.parse_wire(part, context.gauge)
            wire = conductors.get(words.gauge, words.size) if words.size is not None else None
            if wire is not None:
                found.append(wire.area_mm2)
        if len(parts) != 2 or len(found) != 2:
            raise UnitError(
                f"'{given[:40]}'", "two sizes of the tables, as 0.5 mm2 to 2.5 mm2",
                "give the thinnest and the thickest wire, as the contact's sheet has them",
            )
        return min(found), max(found)

    schema = {"type": "string", "examples": ["0.5 mm2 to 2.5 mm2", "20 AWG to 14 AWG"]}
    return text_value(parse, schema | {"pattern": size.schema.get("pattern", "[0-9]")})


def _cavity() -> Value:
    def parse(given: str, context: Context) -> str:
        plain = check_text(given, 4)
        return NONE if plain.casefold() == NONE else plain

    return text_value(
        parse, {"type": ["integer", "string"], "minLength": 1, "maxLength": 4, "examples": ["1"]}
    )


CONNECTOR = Section("connector", "what joins wires to an accessory or a panel, to be unplugged", (
    Field("ways", "ways", _ways(), "how many cavities its housing has", "2-way",
          ("poles", "cavities")),
    Field("contact", "contact", _contact(), "its contacts, by the width of the blade",
          "6.3 mm blade"),
    Field("rating", "rating_a", quantity("current"), "what one contact bears, by its maker",
          "15 A"),
    Field("rated_at", "rated_at_c", quantity("temperature", most=300.0, least=-60.0),
          "surroundings up to which that rating holds", "60 °C"),
    Field("class", "class_c", quantity("temperature", most=300.0, least=-60.0),
          "hottest that its parts may get", "105 °C"),
    Field("takes", "takes", _takes(), "thinnest and thickest wire of its contacts",
          "0.5 mm2 to 2.5 mm2"),
    Field("rows", "rows", _rows(),
          "how many rows; or the moulded numbers as seen from the wire side", "2 1 / 4 3"),
    Field("feed", "feed", _cavity(), "cavity of the positive", "1"),
    Field("return", "back", _cavity(), "cavity of the negative; none if it goes past", "2"),
    Field("sealed", "sealed", yes_no(), "yes if each wire has a seal of its own", "yes"),
    Field("kind", "kind", _kind(), "a connector of an open standard", "ISO 11446 13-pole"),
), ("ways", "kind"))  # fmt: skip
