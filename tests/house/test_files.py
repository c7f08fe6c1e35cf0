"""Files stay short, public names explain themselves, and nothing points outside the project."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SOURCES = sorted((ROOT / "circuitplan").rglob("*.py"))
OTHERS = [p for folder in ("tests", "benchmarks") for p in sorted((ROOT / folder).rglob("*.py"))]
CODE = SOURCES + OTHERS
LONGEST = 300
TEXTS = (".py", ".md", ".toml", ".yaml", ".csv", ".json", ".j2", ".css", ".txt", ".sh", ".cfg")

LONGER: dict[str, tuple[int, str]] = {
    "tests/report/sample.py": (400, "one result, written out by hand"),
}
"""Files that may be longer than the rest, how long, and why."""


@pytest.mark.parametrize("path", CODE, ids=lambda p: str(p.relative_to(ROOT)))
def test_no_file_is_longer_than_it_should_be(path: Path) -> None:
    name = path.relative_to(ROOT).as_posix()
    lines = len(path.read_text(encoding="utf-8").splitlines())
    most, _ = LONGER.get(name, (LONGEST, ""))
    assert lines <= most, f"{name} has {lines} lines: split it"


def public(tree: ast.Module) -> Iterator[ast.FunctionDef | ast.ClassDef]:
    """Functions and classes of a module that others may use."""
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            yield node


def fields_alone(node: ast.AST) -> bool:
    """A data class without behaviour: its fields, with units in their names, are its text.

    The models of plan and result and the views of the report are such classes.
    """
    return isinstance(node, ast.ClassDef) and all(
        isinstance(part, ast.AnnAssign) for part in node.body
    )


@pytest.mark.parametrize("path", SOURCES, ids=lambda p: str(p.relative_to(ROOT)))
def test_every_module_and_public_function_has_a_docstring(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    # A rule's ``judge`` is explained by the RULE page beside it, which a test of the rules reads.
    rule = path.parent.name == "rules"
    missing = [
        node.name for node in public(tree)
        if ast.get_docstring(node) is None and not fields_alone(node)
        and not (rule and node.name == "judge")
    ]  # fmt: skip
    assert ast.get_docstring(tree), "the module says nothing of itself"
    assert missing == []


def test_nothing_names_a_path_of_one_machine() -> None:
    """Home folders and temporary folders of the machine that wrote the file."""
    marks = [f"/{top}/" for top in ("home", "root", "Users", "work", "tmp")]
    found = []
    for folder in ("circuitplan", "tables", "examples", "benchmarks", "tests"):
        for path in sorted((ROOT / folder).rglob("*")):
            if path.suffix in TEXTS and path != Path(__file__).resolve():
                text = path.read_text(encoding="utf-8")
                found += [f"{path.relative_to(ROOT)}: {m}" for m in marks if m in text]
    assert found == []


def test_the_exceptions_still_need_to_be_exceptions() -> None:
    for name in LONGER:
        assert len((ROOT / name).read_text(encoding="utf-8").splitlines()) > LONGEST
