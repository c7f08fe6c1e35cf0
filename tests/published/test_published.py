"""Every figure here was printed by somebody else; see the TOML files beside this one.

A group names its document, clause and status and the project function that must reproduce it.
``expected`` is the figure as printed: half a unit of its last digit is the tolerance. Where a
group or case states another (``within`` absolute, ``share`` relative), it gives a ``reason``.
"""

from __future__ import annotations

import importlib
import tomllib
from collections import Counter
from decimal import Decimal
from pathlib import Path
from typing import Any

import numpy as np
import pytest

HERE = Path(__file__).parent
FILES = sorted(HERE.glob("*.toml"))
STATUSES = {"read", "second-hand", "memory", "common practice", "computed", "judgement"}
ARRAY_MODULES = {"physics.network"}


def load() -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    cases, skipped = [], []
    for path in FILES:
        content = tomllib.loads(path.read_text(encoding="utf-8"))
        skipped += content.get("skipped", [])
        for group in content["group"]:
            shared = {key: value for key, value in group.items() if key != "cases"}
            for case in group["cases"]:
                merged = {**shared, **case}
                merged["inputs"] = {**shared.get("inputs", {}), **case.get("inputs", {})}
                cases.append(merged)
    return cases, skipped


CASES, SKIPPED = load()


def evaluate(spec: dict[str, Any]) -> Any:
    """Call the project function of a case; an input may itself be such a call."""
    module_name, _, function_name = spec["call"].rpartition(".")
    function = getattr(importlib.import_module(f"circuitplan.{module_name}"), function_name)
    inputs = {}
    for name, value in spec.get("inputs", {}).items():
        if isinstance(value, dict):
            value = evaluate(value)
        elif isinstance(value, list) and module_name in ARRAY_MODULES:
            value = np.array(value, dtype=float)
        inputs[name] = value
    result = function(**inputs)
    for step in spec.get("pick", []):
        result = result[step] if isinstance(step, int) else getattr(result, step)
    if isinstance(result, str):
        return result
    return result * spec.get("times", 1.0) / spec.get("divide_by", 1.0)


def tolerance(case: dict[str, Any]) -> float:
    if "within" in case:
        return float(case["within"])
    if "share" in case:
        return float(case["share"]) * abs(float(case["expected"]))
    exponent = Decimal(case["expected"]).as_tuple().exponent
    assert isinstance(exponent, int)
    return 0.5 * 10.0**exponent * (1.0 + 1e-9)


@pytest.mark.parametrize("case", CASES, ids=[case["id"] for case in CASES])
def test_reproduces_the_printed_figure(case: dict[str, Any]) -> None:
    found = evaluate(case)
    relation = case.get("relation", "equal")
    if relation == "text":
        assert found == case["expected"]
        return
    if relation == "mentions":
        assert case["expected"] in found
        return
    expected = float(case["expected"])
    if relation == "at most":
        assert found <= expected
    elif relation == "at least":
        assert found >= expected
    else:
        assert relation == "equal"
        assert abs(found - expected) <= tolerance(case), f"found {found}, printed {expected}"


def test_cases_are_whole() -> None:
    """Ids are unique, statuses known, sources named; a widened tolerance says why."""
    repeated = [name for name, count in Counter(case["id"] for case in CASES).items() if count > 1]
    assert repeated == []
    for case in CASES:
        assert isinstance(case["expected"], str), case["id"]
        assert all(case[key] for key in ("document", "clause", "unit")), case["id"]
        assert case["status"] in STATUSES, case["id"]
        if "within" in case or "share" in case or "relation" in case:
            assert len(case["reason"]) > 20, case["id"]
            if "relation" not in case:
                assert tolerance(case) <= 0.03 * abs(float(case["expected"])), case["id"]
    for entry in SKIPPED:
        assert entry["document"], entry["id"]
        assert len(entry["why"]) > 20, entry["id"]


def test_there_are_enough_of_them() -> None:
    assert len(CASES) >= 150
    assert len({case["document"] for case in CASES}) >= 8
