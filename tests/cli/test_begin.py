"""``begin``: a starter plan that reads, and never takes another file's place."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from circuitplan.cli import begin as command
from circuitplan.planfile import read_plan


def test_a_starter_plan_reads_and_checks(run: Any, tmp_path: Path) -> None:
    path = tmp_path / "new.yaml"
    words = ("--title", "Van", "--battery", "95Ah", "--switches", "S1: 20 A", "--no-ask")
    answer = run("begin", path, *words, "--accessory", "fridge", "--accessory", "led bar")
    assert (answer.code, answer.first[:4]) == (0, "OK: ")
    plan = read_plan(path)
    assert (plan.title, plan.supply.batteries[0].capacity_ah) == ("Van", 95.0)
    assert {a.kind for a in plan.accessories} == {"fridge", "led bar"}
    assert run("check", path).code in (0, 1)


def test_nobody_gets_a_lamp_or_a_rating_unasked(run: Any, tmp_path: Path) -> None:
    path = tmp_path / "new.yaml"
    assert run("begin", path, "--system", "12V", "--no-ask").code == 0
    plan = read_plan(path)
    assert [a.kind for a in plan.accessories] == ["fridge"]
    assert "# an example: put what is fitted in its place" in path.read_text("utf-8")
    assert plan.switches == ()


def test_nothing_is_overwritten(run: Any, plan: Path) -> None:
    before = plan.read_bytes()
    answer = run("begin", plan)
    assert answer.code == 2
    assert "already" in answer.out
    assert plan.read_bytes() == before


def test_a_wrong_answer_writes_nothing(run: Any, tmp_path: Path) -> None:
    path = tmp_path / "new.yaml"
    assert run("begin", path, "--system", "13V").code == 2
    assert run("begin", path, "--accessory", "flux compensator").code == 2
    assert run("begin", tmp_path / "no" / "new.yaml").code == 2
    assert not path.exists()


def test_questions_are_put_again_until_the_answer_fits(
    run: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Any
) -> None:
    said = iter(["Van", "13 V", "24", "95", "", "100", "", "", "", "two lockers"])
    monkeypatch.setattr("builtins.input", lambda prompt: next(said))
    text = command._starter({}, ask=True)
    assert "CANNOT SAY" in capsys.readouterr().out
    assert "system: 24 V" in text
    assert "capacity: 95 Ah" in text
    assert "second battery: {capacity: 100 Ah}" in text
    assert "quantity: 2" in text
    assert list(said) == []
