"""Values of several parts: the vehicle's own load, a leg as a list, what runs in a scenario."""

from __future__ import annotations

import re
from typing import Any

from circuitplan import units
from circuitplan.model.plan import Running
from circuitplan.planfile.references import reference, resolve
from circuitplan.planfile.trade import ENGINE_STATES, WAYS
from circuitplan.planfile.tree import Node
from circuitplan.planfile.values import (
    Context,
    Value,
    choice,
    quantity,
    text_value,
    whole,
)
from circuitplan.units import UnitError


def ratio() -> Value:
    """A drive ratio: 2.7, or 2.7:1."""

    def parse(given: str, context: Context) -> float:
        plain = units.tidy(given).removesuffix(":1").strip()
        if not re.fullmatch(r"[0-9]+(\.[0-9]+)?", plain) or not 0.5 <= float(plain) <= 6.0:
            raise UnitError(
                f"'{plain[:40]}'", "a ratio from 0.5 to 6, as 2.7", "divide the pulleys' diameters"
            )
        return float(plain)

    return text_value(parse, {"type": ["string", "number"], "examples": ["2.7"]})


def alternator_curve() -> Value:
    """A maker's curve in a CSV beside the plan: points of (shaft r/min, ampere)."""

    def parse(given: str, context: Context) -> tuple[tuple[float, float], ...]:
        from circuitplan.planfile import alternator_curve as curve

        points, digest = curve.read(given.strip(), context.folder)
        context.drawn_in[given.strip()] = digest
        return points

    return text_value(parse, {"type": "string", "pattern": r"\.csv$", "examples": ["maker.csv"]})


LOAD_STATES = (*ENGINE_STATES, "parked")


def vehicle_load() -> Value:
    """What the vehicle itself draws, by state; one current alone is for all with engine on."""
    current = quantity("current", zero=True)
    states = LOAD_STATES
    state = choice(states)

    def read(node: Node, key: str, context: Context) -> Any:
        if node.entries is None:
            amount = current.read(node, key, context)
            return None if amount is None else tuple((s, amount) for s in ENGINE_STATES[1:])
        found = []
        for name_node, value in node.entries:
            which = state.read(name_node, f"a key of {key}", context)
            amount = current.read(value, f"{key}, {name_node.text}", context)
            if which is not None and amount is not None:
                found.append((which, amount))
        return tuple(sorted(found, key=lambda pair: states.index(pair[0])))

    amounts = {
        "type": "object",
        "additionalProperties": False,
        "properties": dict.fromkeys(states, current.schema),
    }
    return Value(read, {"anyOf": [current.schema, amounts]})


def leg_parts() -> Value:
    """A leg as a list: [from, to, length, way, joints]; the last two may be left out."""
    place, length = reference("place"), quantity("length")
    way, joints = choice(WAYS), whole(0, 50)

    def read(node: Node, key: str, context: Context) -> Any:
        parts = node.items or ()
        if not 3 <= len(parts) <= 5:
            context.troubles.add(
                node.spot, f"a leg with {len(parts)} parts",
                "[from, to, length], then open, conduit or sheath, then body joints",
                "write for instance [cab, bed, 3.1 m, conduit]",
            )  # fmt: skip
            return None
        found: dict[str, Any] = {
            "a": place.read(parts[0], "the leg's first place", context),
            "b": place.read(parts[1], "the leg's second place", context),
            "length_m": length.read(parts[2], "the leg's length", context),
        }
        if len(parts) > 3:
            found["way"] = way.read(parts[3], "the leg's way", context)
        if len(parts) > 4:
            found["joints"] = joints.read(parts[4], "the leg's joints", context)
        return None if None in found.values() else found

    return Value(read, {"type": "array", "minItems": 3, "maxItems": 5})


def running() -> Value:
    """What runs in a scenario: a share of the time, or a time; a list runs all the time."""

    def amount(node: Node, name: str, context: Context) -> Running | None:
        if node.text is None:
            context.troubles.add(
                node.spot,
                f"running {name} is {node.describe()}",
                "a share as 50 %, or a time as 4 min",
                "write one value",
            )
            return None
        plain = units.tidy(node.text)
        try:
            if "%" in plain or "percent" in plain.lower():
                share = units.parse(plain, "percent") / 100.0
                if share > 1.0:
                    raise UnitError(f"'{plain}'", "0 % to 100 %", "give a share of the time")
                return Running(name, share=share)
            if not re.search("[A-Za-z]", plain):
                raise UnitError(
                    f"'{plain}', a number without a unit",
                    "a share as 50 %, or a time as 4 min",
                    "add % or min",
                )
            return Running(name, seconds=units.parse(plain, "time"))
        except UnitError as error:
            context.troubles.add(
                node.spot, f"running {name} is {error.found}", error.allowed, error.remedy
            )
            return None

    def read(node: Node, key: str, context: Context) -> tuple[Running, ...] | None:
        pairs: list[tuple[Node, Node | None]] = []
        if node.entries is not None:
            pairs = list(node.entries)
        elif node.items is not None:
            pairs = [(item, None) for item in node.items]
        else:
            pairs = _running_cell(node, context.sheet)
        found: dict[str, Running] = {}
        for name_node, value in pairs:
            try:
                which = resolve(name_node.text or "", "accessory", context)
            except UnitError as error:
                context.troubles.add(
                    name_node.spot, f"{key} names {error.found}", error.allowed, error.remedy
                )
                continue
            run = Running(which, share=1.0) if value is None else amount(value, which, context)
            if which in found:
                context.troubles.add(
                    name_node.spot,
                    f"{key} names '{which}' twice",
                    "each accessory once",
                    "delete one of the two",
                )
            elif run is not None:
                found[which] = run
        return tuple(found.values())

    each = {"type": "object", "additionalProperties": {"type": "string"}}
    return Value(read, {"anyOf": [each, {"type": "array", "items": {"type": "string"}}]})


def _running_cell(node: Node, sheet: bool) -> list[tuple[Node, Node | None]]:
    """A cell of a sheet: "Fridge: 100 %; Winch: 4 min"."""
    pairs: list[tuple[Node, Node | None]] = []
    for part in (node.text or "").split(";") if sheet else [node.text or ""]:
        name, colon, value = part.rpartition(":")
        if not part.strip():
            continue
        name_node = Node(node.spot, text=(name if colon else part).strip(), quoted=True)
        pairs.append((name_node, Node(node.spot, text=value.strip()) if colon else None))
    return pairs
