"""Where the things of a plan's text stand: nodes, line ends and what lies between them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from circuitplan.model.record import record


class NotThereError(Exception):
    """The path leads nowhere in the text as it stands (an earlier change may still add it)."""

    def __init__(self, what: str, known: Sequence[str]) -> None:
        super().__init__(what)
        self.what, self.known = what, tuple(known)


def is_map(node: Any) -> bool:
    """Whether a node holds keys and values."""
    return type(node).__name__ == "MappingNode"


def is_list(node: Any) -> bool:
    """Whether a node holds entries."""
    return type(node).__name__ == "SequenceNode"


def is_empty(node: Any) -> bool:
    """Whether nothing stands behind a key."""
    return not is_map(node) and not is_list(node) and node.value == "" and node.style is None


@record
class Found:
    """A node with what is needed to change it: its key (None in a list) and its parent."""

    node: Any
    key: Any
    parent: Any
    index: int


def key_name(key: Any) -> str:
    """A key's word."""
    return str(key.value)


def child(parent: Any, word: str) -> Found | None:
    """The entry of a mapping or list that goes by this word, capitals forgiven."""
    wanted = word.casefold()
    if is_map(parent):
        for index, (key, node) in enumerate(parent.value):
            if key_name(key).casefold() == wanted:
                return Found(node, key, parent, index)
    elif is_list(parent):
        for index, node in enumerate(parent.value):
            if entry_name(node).casefold() == wanted:
                return Found(node, None, parent, index)
    return None


def entry_name(node: Any) -> str:
    """What an entry of a list is called: its ``name``, or the text itself."""
    if is_map(node):
        return next((str(v.value) for k, v in node.value if key_name(k) == "name"), "")
    return "" if is_list(node) else str(node.value)


def names(parent: Any) -> list[str]:
    """What the entries of a mapping or list are called."""
    if is_map(parent):
        return [key_name(k) for k, _ in parent.value]
    return [entry_name(n) for n in parent.value] if is_list(parent) else []


def walk(root: Any, path: Sequence[str]) -> Found:
    """What stands at ``path``; raises NotThereError naming the first part that is missing."""
    found = Found(root, None, None, 0)
    for word in path:
        below = child(found.node, word)
        if below is None:
            raise NotThereError(word, names(found.node))
        found = below
    return found


def after_colon(text: str, key: Any) -> int:
    """The position behind a key's colon."""
    return text.index(":", key.end_mark.index) + 1


def content_end(text: str, node: Any, key: Any) -> int:
    """Where the last visible character of a node ends (block nodes' own mark runs on)."""
    if is_empty(node):
        return after_colon(text, key) if key is not None else int(node.start_mark.index)
    if (is_map(node) or is_list(node)) and not node.flow_style and node.value:
        if is_map(node):
            last_key, last = node.value[-1]
            return content_end(text, last, last_key)
        return content_end(text, node.value[-1], None)
    span = text[node.start_mark.index : node.end_mark.index]
    return int(node.start_mark.index) + len(span.rstrip())


def line_end(text: str, position: int) -> int:
    """Index of the line break (or the end of text) at or after ``position``."""
    ends = [i for i in (text.find("\r", position), text.find("\n", position)) if i >= 0]
    return min(ends, default=len(text))


def line_start(text: str, position: int) -> int:
    """Where the line of a position begins."""
    return text.rfind("\n", 0, position) + 1


def line_break(text: str) -> str:
    """The line end that the text uses."""
    return "\r\n" if "\r\n" in text else "\n"


def past_break(text: str, position: int) -> int:
    """The position behind a line end, if one stands here."""
    if text.startswith("\r\n", position):
        return position + 2
    return min(position + 1, len(text))


def dash_line(text: str, found: Found) -> int:
    """Where the line of a list entry's dash begins."""
    column = int(found.parent.start_mark.column)
    start = line_start(text, found.node.start_mark.index)
    while start > 0 and text[start + column : start + column + 1] != "-":
        start = line_start(text, start - 1)
    return start
