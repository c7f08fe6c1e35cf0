"""Values with words of the trade in them: wire, fuse, insulation, colour, kind, duty, legs."""

from __future__ import annotations

import re
from datetime import date
from typing import Any

from circuitplan import units
from circuitplan.model.plan import Duty, FuseSpec, FuseType
from circuitplan.planfile import fuse_curve
from circuitplan.planfile.tree import Node, listed, nearest
from circuitplan.planfile.values import (
    Context,
    Value,
    choice,
    quantity,
    text,
    text_value,
    yes_no,
)
from circuitplan.units import UnitError

PRACTICES = ("general", "rescue vehicle", "small craft")
ENGINE_STATES = ("off", "idle", "high idle", "cruise")
WAYS = ("open", "conduit", "sheath")
MATERIALS = ("copper", "tinned copper", "copper-clad aluminium")
FUSE_FAMILIES = (
    "C", "E", "F", "SF30", "SF51", "bolt-in", "class T", "breaker", "output",
)  # fmt: skip

# IEC 60757, letter codes of colours.
COLOURS = {
    "black": "BK", "brown": "BN", "red": "RD", "orange": "OG", "yellow": "YE", "green": "GN",
    "blue": "BU", "violet": "VT", "purple": "VT", "grey": "GY", "gray": "GY", "white": "WH",
    "pink": "PK", "turquoise": "TQ",
}  # fmt: skip


def wire_size() -> Value:
    """A size that the tables hold, as (gauge, size); (gauge, None) for "unknown"."""

    def parse(given: str, context: Context) -> units.WireWords:
        from circuitplan.library import conductors

        found = units.parse_wire(given, context.gauge)
        if found.size is None or conductors.get(found.gauge, found.size) is not None:
            return found
        sizes = conductors.all_of(found.gauge)
        labels = [conductor.label for conductor in sizes]
        wanted = _rank(found)
        ranked = sorted(sizes, key=lambda c: abs(_rank(units.WireWords(c.gauge, c.size)) - wanted))
        near = [c.label for c in ranked[:2]]
        raise UnitError(
            f"'{given}', which is no size of the {found.gauge} table",
            listed(labels, 40), f"nearest sizes: {' and '.join(near)}",
        )  # fmt: skip

    return text_value(
        parse, {"type": "string", "examples": ["2.5 mm2", "14 AWG", "4/0 AWG", "unknown"]}
    )


def _rank(wire: units.WireWords) -> float:
    """Sizes in a row: mm² as they are, numbers by count (4/0 is three steps past 1/0)."""
    size = wire.size or "0"
    if "/" in size:
        return 1.0 - float(size[0])
    return float(size)


def fuse() -> Value:
    """A protective device: its rating, its type if known, or none; or keys, for a maker's curve."""

    def parse(given: str, context: Context) -> FuseSpec:
        found = units.parse_fuse(given)
        kind: Any = found.type
        return FuseSpec(found.rating_a, kind, found.none, found.self_resetting)

    plain = {"type": "string", "examples": ["40 A", "40 A E", "125 A class T", "none"]}
    return _spelt_out(text_value(parse, plain), None)


def breaker() -> Value:
    """A breaker: its rating, and whether it closes again by itself; or keys, with its curve."""

    def parse(given: str, context: Context) -> FuseSpec:
        words = units.tidy(given)
        resets = bool(re.search(r"(self|auto)[- ]reset\w*", words, re.IGNORECASE))
        rating = re.sub(r",?\s*(self|auto)[- ]reset\w*", "", words, flags=re.IGNORECASE)
        found = units.parse_fuse(rating)
        if found.none or found.type not in (None, "breaker") or found.rating_a is None:
            raise UnitError(f"'{given}'", "a rating as 125 A", "give the breaker's rating")
        return FuseSpec(found.rating_a, "breaker", self_resetting=resets)

    plain = {"type": "string", "examples": ["125 A", "20 A self-resetting"]}
    return _spelt_out(text_value(parse, plain), "breaker")


def _spelt_out(plain: Value, kind: FuseType | None) -> Value:
    """A device in one text, or in keys: ``{rating: 40 A, type: E, curve: maker.csv}``."""
    parts: dict[str, Value] = {
        "rating": quantity("current"),
        "curve": text(),
        "breaking": quantity("current"),
    }
    if kind is None:
        parts["type"] = choice(FUSE_FAMILIES)
    else:
        parts["self_resetting"] = yes_no()

    def read(node: Node, key: str, context: Context) -> FuseSpec | None:
        if node.entries is None:
            found: FuseSpec | None = plain.read(node, key, context)
            return found
        before = context.troubles.noted
        said: dict[str, Any] = {}
        for key_node, value in node.entries:
            word = key_node.text or ""
            if word not in parts:
                near = nearest(word, parts)
                context.troubles.add(
                    key_node.spot, f"the unknown key '{word[:60]}' of {key}", listed(parts),
                    f"did you mean {near}?" if near else "use one of these keys",
                )  # fmt: skip
            elif not value.spoilt:
                said[word] = parts[word].read(value, f"{key}: {word}", context)
        if "rating" not in said:
            context.troubles.add(
                node.spot, f"{key} without 'rating'", "rating: 40 A", "add the rating"
            )
        if context.troubles.noted > before:
            return None
        type_ = kind or said.get("type")
        curve = None
        if "curve" in said:
            curve = fuse_curve.read(
                said["curve"], context.folder, said["rating"], type_ == "breaker", node.spot,
                context.troubles,
            )  # fmt: skip
            if curve is None:
                return None
            context.drawn_in[curve.file] = curve.sha256
        resets = bool(said.get("self_resetting", False))
        return FuseSpec(
            said["rating"], type_, self_resetting=resets, curve=curve,
            breaking_a=said.get("breaking"),
        )  # fmt: skip

    group = {
        "type": "object",
        "properties": {name: dict(value.schema) for name, value in parts.items()},
        "required": ["rating"],
        "additionalProperties": False,
    }
    return Value(read, {"anyOf": [plain.schema, group]})


_CLASS = re.compile(r"([+-]?[0-9.]+\s*(?:(?:°|deg)?\s*[CFK]\b)?)[\s,]*(.*)", re.IGNORECASE)


def insulation() -> Value:
    """A temperature class and, if declared, the material: (105.0, "PVC")."""

    def parse(given: str, context: Context) -> tuple[float, str | None]:
        from circuitplan.library import insulation as table

        match = _CLASS.fullmatch(units.tidy(given))
        number, words = (match[1], match[2]) if match else (given, "")
        class_c = units.parse(number, "temperature")
        classes = table.classes()
        if round(class_c, 6) not in classes:
            raise UnitError(
                f"'{given}', no class of the tables",
                " ".join(["a class:", listed(f"{c:g} °C" for c in classes)]),
                "give what is printed on the wire; between two classes, the lower one",
            )
        class_c = round(class_c, 6)
        material = table.material_name(words) if words else None
        if words and (material is None or table.get(class_c, material) is None):
            known = sorted(
                {i.material for i in table.all_of() if i.material and i.class_c == class_c}
            )
            raise UnitError(
                f"'{given}', with a material that the tables do not hold at {class_c:g} °C",
                listed(known) or "no material",
                "name one of these, or give the temperature alone",
            )
        return class_c, material

    return text_value(
        parse, {"type": "string", "examples": ["105 °C", "105 °C PVC", "125 °C cross-linked"]}
    )


def material() -> Value:
    """What the conductor is made of."""
    also = {
        "cca": MATERIALS[2],
        "copper-clad aluminum": MATERIALS[2],
        "tinned": MATERIALS[1],
        "copper clad aluminium": MATERIALS[2],
        "copper clad aluminum": MATERIALS[2],
    }
    return choice(MATERIALS, also)


def colour() -> Value:
    """A wire's colour in the letters of IEC 60757, base/tracer; English words will do."""
    letters = tuple(dict.fromkeys(COLOURS.values()))

    def parse(given: str, context: Context) -> str:
        parts = [part.strip() for part in re.split(r"[/-]", units.tidy(given))]
        found = [COLOURS.get(part.lower(), part.upper()) for part in parts]
        if not 1 <= len(found) <= 2 or any(part not in letters for part in found):
            near = nearest(parts[0], COLOURS)
            raise UnitError(
                f"'{given[:40]}'", f"{listed(letters)}; with a tracer as RD/BK",
                f"did you mean {COLOURS[near]}?" if near else "use these letters, or plain words",
            )  # fmt: skip
        return "/".join(found)

    return text_value(parse, {"type": "string", "examples": ["RD", "RD/BK", "brown"]})


def kind() -> Value:
    """A kind of accessory that the tables know, in any wording of it; kept as worded."""

    def parse(given: str, context: Context) -> str:
        from circuitplan.library import kinds

        plain = " ".join(given.split())
        if kinds.find(plain) is not None:
            return plain
        from circuitplan.planfile import spoken_kinds  # for mistakes only

        apart = spoken_kinds.elsewhere(plain)
        if apart is not None:
            raise UnitError(f"'{plain[:60]}', {apart[0]}", f"it belongs to {apart[1]}", apart[2])
        near = kinds.nearest(plain) if context.hints else []
        remedy = "leave kind out and give power or current"
        if near:
            remedy = f"did you mean {' or '.join(near)}? Else {remedy}"
        raise UnitError(
            f"'{plain[:60]}', no kind of the tables",
            "a kind listed by 'circuitplan tables kinds'", remedy,
        )  # fmt: skip

    return text_value(parse, {"type": "string", "examples": ["fridge", "twin-motor compressor"]})


def iso_date() -> Value:
    """A date as ISO 8601 writes it."""

    def parse(given: str, context: Context) -> str:
        plain = given.strip()
        try:
            if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", plain):
                raise ValueError
            return date.fromisoformat(plain).isoformat()
        except ValueError:
            raise UnitError(
                f"'{plain[:40]}'", "a date as 2026-03-02", "write year-month-day (ISO 8601)"
            ) from None

    return text_value(parse, {"type": "string", "format": "date", "examples": ["2026-03-02"]})


def duty() -> Value:
    """Time on in a cycle."""

    def parse(given: str, context: Context) -> Duty:
        found = units.parse_duty(given)
        return Duty(found.on_s, found.period_s)

    return text_value(parse, {"type": "string", "examples": ["60 s in 10 min"]})
