"""From the tree to the model: each section by its table, every problem noted, none raised."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

from circuitplan.model.plan import (
    Accepted,
    Accessory,
    Alternator,
    Battery,
    Charger,
    Day,
    DrawnIn,
    Job,
    Leg,
    Panel,
    Place,
    Plan,
    Scenario,
    SharedCircuit,
    Supply,
    Switch,
    WireSpec,
)
from circuitplan.planfile import (
    checks,
    composite,
    connectors,
    fields,
    misplaced,
    price_list,
    shelf,
)
from circuitplan.planfile.key_forms import Section
from circuitplan.planfile.keys import Values, no_value, read_section
from circuitplan.planfile.naming import early_choices, gather_names
from circuitplan.planfile.tree import Node, Spot, Troubles
from circuitplan.planfile.values import LONGEST_NAME, Context, check_text
from circuitplan.units import UnitError

Made = TypeVar("Made")
_LEG_PARTS = composite.leg_parts()
_TOP_KEYS = ("supply", *fields.NAMED, *fields.LISTS, *fields.APART)


def read_tree(root: Node, troubles: Troubles, formatted: bool = True) -> Plan:
    """The plan that a tree says; meaningless if ``troubles`` is not empty afterwards.

    ``formatted``: a plan file, which must say its format, system and so on; a list of accessories
    need not.
    """
    context = Context(troubles, sheet=not formatted, folder=Path(root.spot.file).parent)
    if root.entries is None:
        troubles.add(
            root.spot, f"{root.describe()} where a plan should be",
            "keys and their values, the first being 'circuitplan: 1'",
            "begin the file with circuitplan: 1, then a line for each section",
        )  # fmt: skip
        return Plan()
    root = misplaced.set_right(root, troubles)
    gather_names(root, context)
    early_choices(root, context)
    top = read_section(root, fields.TOP, context, also=_TOP_KEYS, required=formatted)
    supply_node = root.get("supply")
    accessories = _many(root, fields.ACCESSORY, Accessory, context)
    if root.get("accessories") is None:
        troubles.add(
            root.spot, "a plan without accessories", "at least one accessory",
            "add 'accessories:' with a line '- {name: Fridge, kind: fridge}' for each",
        )  # fmt: skip
    plan = Plan(
        nominal_v=top.get("nominal_v", 12.0),
        nominal_given="nominal_v" in top,
        title=top.get("title"),
        revision=top.get("revision"),
        job=Job(**top.get("job", {})),
        practice=top.get("practice", "general"),
        gauge=top.get("wire", {}).get("gauge", "metric"),
        wire=_wire({k: v for k, v in top.get("wire", {}).items() if k != "gauge"}),
        chassis_ohm=top.get("chassis_ohm"),
        supply=_supply(supply_node, context) if supply_node else Supply(),
        supply_given=supply_node is not None,
        places=_named(root, fields.PLACE, Place, context),
        legs=_legs(root, context),
        panels=_named(root, fields.PANEL, Panel, context),
        switches=_named(root, fields.SWITCH, Switch, context),
        circuits=_named(root, fields.CIRCUIT, SharedCircuit, context),
        accessories=accessories,
        scenarios=_many(root, fields.SCENARIO, Scenario, context),
        days=_many(root, fields.DAY, Day, context),
        accepted=_many(root, fields.ACCEPTED, Accepted, context),
        price_list=price_list.named(root, context),
        stock=shelf.sizes(root, context),
        unused=_unused(root),
    )
    drawn = sorted(context.drawn_in.items())
    return replace(plan, drawn_in=tuple(DrawnIn(name, digest) for name, digest in drawn))


def _many(root: Node, section: Section, make: type[Made], context: Context) -> tuple[Made, ...]:
    """A section that is a list of groups."""
    node = root.get(section.name)
    if node is None or node.is_empty:
        return ()
    if node.items is None:
        context.troubles.add(
            node.spot, f"{section.name} is {node.describe()}",
            f"a list: lines that begin with '- {section.fields[0].key}: ...'",
            "put '- ' before each entry",
        )  # fmt: skip
        return ()
    made = []
    for item in node.items:
        name = item.get("name") or item.get("rule")
        subject = name.text[:40] if name is not None and name.text else f"one of {section.name}"
        before = context.troubles.noted
        values = read_section(item, section, context, subject)
        if make is Accessory:
            checks.accessory(item, values, context, subject)
        if make is Scenario:
            checks.scenario(item, values, context, subject)
        connectors.settle(item, values, context, subject)
        if context.troubles.noted == before:
            made.append(_make(make, values, item.spot))
    return tuple(made)


def _named(root: Node, section: Section, make: type[Made], context: Context) -> tuple[Made, ...]:
    """A section keyed by name."""
    return _entries(root.get(section.name), section, make, context)


def _entries(
    node: Node | None, section: Section, make: type[Made], context: Context
) -> tuple[Made, ...]:
    if node is None or node.is_empty:
        return ()
    if node.entries is None:
        context.troubles.add(
            node.spot, f"{section.name} is {node.describe()}",
            f"names with what they are, as NAME: {{{section.fields[0].key}: "
            f"{section.fields[0].example}}}", "write the name, a colon, then its keys",
        )  # fmt: skip
        return ()
    made = []
    for key_node, value in node.entries:
        before = context.troubles.noted
        name = key_node.text or ""
        try:
            name = check_text(name, LONGEST_NAME)
        except UnitError as error:
            context.troubles.add(
                key_node.spot, f"a name is {error.found}", error.allowed, error.remedy
            )
        if value.is_empty:
            no_value(key_node, f"{{{section.fields[0].key}: ...}}", context)
            continue
        values = read_section(value, section, context, name[:40])
        if make is Charger:
            checks.charger(value, values, context, name[:40])
        if make is SharedCircuit:
            checks.circuit(key_node, name, context)
        connectors.settle(value, values, context, name[:40])
        if context.troubles.noted == before:
            made.append(_make(make, {"name": name} | values, key_node.spot))
    return tuple(made)


def _make(make: Callable[..., Made], values: Values, spot: Spot) -> Made:
    """One model object; joins the keys that share a field."""
    values = dict(values)
    values.pop("note", None)
    fuse, breaker = values.pop("fuse", None), values.pop("breaker", None)
    if fuse is not None or breaker is not None:
        values["fuse"] = breaker or fuse
    if make is Place:
        _insulation(values, "insulation")
    if make is Charger:
        values.setdefault("source", None)  # solar and shore draw from no battery
    if make in (Panel, Charger, SharedCircuit, Accessory):
        values["wire"] = _wire(values)
    if make is Switch:
        lead = values.pop("lead", {})
        if "lead_m" in lead:
            values["lead_m"] = lead.pop("lead_m")
        values["lead"] = _wire(lead)
        if "signal" in values and "type" not in values:
            values["type"] = "signal"
    if make is Accessory and "drop" in values:
        sort, amount = values.pop("drop")
        values["drop_percent" if sort == "percent" else "drop_v"] = amount
    return make(**values, where=str(spot))


def _wire(values: Values) -> WireSpec:
    """Takes the ``wire.`` values out of ``values``."""
    given = {key[5:]: values.pop(key) for key in list(values) if key.startswith("wire.")}
    size = given.pop("size", None)
    if size is not None:
        given["size"], given["unknown"] = size.size, size.size is None
        if size.size is not None:
            given["gauge"] = size.gauge
    _insulation(given, "insulation")
    return WireSpec(**given)


def _insulation(values: Values, key: str) -> None:
    if key in values:
        values["insulation_c"], values["insulation_material"] = values.pop(key)


def _legs(root: Node, context: Context) -> tuple[Leg, ...]:
    node = root.get("legs")
    if node is None or node.is_empty:
        return ()
    if node.items is None:
        context.troubles.add(
            node.spot, f"legs is {node.describe()}", "a list of legs",
            "write legs: [[engine bay, cab, 2.1 m], [cab, bed, 3.1 m]]",
        )  # fmt: skip
        return ()
    made = []
    for item in node.items:
        before = context.troubles.noted
        if item.entries is not None:
            values = read_section(item, fields.LEG, context, "leg")
        else:
            values = _LEG_PARTS.read(item, "leg", context) or {}
        if context.troubles.noted > before:
            continue
        if values["a"].casefold() == values["b"].casefold():
            context.troubles.add(
                item.spot, f"a leg from {values['a']} to itself", "two places", "mend one end"
            )
            continue
        made.append(Leg(**values, where=str(item.spot)))
    return tuple(made)


def _supply(node: Node, context: Context) -> Supply:
    also = (fields.BATTERIES, fields.CHARGERS)
    values = read_section(node, fields.SUPPLY, context, "supply", also)
    if node.entries is None:
        return Supply()
    first = values.pop("battery", None)
    batteries = _entries(node.get(fields.BATTERIES), fields.BATTERY, Battery, context)
    if first is not None:
        batteries = (Battery(name="battery", **first), *batteries)
    alternator = _alternator(values.pop("alternator", None))
    second = _alternator(values.pop("second_alternator", None))
    return Supply(
        batteries=batteries,
        chargers=_entries(node.get(fields.CHARGERS), fields.CHARGER, Charger, context),
        alternator=alternator,
        second_alternator=second,
        where=str(node.spot),
        **values,
    )


def _alternator(values: Values | None) -> Alternator | None:
    if not values or "rated_a" not in values:
        return None
    for group in ("speeds", "label_speeds", "engine_speeds"):
        values |= values.pop(group, {})
    return Alternator(**values)


def _unused(root: Node) -> tuple[str, ...]:
    """Keys that are legal and that nothing is computed from yet."""
    prices = root.get("prices")
    found = []
    if prices is not None and not (prices.is_text and prices.text):
        found.append("prices")
    accessories = root.get("accessories")
    if accessories and any(item.get("note") for item in accessories.items or ()):
        found.append("note")
    return tuple(found)
