"""YAML text to a tree, every value as its source text, every fault in plain words.

The events of the YAML library are used, not its objects: no value is guessed to be a number, a
truth value or a date, the same key twice is seen, and anchors, aliases and tags (with which a
small file can grow without bound) are refused.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any, NoReturn

from circuitplan.errors import InputError, Problem
from circuitplan.planfile.tree import Node, Spot, Troubles

DEEPEST = 12
MOST_VALUES = 20_000

PROSE = ("reason", "note")
"""Keys of free words: in braces, a comma and what follows without a colon still belong to them."""

_CUT = re.compile(r"( +)#(.*)")
_UNPRINTABLE = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u2028\u2029\ufffe\uffff\ud800-\udfff]"
)


def compose(text: str, file: str, troubles: Troubles, pure: bool = False) -> Node:
    """The tree of a YAML text; faults that leave a tree go to ``troubles``, others raise.

    ``pure`` forces the slower parser written in Python (twenty times, measured), which is used
    where the one in C is not installed; what both read, they read alike.
    """
    odd = _UNPRINTABLE.search(text)
    if odd:
        line = text.count("\n", 0, odd.start()) + 1
        _stop(
            Spot(file, line),
            f"the unprintable character {ord(odd[0]):#06x}",
            "plain text in UTF-8",
            "this may be no text file at all; else delete the character",
        )
    return _Composer(text, file, troubles, pure).tree()


def _stop(spot: Spot, found: str, allowed: str, remedy: str) -> NoReturn:
    problem = Problem(str(spot), found, allowed, remedy, spot.file, spot.line, spot.cell)
    raise InputError([problem])


class _Composer:
    def __init__(self, text: str, file: str, troubles: Troubles, pure: bool) -> None:
        self.lines = text.split("\n")
        self.text, self.file, self.troubles, self.pure = text, file, troubles, pure
        self.values = 0

    def tree(self) -> Node:
        from ruamel.yaml import YAML
        from ruamel.yaml.error import YAMLError

        events = iter(YAML(typ="safe", pure=self.pure).parse(self.text))
        found: Node | None = None
        try:
            for event in events:
                name = type(event).__name__
                if name == "DocumentStartEvent":
                    if found is not None:
                        _stop(
                            self.spot(event),
                            "a second document ('---' or '...' in the middle)",
                            "one plan in a file",
                            "delete the line, or put the second plan into a file of its own",
                        )
                    found = self.node(next(events), events, 0)
        except YAMLError as error:
            self.broken(error)
        if found is None or found.is_empty:
            _stop(
                Spot(self.file, 1),
                "an empty file",
                "a plan that begins with 'circuitplan: 1'",
                "write a starter plan with 'circuitplan begin'",
            )
        return found

    def spot(self, event: Any) -> Spot:
        return Spot(self.file, event.start_mark.line + 1)

    def node(self, event: Any, events: Any, depth: int) -> Node:
        name = type(event).__name__
        spot = self.spot(event)
        self.values += 1
        if self.values > MOST_VALUES:
            _stop(
                spot, f"more than {MOST_VALUES} values", f"at most {MOST_VALUES}", "split the plan"
            )
        if depth > DEEPEST:
            _stop(
                spot, f"brackets or indents nested deeper than {DEEPEST}",
                "the few levels that a plan has", "look for a bracket too many",
            )  # fmt: skip
        if name == "AliasEvent" or event.anchor is not None:
            mark = "*" if name == "AliasEvent" else "&"
            _stop(
                spot, f"'{mark}{event.anchor}', a YAML alias", "values written out",
                f"write the value itself; a text that begins with {mark} goes in quotes",
            )  # fmt: skip
        if event.tag is not None and str(event.tag):
            _stop(
                spot, f"'{event.tag}', a YAML tag", "values without tags",
                "delete it; a text that begins with ! goes in quotes",
            )  # fmt: skip
        if name == "ScalarEvent":
            return self.scalar(event, spot)
        if name == "SequenceStartEvent":
            items = []
            while type(event := next(events)).__name__ != "SequenceEndEvent":
                items.append(self.node(event, events, depth + 1))
            return Node(spot, items=tuple(items))
        return self.mapping(spot, bool(event.flow_style), events, depth)

    def mapping(self, spot: Spot, braces: bool, events: Any, depth: int) -> Node:
        entries: list[tuple[Node, Node]] = []
        seen: set[str] = set()
        while type(event := next(events)).__name__ != "MappingEndEvent":
            key = self.node(event, events, depth + 1)
            end = event.end_mark
            value_event = next(events)
            value = self.node(value_event, events, depth + 1)
            if key.text is None:
                self.troubles.add(
                    key.spot, f"{key.describe()} in the place of a key", "a word as key",
                    "put the text in quotes, or mend the brackets",
                )  # fmt: skip
                continue
            if key.text in seen:
                self.troubles.add(
                    key.spot, f"'{key.text[:60]}' a second time in the same group",
                    "each key and name once", "rename or delete one of the two",
                )  # fmt: skip
                continue
            seen.add(key.text)
            if value.is_empty:  # the two parsers put what is not there in different places
                value = replace(value, spot=key.spot)
            if braces and value.is_empty and not self.colon_after(end, value_event.start_mark):
                if entries and entries[-1][0].text in PROSE and entries[-1][1].text is not None:
                    entries[-1] = (entries[-1][0], _continued(entries[-1][1], key.text))
                    continue
                before = entries[-1][1].text if entries else None
                self.troubles.add(
                    key.spot, f"'{key.text[:60]}' between commas in braces, a key without a value",
                    "key: value, key: value",
                    _comma_remedy(before, key.text),
                )  # fmt: skip
                continue
            entries.append((key, value))
        return Node(spot, entries=tuple(entries))

    def colon_after(self, start: Any, end: Any) -> bool:
        """Whether a colon stands between a key's end and where its empty value is put."""
        if start.line != end.line:
            return ":" in self.lines[start.line][start.column :]
        return ":" in self.lines[start.line][start.column : end.column + 1]

    def scalar(self, event: Any, spot: Spot) -> Node:
        quoted = event.style not in (None, "")
        cut = None
        end = event.end_mark
        if not quoted and event.value and end.line < len(self.lines):
            after = _CUT.match(self.lines[end.line], end.column)
            if after and (len(after[1]) == 1 or after[2][:1] not in ("", " ", "#")):
                cut = after[2]
        return Node(spot, text=event.value, quoted=quoted, cut=cut)

    def broken(self, error: Any) -> NoReturn:
        mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
        line = min((mark.line if mark else 0) + 1, len(self.lines))
        said = " ".join(str(getattr(error, "problem", None) or error).split())
        context = " ".join(str(getattr(error, "context", None) or "").split())
        begun = getattr(error, "context_mark", None)
        remedy = _remedy(f"{said} {context}")
        indent = re.match(r"\s*", self.lines[line - 1])
        if indent and "\t" in indent[0]:
            remedy = "indent with spaces, not with a tab"
        opened = begun.line + 1 if begun and begun.line + 1 < line else line
        if any(_CUT.search(part) and "{" in part for part in self.lines[opened - 1 : line]):
            remedy += "; ' #' in braces begins a comment and hides the rest: put the text in quotes"
        where = f"column {mark.column + 1}" if mark else "an unknown column"
        begun_text = f", in what begins on line {opened}" if opened < line else ""
        _stop(
            Spot(self.file, line),
            f"text that is not YAML, at {where}{begun_text}: {said[:120]}",
            "keys and values as 'key: value', indented with spaces, brackets and quotes closed",
            remedy,
        )


def _continued(node: Node, more: str) -> Node:
    return replace(node, text=f"{node.text}, {more}")


def _remedy(said: str) -> str:
    hints = (
        ("'\\t'", "indent with spaces, not with a tab"),
        ("\\t", "indent with spaces, not with a tab"),
        ("mapping values are not allowed", "indent like the lines around; a text with ': ' in it "
         "goes in quotes"),
        ("',' or '}'", "close the brace, or put a comma between the entries"),
        ("',' or ']'", "close the bracket, or put a comma between the entries"),
        ("expected ':'", "put ': ' behind the key"),
        ("quoted scalar", "close the quotes"),
        ("cannot start any token", "put the text in quotes"),
        ("block end", "indent like the lines around"),
        ("did not find expected key", "indent like the lines around, or put the text in quotes"),
        ("alias", "put a text that begins with * in quotes"),
        ("anchor", "put a text that begins with & in quotes"),
    )  # fmt: skip
    for words, hint in hints:
        if words in said:
            return hint
    return "check indents, colons, brackets and quotes here and just above"


def _comma_remedy(before: str | None, after: str) -> str:
    """What to write where a comma in braces cut a text, or a number, in two."""
    if before and re.fullmatch(r"[0-9]+", before) and re.match(r"[0-9]", after):
        return f"write {before}.{after[:40]}: a decimal point"
    joined = f"{before}, {after}" if before else after
    return f'if the comma belongs to the text, put it in quotes: "{joined[:60]}"'
