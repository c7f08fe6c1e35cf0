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


D1 = """circuitplan: 1
system: 12 V
supply: {battery: {type: agm, capacity: 100 Ah, place: engine}, alternator: 150 A}
places: {engine: 60 °C, cab: 50 °C, bed: 50 °C}
legs: [[engine, cab, 2 m], [cab, bed, 4 m]]
panels: {main: {place: cab, fed_from: battery, rating: 100 A}}
switches:
  S1: {type: relay, rating: 1 A, place: cab}
  S2: {type: direct, rating: 30 A, place: cab, split: bed}
  S3: {type: direct, rating: 30 A, motor: 20 A, place: cab, momentary: yes}
accessories:
  - {name: Lamp a, kind: work lamp, power: 60 W, place: bed, switch: S1, number: 7, inrush: 20 A}
  - {name: Lamp b, kind: work lamp, power: 20 W, place: bed, switch: S1, number: 7, inrush: 20 A}
  - {name: Lamp c, kind: work lamp, power: 40 W, place: bed, switch: S2, inrush: 20 A}
  - {name: Lamp d, kind: work lamp, power: 20 W, place: bed, switch: S2, inrush: 20 A}
  - {name: Actuator, kind: actuator, current: 5 A, peak: 15 A, inrush: 15 A, place: bed, switch: S3,
     motor: reversing, number: 3, cut_out: yes}
circuits: {7: {split: bed}}
"""


def test_where_nothing_better_is_found_the_plan_stays_ok_and_the_rest_is_told(
    run: Any, tmp_path: Path
) -> None:
    """The choice saves nothing once checked: the plan is no worse for it, nor proven the least."""
    path = tmp_path / "d1.yaml"
    path.write_text(D1, encoding="utf-8")
    code, out = run("copper", path, "--json")
    found = json.loads(out)
    assert (code, found["answer"], found["proven"], found["edits"]) == (0, "ok", False, [])
    assert found["before_kg"] == found["after_kg"] > found["bound_kg"]
    grams = f"{1000.0 * (found['after_kg'] - found['bound_kg']):.0f} g"
    assert found["because"].startswith("nothing better was found")
    assert found["because"].endswith(f"up to {grams} less is not ruled out")
    code, out = run("copper", path)
    assert code == 0
    assert "Proven" not in out


def test_no_least_is_proven_where_the_plan_breaks_a_limit(run: Any, tmp_path: Path) -> None:
    """Not shown to hold, the plan weighs less than any sizes that do: no bound is above it."""
    path = tmp_path / "big.yaml"
    path.write_text(
        "circuitplan: 1\nsystem: 12 V\n"
        "supply: {battery: {type: agm, capacity: 100 Ah}, alternator: 150 A}\n"
        "panels: {main: {fed_from: battery, rating: 200 A, length: 1 m}}\n"
        "accessories:\n"
        "  - {name: Big, current: 45 A, inrush: 45 A, length: 3 m, connector: {ways: 2,\n"
        "     rating: 150 A, rated_at: 60 °C}}\n"
        "  - {name: Other, current: 15 A, inrush: 15 A, length: 3 m}\n",
        encoding="utf-8",
    )
    code, out = run("copper", path, "--json")
    found = json.loads(out)
    assert code == 1
    assert found["answer"] != "ok"
    assert found["proven"] is False
    assert found["bound_kg"] is None
    assert "sizes that keep every limit come to more" in found["because"]


def test_a_plan_that_fails_is_said_to_fail_first(run: Any) -> None:
    code, out = run("copper", EXAMPLES / "overloaded-compressor.yaml")
    assert code == 1
    assert out.startswith("NOT OK: ")
    assert "mend" in out
