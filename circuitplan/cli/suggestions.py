"""A word that is no command leads to the right one, with the user's own words filled in."""

from __future__ import annotations

import difflib
import re
import shlex
from pathlib import Path

from circuitplan.errors import InputError, Problem

_PLAN_ENDINGS = (".yaml", ".yml", ".csv", ".xlsx")
_SAME_WORK = {
    "begin": "new start init create setup template",
    "check": "verify validate plan review overload overloads ok",
    "print": "report summary pdf html export card printout paper labels",
    "size": "fuse wire-size gauge cable awg relay ampacity drop amps breaker conductor",
    "hours": "battery runtime overnight autonomy reserve night",
    "explain": "why what how help reason meaning",
    "keep": "save write store fix freeze",
    "tables": "table kinds sources list show",
    "test": "measure readings",
    "assign": "switch switches allot",
    "copper": "weight lightest together least",
    "compare": "diff changes difference",
}
_TRY_WORDS = {
    "--add": "add install fit put plus with",
    "--remove": "remove delete drop-out without minus",
    "--change": "change set edit modify make",
    "--swap": "swap replace upgrade exchange",
}
_SENTENCES = ("move", "shift", "relocate")
# Which option of `size` a quantity belongs to, by its unit.
_SIZE_OPTIONS = (
    ("--wire", re.compile(r"\d+(/0)?\s*(awg|sae)|\d+(\.\d+)?\s*mm(2|²)", re.IGNORECASE)),
    ("--current", re.compile(r"\d+(\.\d+)?\s*m?A(mps?)?", re.IGNORECASE)),
    ("--power", re.compile(r"\d+(\.\d+)?\s*k?W", re.IGNORECASE)),
    ("--drop", re.compile(r"\d+(\.\d+)?\s*%")),
    ("--system", re.compile(r"\d+(\.\d+)?\s*V", re.IGNORECASE)),
    ("--length", re.compile(r"\d+(\.\d+)?\s*(m|cm|ft|in|feet)", re.IGNORECASE)),
    ("--ambient", re.compile(r"\d+(\.\d+)?\s*°?[CF]")),
)


def not_a_command(words: list[str]) -> InputError:
    """The error for ``words`` whose first is no command: it names the command that was meant."""
    meant = suggestion(words)
    return InputError([Problem("", f"'{words[0]}' is not a command", "", f"did you mean: {meant}")])


def suggestion(words: list[str]) -> str:
    """A whole command line that does what ``words`` seem to ask for."""
    parts = [w for w in words if w != "--json"]
    plans = [w for w in parts if _is_plan(w)]
    plan = plans[0] if plans else "plan.yaml"
    rest = [w for w in parts if w not in plans]
    word = parts[0].casefold() if parts else ""
    if parts and _is_plan(parts[0]):
        return _line("check", *parts)
    if word in _SENTENCES or (word in _TRY_WORDS["--swap"].split() and "=" not in "".join(rest)):
        return _line("try", plan, " ".join(rest) if rest[1:] else "move NAME to S1")
    for option, known in _TRY_WORDS.items():
        if word in known.split():
            return _line("try", plan, option, " ".join(rest[1:]) or _try_example(option))
    if re.fullmatch(r"[A-Z]\d\d", parts[0], re.IGNORECASE):
        return _line("explain", parts[0].upper())
    command = next((c for c, same in _SAME_WORK.items() if word in same.split()), None)
    if command is None:
        kind = _kind_line(parts)
        if kind is not None:
            return kind
        command = _nearest(word)
        if command is None:
            return _line("--help")
        return _line(command, *parts[1:]) if parts[1:] else _bare(command, plan, [])
    return _bare(command, plan, rest[1:])


def _bare(command: str, plan: str, rest: list[str]) -> str:
    if command == "size":
        return _size_line(rest)
    if command == "hours":
        kind = " ".join(rest) or "fridge"
        return _line("hours", "--kind", kind, "--battery", "95Ah")
    if command == "begin":
        return _line("begin", "my-plan.yaml")
    if command == "wire":
        return _line("wire", "--outside", "3mm")
    if command == "explain":
        return _line("explain", *(rest or ["D01"]))
    if command == "tables":
        return _line("tables", *rest)
    return _line(command, plan, *rest)


def _size_line(words: list[str], *extra: str) -> str:
    text = " ".join(words)
    found: dict[str, str] = {}
    for option, pattern in _SIZE_OPTIONS:
        match = re.search(rf"(?<![\w.])(?:{pattern.pattern})(?![\w%])", text, pattern.flags)
        if match:
            found[option] = match[0].replace(" ", "")
            text = text.replace(match[0], " ", 1)
    if "--current" not in found and "--power" not in found and "--kind" not in extra:
        found["--current"] = "20A"
    found.setdefault("--length", "5m")
    return _line("size", *extra, *(word for pair in found.items() for word in pair))


def _kind_line(words: list[str]) -> str | None:
    """A kind of accessory: how long on battery if it runs for long, else its wire and fuse."""
    from circuitplan.library import kinds

    for count in range(len(words), 0, -1):
        kind = kinds.find(" ".join(words[:count]))
        if kind is None:
            continue
        if kind.on_s is None and not words[count:]:
            return _line("hours", "--kind", kind.kind, "--battery", "95Ah")
        return _size_line(words[count:], "--kind", kind.kind)
    return None


def _nearest(word: str) -> str | None:
    from circuitplan.cli.app import NAMES

    near = difflib.get_close_matches(word, NAMES, n=1, cutoff=0.6)
    return near[0] if near else None


def _try_example(option: str) -> str:
    return {
        "--add": "twin-motor compressor",
        "--remove": "NAME",
        "--change": "NAME size 6 mm2",
        "--swap": "NAME=twin-motor compressor",
    }[option]


def _is_plan(word: str) -> bool:
    return word.casefold().endswith(_PLAN_ENDINGS) or "/" in word or Path(word).is_file()


def _line(*words: str) -> str:
    return shlex.join(("circuitplan", *words))
