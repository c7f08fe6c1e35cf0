"""One group of keys read by its section's table."""

from __future__ import annotations

from typing import Any

from circuitplan.planfile import fields
from circuitplan.planfile.key_forms import Field, Section
from circuitplan.planfile.tree import Node, Troubles, listed, nearest
from circuitplan.planfile.values import Context, Value

Values = dict[str, Any]
"""What a group says: the model's field -> value."""


def read_section(
    node: Node,
    section: Section,
    context: Context,
    subject: str = "",
    also: tuple[str, ...] = (),
    required: bool = True,
) -> Values:
    """What one group of keys says, by target; ``also`` names keys that others read."""
    node = _spelt_out(node, section, context)
    if node.entries is None:
        context.troubles.add(
            node.spot, f"{subject or section.name} is {node.describe()}",
            f"keys: {listed(f.key for f in section.fields)}",
            f"write {{{section.fields[0].key}: {section.fields[0].example}}}",
        )  # fmt: skip
        return {}
    found: Values = {}
    said: dict[str, str] = {}
    for key_node, value in node.entries:
        key = key_node.text or ""
        field = section.find(key)
        if field is None:
            if key not in also:
                _unknown_key(key_node, value, section, context, subject, also)
            elif value.is_empty:
                no_value(key_node, "its entries", context)
            continue
        if field.target in said:
            context.troubles.add(
                key_node.spot, f"both {said[field.target]} and {key}", "one of the two",
                "delete one; they mean the same",
            )  # fmt: skip
            continue
        said[field.target] = key
        if value.spoilt:
            continue
        if value.is_empty:
            no_value(key_node, field.example, context)
            continue
        result = _read_field(field, value, context, f"{subject}: {key}" if subject else key)
        if result is not None:
            found[field.target] = result
    if "fuse" in said and "breaker" in said:
        context.troubles.add(
            node.spot, f"{subject} with both fuse and breaker", "one of the two", "delete one"
        )
    if required:
        _need(node, section, said, context, subject)
    return found


def _read_field(field: Field, value: Node, context: Context, key: str) -> Any:
    if isinstance(field.value, Value):
        return field.value.read(value, key, context)
    return read_section(value, field.value, context, key) | _where_of(field.value, value)


def _where_of(section: Section, node: Node) -> Values:
    return {"where": str(node.spot)} if section in (fields.BATTERY, fields.ALTERNATOR) else {}


def _spelt_out(node: Node, section: Section, context: Context) -> Node:
    """One value alone as the key it is meant for: ``S1: 30 A`` as ``S1: {rating: 30 A}``."""
    if node.text is None or not section.short or node.is_empty:
        return node
    keys = [section.find(word) for word in section.short]
    chosen = keys[0]
    for field in keys[1:]:  # a lead: its size or its length, whichever reads
        trial = Context(Troubles(), context.gauge)
        if field and isinstance(field.value, Value):
            field.value.read(node, field.key, trial)
            chosen = chosen if trial.troubles.problems else field
    key = Node(node.spot, text=chosen.key if chosen else "")
    return Node(node.spot, entries=((key, node),))


def _unknown_key(
    key_node: Node, value: Node, section: Section, context: Context, subject: str,
    also: tuple[str, ...],
) -> None:
    from circuitplan.planfile import trade_words  # for mistakes only

    key = key_node.text or ""
    other = trade_words.remedy(key, value.text, section)
    if other is not None:
        whose = f" of {subject}" if subject else ""
        context.troubles.add(key_node.spot, f"the unknown key '{key[:60]}'{whose}", *other)
        return
    known = [word for field in section.fields for word in (field.key, *field.also)] + list(also)
    plain = "_".join(key.lower().replace("-", " ").split())
    near = plain if plain in known else nearest(key, known)
    context.troubles.add(
        key_node.spot,
        f"the unknown key '{key[:60]}'" + (f" of {subject}" if subject else ""),
        listed(known, 60),
        f"did you mean {near}?" if near else "use one of these keys, or delete the line",
    )


def no_value(key_node: Node, example: str, context: Context) -> None:
    """Note a key with nothing behind it."""
    key = (key_node.text or "")[:60]
    context.troubles.add(
        key_node.spot, f"'{key}' without a value", f"a value, as {key}: {example}",
        "give the value, or delete the key",
    )  # fmt: skip


def _need(node: Node, section: Section, said: Values, context: Context, subject: str) -> None:
    for field in section.fields:
        if field.required and field.target not in said:
            what = f"{subject or section.name} without '{field.key}'"
            if field.target == "format":
                what = "a plan that does not say its format"
            context.troubles.add(
                node.spot, what, f"{field.key}: {field.doc}", f"add {field.key}: {field.example}"
            )
