"""The tables travel with the package: in a checkout and in a wheel."""

from __future__ import annotations

import importlib.util
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from circuitplan.library import store

ROOT = Path(__file__).resolve().parents[2]


def test_a_checkout_finds_its_tables() -> None:
    assert store.locate(ROOT / "circuitplan") == ROOT / "tables"
    assert (store.folder() / store.DESCRIPTOR).is_file()


@pytest.mark.slow
def test_a_wheel_holds_the_tables_templates_and_schema(tmp_path: Path) -> None:
    if importlib.util.find_spec("hatchling") is None:
        pytest.skip("hatchling is not installed")
    subprocess.run(
        [sys.executable, "-m", "pip", "wheel", ".", "--no-deps", "--no-build-isolation", "-q",
         "-w", str(tmp_path)],
        cwd=ROOT, check=True, capture_output=True,
    )  # fmt: skip
    (wheel,) = tmp_path.glob("circuitplan-*.whl")
    names = set(zipfile.ZipFile(wheel).namelist())
    assert {f"circuitplan/_tables/{p.name}" for p in (ROOT / "tables").iterdir()} <= names
    wanted = [
        p for suffix in ("*.py", "*.j2", "*.css", "*.json") for p in
        (ROOT / "circuitplan").rglob(suffix)
    ]
    assert {p.relative_to(ROOT).as_posix() for p in wanted} <= names
    assert not any(n.startswith(("tests/", "tables/", "benchmarks/")) for n in names)
