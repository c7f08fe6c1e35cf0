"""Imports point down only, and ``check`` loads nothing heavy."""

from __future__ import annotations

import subprocess
import sys
import sysconfig
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
HEAVY = ("pandas", "weasyprint", "matplotlib", "scipy", "highspy", "openpyxl", "jinja2")


def loaded(*arguments: str) -> set[str]:
    """Modules that a run imports, as the interpreter itself reports them."""
    run = subprocess.run(
        [sys.executable, "-X", "importtime", *arguments], cwd=ROOT, capture_output=True, text=True,
        check=False,
    )  # fmt: skip
    assert run.returncode in (0, 1), run.stderr[-2000:]
    lines = [line for line in run.stderr.splitlines() if line.startswith("import time:")]
    return {line.rsplit("|", 1)[1].strip() for line in lines}


@pytest.mark.end_to_end
def test_check_loads_nothing_heavy() -> None:
    """pint itself looks whether scipy is there; what pint alone loads is not counted."""
    names = loaded("-m", "circuitplan", "check", "examples/overloaded-compressor.yaml")
    assert "circuitplan.planner" in names
    own = names - loaded("-c", "import pint")
    assert {name for name in own if name.split(".")[0] in HEAVY} == set()


@pytest.mark.end_to_end
def test_the_import_contract_is_kept() -> None:
    """The contracts of pyproject.toml, by import-linter's own program."""
    program = Path(sysconfig.get_path("scripts")) / "lint-imports"
    if not program.exists():
        pytest.skip("import-linter is not installed")
    run = subprocess.run(
        [str(program), "--no-cache"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stdout + run.stderr
