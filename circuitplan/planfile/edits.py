"""Edits of a plan's text that leave every other byte as it stands.

The YAML composer tells where each node begins and ends; an edit is a splice at those marks, so
comments, order, quotes, line ends and style of the rest are untouched. Paths name things the way
the plan does: ``("accessories", "Fridge", "size")``; entries of a list are found by their ``name``.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, TypeAlias

from circuitplan.errors import InputError, Problem
from circuitplan.model.record import record
from circuitplan.planfile.marks import (
    Found,
    NotThereError,
    after_colon,
    child,
    content_end,
    is_empty,
    is_list,
    is_map,
    line_break,
    line_end,
    names,
    walk,
)
from circuitplan.planfile.removals import removed
from circuitplan.planfile.scalars import Value, render, scalar
from circuitplan.planfile.splices import Path, Splice
from circuitplan.units import UnitError, parse_wire

# What a bare value means where the plan allows one alone ("S1: 30 A").
_SHORT_FORMS = {
    "switches": "rating",
    "circuits": "split",
    "places": "ambient",
    "batteries": "capacity",
    "battery": "capacity",
    "alternator": "rated",
}


@record
class Merge:
    """Give the mapping at ``path`` these keys: replaced where they stand, added where not."""

    path: Path
    values: Mapping[str, Value]


@record
class Append:
    """Add one entry at the end of the list at ``path``; the list is made if it is missing."""

    path: Path
    value: Mapping[str, Value]


@record
class Remove:
    """Take out the key or entry at ``path``; ``missing_ok`` lets it be absent."""

    path: Path
    missing_ok: bool = False


Change: TypeAlias = Merge | Append | Remove


def apply(text: str, changes: Sequence[Change]) -> str:
    """Return ``text`` with the changes made, in order.

    Raises InputError when the text is no YAML mapping or a path names nothing in it.
    """
    pending = list(changes)
    while pending:
        marker = "\ufeff" if text.startswith("\ufeff") else ""
        body = text[len(marker) :]
        root = _compose(body)
        splices: list[Splice] = []
        done = 0
        for change in pending:
            try:
                new = list(_splices(body, root, change))
            except NotThereError as missing:
                if splices:
                    break
                raise InputError([_problem(missing)]) from None
            if any(_touch(a, b) for a in new for b in splices):
                break
            splices += new
            done += 1
        for splice in sorted(splices, key=lambda s: s.start, reverse=True):
            body = body[: splice.start] + splice.text + body[splice.end :]
        text = marker + body
        pending = pending[done:]
    return text


def _compose(text: str) -> Any:
    from ruamel.yaml import YAML
    from ruamel.yaml.error import YAMLError

    try:
        root = YAML(typ="safe", pure=True).compose(text)
    except YAMLError as broken:
        raise InputError(
            [Problem("the plan", f"it is not readable YAML: {broken}", "", "mend it first")]
        ) from None
    if root is None or not is_map(root):
        raise InputError(
            [Problem("the plan", "no plan in it", "keys such as accessories", "start one: begin")]
        )
    return root


def _problem(missing: NotThereError) -> Problem:
    import difflib

    near = difflib.get_close_matches(missing.what, missing.known, n=1, cutoff=0.4)
    return Problem(
        "the change asked for",
        f"the plan has no {missing.what!r} there",
        ", ".join(missing.known) or "nothing stands there yet",
        f"write {near[0]!r}" if near else "use a name as the plan writes it",
    )


def _touch(a: Splice, b: Splice) -> bool:
    return a.start <= b.end and b.start <= a.end


def _splices(text: str, root: Any, change: Change) -> Iterator[Splice]:
    if isinstance(change, Merge):
        yield from _merge(text, root, change)
    elif isinstance(change, Append):
        yield _append(text, root, change)
    else:
        yield from removed(text, root, change.path, change.missing_ok)


def _merge(text: str, root: Any, change: Merge) -> Iterator[Splice]:
    path = change.path
    for depth in range(1, len(path) + 1):
        above = walk(root, path[: depth - 1])
        if child(above.node, path[depth - 1]) is None:
            if is_list(above.node):
                raise NotThereError(path[depth - 1], names(above.node))
            nested: Value = change.values
            for word in reversed(path[depth:]):
                nested = {word: nested}
            yield _new_keys(text, above, {path[depth - 1]: nested})
            return
    found = walk(root, path)
    if not is_map(found.node):
        yield _replace(text, found, _unfolded(found, path, change.values))
        return
    fresh: dict[str, Value] = {}
    for key, value in change.values.items():
        there = child(found.node, key)
        if there is None:
            fresh[key] = value
        elif not _same(there.node, value):
            yield _replace(text, there, value)
    if fresh:
        yield _new_keys(text, found, fresh)


def _unfolded(found: Found, path: Path, values: Mapping[str, Value]) -> Value:
    """A short form ("S1: 30 A") written out, with the further keys beside it."""
    if is_empty(found.node):
        return values
    above = path[-2] if len(path) > 1 else ""
    key = _SHORT_FORMS.get(above) or _SHORT_FORMS.get(path[-1])
    if path[-1] == "connector" and not is_list(found.node):
        key = "ways" if str(found.node.value)[:1].isdigit() else "kind"
    if path[-1] == "lead" and not is_list(found.node):
        key = "size" if _is_size(str(found.node.value)) else "length"
    if key is None or is_list(found.node):
        raise NotThereError(next(iter(values)), [])
    if list(values) == [key] and found.node.value:  # the short form says that alone: it stays
        return values[key]
    return {key: str(found.node.value), **values}


def _is_size(text: str) -> bool:
    """Whether a lead's lone value is its wire size; else it is its length."""
    try:
        parse_wire(text)
    except UnitError:
        return False
    return True


def _same(node: Any, value: Value) -> bool:
    if isinstance(value, str):
        return not is_map(node) and not is_list(node) and str(node.value) == value
    if isinstance(value, Mapping) or not is_list(node):
        return False
    return [str(n.value) for n in node.value] == list(value)


def _replace(text: str, found: Found, value: Value) -> Splice:
    node = found.node
    new = render(value)
    if is_empty(node) and found.key is not None:
        at = after_colon(text, found.key)
        return Splice(at, at, " " + new)
    end = content_end(text, node, found.key)
    block = (is_map(node) or is_list(node)) and not node.flow_style
    if not block or found.key is None:
        return Splice(node.start_mark.index, end, new)
    colon = after_colon(text, found.key)
    remark = text[colon : line_end(text, colon)].rstrip()
    return Splice(colon, end, f" {new}{remark}")


def _new_keys(text: str, found: Found, values: Mapping[str, Value]) -> Splice:
    node = found.node
    if not is_map(node):
        return _replace(text, found, values)
    pairs = [f"{scalar(k)}: {render(v)}" for k, v in values.items()]
    if not node.value:
        return Splice(node.start_mark.index, node.end_mark.index, "{" + ", ".join(pairs) + "}")
    last_key, last = node.value[-1]
    end = content_end(text, last, last_key)
    if node.flow_style:
        return Splice(end, end, "".join(f", {pair}" for pair in pairs))
    at = line_end(text, end)
    indent = line_break(text) + " " * int(node.value[0][0].start_mark.column)
    return Splice(at, at, "".join(indent + pair for pair in pairs))


def _append(text: str, root: Any, change: Append) -> Splice:
    try:
        found = walk(root, change.path)
    except NotThereError:
        above = walk(root, change.path[:-1])
        return _new_keys(text, above, {change.path[-1]: [change.value]})
    node = found.node
    if not is_list(node) or not node.value:
        return _replace(text, found, [change.value])
    end = content_end(text, node.value[-1], None)
    if node.flow_style:
        return Splice(end, end, ", " + render(change.value))
    dash = " " * int(node.start_mark.column) + "- "
    last = node.value[-1]
    line = line_break(text)
    if is_map(last) and not last.flow_style:
        gap = "\n" + " " * len(dash)
        pairs = [f"{scalar(k)}: {render(v)}" for k, v in change.value.items()]
        new = gap.replace("\n", line).join(pairs)
    else:
        new = render(change.value)
    at = line_end(text, end)
    return Splice(at, at, line + dash + new)
