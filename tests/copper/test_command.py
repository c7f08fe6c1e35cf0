"""The command ``copper``: dry run, writing, JSON, a plan with nothing to gain."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from circuitplan.cli import main

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Any:
    monkeypatch.setenv("COLUMNS", "80")

    def command(*words: object) -> tuple[int, str]:
        code = main([str(word) for word in words])
        return code, capsys.readouterr().out

    return command


@pytest.fixture
def boat(tmp_path: Path) -> Path:
    path = tmp_path / "boat.yaml"
    path.write_bytes((EXAMPLES / "workboat.yaml").read_bytes())
    return path


def test_first_it_only_shows(run: Any, boat: Path) -> None:
    before = boat.read_bytes()
    code, out = run("copper", boat)
    assert code == 0
    assert out.startswith("OK: 0.33 kg of copper less with all sizes chosen together, proven")
    assert "- panels: helm panel: size: 4 AWG" in out
    assert "Nothing is written; --keep writes it." in out
    assert boat.read_bytes() == before
    assert max(map(len, out.splitlines())) <= 80


def test_keep_writes_the_shared_size_and_nothing_else(run: Any, boat: Path) -> None:
    before = boat.read_text(encoding="utf-8")
    code, _ = run("copper", boat, "--keep")
    after = boat.read_text(encoding="utf-8")
    assert code == 0
    assert boat.with_suffix(".yaml.bak").read_text(encoding="utf-8") == before
    changed = [
        (a, b) for a, b in zip(before.splitlines(), after.splitlines(), strict=True) if a != b
    ]
    assert len(changed) == 1
    assert changed[0][1].replace(", size: 4 AWG", "") == changed[0][0]
    code, again = run("copper", boat)
    assert code == 0
    assert "kg of copper less" not in again
    assert run("check", boat)[0] == 0


def test_json_is_one_document(run: Any, boat: Path) -> None:
    code, out = run("copper", boat, "--json")
    found = json.loads(out)
    assert code == 0
    assert found["format"] == "circuitplan copper 1"
    assert found["proven"] is True
    saved = sum(wire["saves_kg"] for wire in found["wires"])
    assert found["before_kg"] - found["after_kg"] == pytest.approx(saved)
    assert found["bound_kg"] <= found["after_kg"]


def test_nothing_to_gain_is_said(run: Any) -> None:
    code, out = run("copper", EXAMPLES / "owner.yaml")
    assert code == 0
    assert "each wire chosen for itself is the best here" in out
    assert "--keep" not in out


def test_a_plan_that_fails_is_said_to_fail_first(run: Any) -> None:
    code, out = run("copper", EXAMPLES / "overloaded-compressor.yaml")
    assert code == 1
    assert out.startswith("NOT OK: ")
    assert "mend" in out
