"""Taking a key or an entry out of a plan's text: from a list, a mapping, braces or brackets."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from circuitplan.planfile.marks import (
    Found,
    NotThereError,
    after_colon,
    content_end,
    dash_line,
    is_list,
    is_map,
    line_end,
    line_start,
    past_break,
    walk,
)
from circuitplan.planfile.splices import Path, Splice


def removed(text: str, root: Any, path: Path, missing_ok: bool) -> Iterator[Splice]:
    """The splices that take out the key or entry at ``path``, with its line where it has one.

    Raises NotThereError where nothing stands there, unless ``missing_ok``.
    """
    try:
        found = walk(root, path)
    except NotThereError:
        above = _lone_value(root, path)
        if above is None:
            if missing_ok:
                return
            raise
        found = above
    parent = found.parent
    if len(parent.value) == 1:
        yield _emptied(text, root, path, parent)
        return
    if parent.flow_style:
        yield _out_of_flow(text, found)
        return
    if found.key is not None:
        first = found.key.start_mark.index
        if text[line_start(text, first) : first].strip():
            # the first key of a list entry shares its line with the dash: the next one moves up
            yield Splice(first, parent.value[1][0].start_mark.index, "")
            return
        start = line_start(text, first)
    else:
        start = dash_line(text, found)
    end = past_break(text, line_end(text, content_end(text, found.node, found.key)))
    yield Splice(start, end, "")


def _lone_value(root: Any, path: Path) -> Found | None:
    """``needs: S1`` holds one value without a list: taking out S1 takes out the key."""
    try:
        above = walk(root, path[:-1])
    except NotThereError:
        return None
    node = above.node
    lone = above.key is not None and not is_map(node) and not is_list(node)
    return above if lone and str(node.value).casefold() == path[-1].casefold() else None


def _emptied(text: str, root: Any, path: Path, parent: Any) -> Splice:
    empty = "{}" if is_map(parent) else "[]"
    if parent.flow_style:
        return Splice(parent.start_mark.index, parent.end_mark.index, empty)
    above = walk(root, path[:-1])
    if above.node is not parent:  # the lone value of a key that is itself the only one
        above = walk(root, path[:-2])
    if above.key is None:
        end = content_end(text, parent, None)
        return Splice(parent.start_mark.index, end, empty)
    colon = after_colon(text, above.key)
    remark = text[colon : line_end(text, colon)].rstrip()
    return Splice(colon, content_end(text, parent, above.key), f" {empty}{remark}")


def _out_of_flow(text: str, found: Found) -> Splice:
    entries = found.parent.value
    keyed = is_map(found.parent)

    def start(index: int) -> int:
        return int((entries[index][0] if keyed else entries[index]).start_mark.index)

    if found.index + 1 < len(entries):
        return Splice(start(found.index), start(found.index + 1), "")
    before = entries[found.index - 1]
    end = content_end(text, before[1], before[0]) if keyed else content_end(text, before, None)
    return Splice(end, content_end(text, found.node, found.key), "")
