"""What every command ends with: the answer on standard output and the exit code."""

from __future__ import annotations

import dataclasses
import json
import math
import sys
from collections.abc import Iterable, Mapping
from typing import Any

from circuitplan.errors import Problem
from circuitplan.model.result import FORMAT

OK, NOT_MET, UNUSABLE, CRASH = 0, 1, 2, 3


def exit_code(answer: str) -> int:
    """0 when every limit is met, 1 when one is not met or not shown to be met."""
    return OK if answer == "ok" else NOT_MET


def plain_data(value: Any) -> Any:
    """Result data as JSON holds it: ``from_`` is "from", no NaN, no infinity."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        names = [f.name for f in dataclasses.fields(value)]
        data = {name.rstrip("_"): plain_data(getattr(value, name)) for name in names}
        if "format" in data and "answer" in data:  # these two lead, whatever the field order
            data = {"format": data.pop("format"), "answer": data.pop("answer"), **data}
        return data
    if isinstance(value, Mapping):
        return {str(key): plain_data(entry) for key, entry in value.items()}
    if isinstance(value, float):
        return value if math.isfinite(value) else None
    if isinstance(value, (list, tuple, set, frozenset)):
        return [plain_data(entry) for entry in value]
    return value


def print_json(data: Any) -> None:
    """One JSON document alone on standard output."""
    utf8 = (sys.stdout.encoding or "").lower().replace("-", "") == "utf8"
    text = json.dumps(plain_data(data), ensure_ascii=not utf8, indent=2, allow_nan=False)
    print(text)


def print_lines(lines: Iterable[str]) -> None:
    """Lines of an answer on standard output."""
    print("\n".join(lines))


def unusable(problems: Iterable[Problem], *, as_json: bool) -> int:
    """Say why the input cannot be used, every problem at once; returns the exit code 2."""
    problems = tuple(problems)
    if as_json:
        keys = ("file", "line", "cell", "found", "allowed", "remedy")
        errors = [{k: getattr(p, k) for k in keys} | {"where": p.where} for p in problems]
        print_json({"format": FORMAT, "answer": "cannot say", "errors": errors})
        return UNUSABLE
    from circuitplan.cli.terminal.problems import problem_lines

    print_lines(problem_lines(problems))
    return UNUSABLE
