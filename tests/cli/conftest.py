"""Running the program: in this process, or as it is installed."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import warnings
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

with warnings.catch_warnings():  # some releases of typer import names that click has deprecated
    warnings.simplefilter("ignore", DeprecationWarning)
    import typer  # noqa: F401

from circuitplan.cli import main

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = ROOT / "examples"

# Small, so that it is quick: one circuit that holds, one that overloads its switch.
PLAN = """\
# my own remark
circuitplan: 1
title: Depot truck
system: 12 V
supply: {battery: 70 Ah, alternator: 120 A}
switches: {S1: 30 A, S3: 20 A}
accessories:
  - {name: Compressor, kind: twin-motor compressor, length: 3 m, switch: S3}   # loud
  - name: Fridge
    kind: fridge
    length: 2 m
"""


@dataclass(frozen=True)
class Answer:
    """What a run printed and returned."""

    code: int
    out: str
    err: str

    @property
    def lines(self) -> list[str]:
        return self.out.splitlines()

    @property
    def first(self) -> str:
        return self.lines[0]

    @property
    def data(self) -> Any:
        def refuse(word: str) -> None:
            raise AssertionError(f"{word} in JSON")

        return json.loads(self.out, parse_constant=refuse)


Run = Callable[..., Answer]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run a command line in this process, in the folder of the project."""
    monkeypatch.delenv("CIRCUITPLAN_TRACEBACK", raising=False)
    monkeypatch.delenv("COLUMNS", raising=False)

    def command(*words: str) -> Answer:
        code = main([str(word) for word in words])
        said = capsys.readouterr()
        return Answer(code, said.out, said.err)

    return command


@pytest.fixture
def installed() -> Run:
    """Run a command line as users do: the program in a process of its own."""

    script = Path(sys.executable).with_name("circuitplan")
    program = [str(script)] if script.exists() else [sys.executable, "-m", "circuitplan"]

    def command(*words: str, cwd: Path = ROOT, **environment: str) -> Answer:
        kept = {
            k: v for k, v in os.environ.items() if k not in ("COLUMNS", "CIRCUITPLAN_TRACEBACK")
        }
        done = subprocess.run(
            [*program, *words],
            cwd=cwd,
            env=kept | {"PYTHONPATH": str(ROOT), "PYTHONUTF8": "1"} | environment,
            capture_output=True,
            encoding="utf-8",
            timeout=120,
            check=False,
        )
        return Answer(done.returncode, done.stdout, done.stderr)

    return command


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    """A small plan file of its own."""
    path = tmp_path / "plan.yaml"
    path.write_text(PLAN, encoding="utf-8")
    return path


@pytest.fixture
def examples() -> Path:
    """The folder of examples."""
    return EXAMPLES
