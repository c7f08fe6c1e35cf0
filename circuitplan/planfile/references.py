"""Values that are names: of a switch, a panel, a place ... that the plan must have."""

from __future__ import annotations

from circuitplan.planfile.tree import Node, listed, nearest
from circuitplan.planfile.values import LONGEST_NAME, Context, Value, check_text, text_value
from circuitplan.units import UnitError


def reference(sort: str) -> Value:
    """The name of something in the plan, whatever its capitals."""
    return text_value(
        lambda given, context: resolve(given, sort, context),
        {"type": ["string", "number"], "minLength": 1}, named=True,
    )  # fmt: skip


def references(sort: str) -> Value:
    """One name or a list of names; in a cell of a sheet they are parted by ";" or ","."""
    one = reference(sort)

    def read(node: Node, key: str, context: Context) -> tuple[str, ...] | None:
        if node.items is not None:
            found = [one.read(item, key, context) for item in node.items]
        elif context.sheet and node.text is not None:
            found = [one.read(part, key, context) for part in split_cell(node, sort, context)]
        else:
            found = [one.read(node, key, context)]
        return None if None in found else tuple(dict.fromkeys(found))

    item = {"type": ["string", "number"], "minLength": 1}
    return Value(read, {"anyOf": [item, {"type": "array", "items": item, "minItems": 1}]})


def split_cell(node: Node, sort: str, context: Context) -> list[Node]:
    """A cell's names; a name of the plan that holds a comma stays whole."""
    given = node.text or ""
    if given.strip().casefold() in context.names.get(sort, {}):
        return [node]
    parts = given.split(";") if ";" in given else given.split(",")
    return [Node(node.spot, text=part.strip(), quoted=True) for part in parts if part.strip()]


_SORTS = {
    "switch": "a switch of the plan", "feed": "a panel or a battery of the plan",
    "battery": "a battery of the plan", "place": "a place of the plan",
    "accessory": "an accessory of the plan", "scenario": "a scenario of the plan",
    "partner": "an accessory or a switch of the plan",
}  # fmt: skip


def resolve(given: str, sort: str, context: Context) -> str:
    """``given`` as the plan writes that name, or ``UnitError`` with the nearest one."""
    plain = check_text(given, LONGEST_NAME)
    known = context.names.get(sort, {})
    if plain.casefold() in known:
        return known[plain.casefold()]
    if sort == "place" and (context.any_place or _known_place(plain)):
        return plain
    near = nearest(plain, known.values()) if context.hints else None
    allowed = _SORTS[sort] + (f": {listed(known.values())}" if known else "; it has none")
    if near:
        remedy = f"did you mean {near}?"
    elif "," in plain and all(part.strip().casefold() in known for part in plain.split(",")):
        remedy = f"write several as a list: [{plain}]"
    else:
        section = {
            "feed": "panels",
            "battery": "supply",
            "switch": "switches",
            "accessory": "accessories",
            "partner": "accessories",
        }.get(sort, f"{sort}s")
        remedy = f"add it under {section}, or use one that is there"
    raise UnitError(f"'{plain}', which the plan does not have", allowed, remedy)


def _known_place(given: str) -> bool:
    from circuitplan.library import places

    return places.default(given) is not None
