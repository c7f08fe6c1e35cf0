"""The help: every example in it works as typed, and every command runs as installed."""

from __future__ import annotations

import re
import shlex
import shutil
from pathlib import Path
from typing import Any

import pytest

from circuitplan.cli.app import NAMES
from circuitplan.cli.terminal.text import cells


def examples_of(text: str) -> list[str]:
    return re.findall(r"^ +circuitplan (.+)$", text, re.MULTILINE)


@pytest.fixture
def workshop(tmp_path: Path, examples: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the examples in it, so that nothing is written among our own."""
    shutil.copytree(examples, tmp_path / "examples")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("name", ["", *NAMES])
def test_help_examples_work_as_typed(run: Any, workshop: Path, name: str) -> None:
    answer = run(*([name] if name else []), "--help")
    assert answer.code == 0
    assert max(map(cells, answer.lines)) <= 80
    lines = examples_of(answer.out)
    assert lines
    for line in lines:
        done = run(*shlex.split(line))
        assert done.code in (0, 1), (line, done.out)
        assert re.match(r"(OK|NOT OK|CANNOT SAY): |\{", done.first), line


@pytest.mark.parametrize("name", NAMES)
def test_every_command_says_in_one_line_what_it_is_for(run: Any, name: str) -> None:
    line = next(x for x in run("--help").lines if x.startswith(f"  {name} "))
    assert len(line.split(maxsplit=1)[1]) > 10
    assert "..." not in line


@pytest.mark.parametrize(
    "line",
    [
        "begin new.yaml --battery 95Ah",
        "check examples/overloaded-compressor.yaml",
        "print examples/owners-list.csv -o out.pdf",
        "size --current 20A --length 25ft --drop 1V",
        "wire --outside 3mm",
        "hours --battery 95Ah --kind fridge",
        'try examples/overloaded-compressor.yaml --change "S3 type relay"',
        "keep examples/owners-list.csv",
        "explain D01",
        "tables kinds",
        "--version",
    ],
)
@pytest.mark.end_to_end
def test_each_command_runs_as_installed(installed: Any, workshop: Path, line: str) -> None:
    answer = installed(*shlex.split(line), cwd=workshop)
    assert answer.code in (0, 1), answer.out
    assert answer.err == ""
    assert re.match(r"(OK|NOT OK|CANNOT SAY): |circuitplan \d", answer.first)
