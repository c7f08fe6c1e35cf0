"""What must be known before the rest is read: all names, the gauge and the system voltage."""

from __future__ import annotations

from circuitplan.planfile import fields
from circuitplan.planfile.tree import Node, Troubles
from circuitplan.planfile.values import Context, Value


def gather_names(root: Node, context: Context) -> None:
    """All names that others may refer to, before anything that refers is read."""
    names: dict[str, dict[str, str]] = {
        sort: {} for sort in ("place", "feed", "battery", "switch", "accessory", "scenario")
    }
    context.names = names
    supply = root.get("supply")
    batteries = supply.get(fields.BATTERIES) if supply else None
    names["battery"]["battery"] = "battery"  # the vehicle's own, also where the plan omits it
    for key in _keys(batteries):
        _add_name(key, names["battery"], "battery", context)
    names["feed"] |= names["battery"]
    for key in _keys(root.get("places")):
        _add_name(key, names["place"], "place", context)
    for key in _keys(root.get("panels")):
        _add_name(key, names["feed"], "panel or battery", context)
    for key in _keys(root.get("switches")):
        _add_name(key, names["switch"], "switch", context)
    for section, sort in (("accessories", "accessory"), ("scenarios", "scenario"), ("days", "")):
        entries = root.get(section)
        seen = names[sort] if sort else {}
        for item in (entries.items or ()) if entries else ():
            key_node = item.get("name")
            if key_node is not None and key_node.is_text and not key_node.is_empty:
                _add_name(key_node, seen, sort or "day", context)
    names["partner"] = names["switch"] | names["accessory"]
    context.any_place = root.get("places") is None and root.get("legs") is None


def _keys(node: Node | None) -> list[Node]:
    return [key for key, _ in node.entries or ()] if node is not None else []


def _add_name(node: Node, known: dict[str, str], sort: str, context: Context) -> None:
    given = " ".join((node.text or "").split(" ")).strip()
    if given.casefold() in known:
        context.troubles.add(
            node.spot, f"the {sort} name '{given[:60]}' a second time",
            "each name once, whatever its capitals", "give one of the two another name",
        )  # fmt: skip
    else:
        known[given.casefold()] = given


def early_choices(root: Node, context: Context) -> None:
    """Gauge and system decide how other values read; their faults are told later, once."""
    silent = Context(Troubles())
    wire, system = root.get("wire"), root.get("system")
    gauge = wire.get("gauge") if wire is not None else None
    for node, section, key in ((gauge, fields.WIRE, "gauge"), (system, fields.TOP, "system")):
        field = section.find(key)
        if node is None or field is None or not isinstance(field.value, Value):
            continue
        found = field.value.read(node, key, silent)
        if found is not None:
            context.gauge, context.nominal_v = (
                (found, context.nominal_v) if key == "gauge" else (context.gauge, found)
            )
