"""``keep``: what was chosen goes into the plan, and the plan means the same afterwards."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest


def chosen(data: Any) -> Any:
    """What a result holds of numbers, sizes and fuses."""
    return [
        (
            c["number"], c["label"],
            [(r["id"], r["role"], r["size"]) for r in c["runs"]],
            [(f["id"], f["rating_a"], f["type"]) for f in c["fuses"]],
        )
        for c in data["circuits"]
    ]  # fmt: skip


def test_kept_values_are_written_beside_the_users_own(run: Any, plan: Path) -> None:
    before = plan.read_text("utf-8")
    first = run("check", plan, "--json").data
    answer = run("keep", plan)
    assert (answer.code, answer.first[:8]) == (1, "NOT OK: ")  # the plan's own answer
    after = plan.read_text("utf-8")
    assert "# my own remark" in after
    assert re.search(r"number: 2\n    size: [\d.]+ mm²\n    fuse: .+", after)
    kept = [line for line in before.splitlines() if "Compressor" not in line]
    assert [line for line in after.splitlines() if line in kept] == kept
    assert plan.with_name("plan.yaml.bak").read_text("utf-8") == before
    assert chosen(run("check", plan, "--json").data) == chosen(first)


def test_what_does_not_hold_is_not_kept(run: Any, plan: Path) -> None:
    answer = run("keep", plan)
    compressor = next(line for line in plan.read_text("utf-8").splitlines() if "loud" in line)
    assert compressor.endswith("switch: S3, number: 1}   # loud")
    said = " ".join(answer.out.split())
    assert "Not written: sizes and fuses of what does not hold" in said
    assert "- circuit 1 Compressor: rule " in said
    assert "Fridge: rule" not in said


def test_keeping_twice_changes_nothing(run: Any, plan: Path) -> None:
    run("keep", plan)
    once = plan.read_bytes()
    answer = run("keep", plan)
    assert "all of it already" in " ".join(answer.out.split())
    assert plan.read_bytes() == once


def test_show_writes_nothing(run: Any, plan: Path) -> None:
    before = plan.read_bytes()
    answer = run("keep", plan, "--show")
    assert answer.code == 1
    assert plan.read_bytes() == before
    assert [p.name for p in plan.parent.iterdir()] == ["plan.yaml"]
    assert any(line.startswith("+    number: 2") for line in answer.lines)


@pytest.mark.parametrize("example", ["overloaded-compressor.yaml", "workboat.yaml"])
def test_examples_mean_the_same_when_kept(
    run: Any, examples: Path, tmp_path: Path, example: str
) -> None:
    path = tmp_path / example
    path.write_bytes((examples / example).read_bytes())
    first = run("check", path, "--json").data
    assert run("keep", path).code == (0 if first["answer"] == "ok" else 1)
    again = run("check", path, "--json").data
    assert chosen(again) == chosen(first)
    assert again["answer"] == first["answer"]


def test_a_list_gets_a_plan_beside_it(run: Any, tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("name;power W;length m;kind\nCool box;45,5;2,5;\nBar;;3;led bar\n", "utf-8")
    before = path.read_bytes()
    first = run("check", path, "--json").data
    assert run("keep", path).code == (0 if first["answer"] == "ok" else 1)
    assert path.read_bytes() == before
    made = tmp_path / "list.yaml"
    assert "{name: Cool box, power: 45.5 W, length: 2.5 m, number: 2" in made.read_text("utf-8")
    assert chosen(run("check", made, "--json").data) == chosen(first)
    assert run("keep", path).code == 2
    assert "already" in run("keep", path).out


def test_a_plan_that_changed_meanwhile_is_left_alone(
    run: Any, plan: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from circuitplan import planner

    study = planner.study

    def slow(read: Any) -> Any:
        plan.write_text("somebody else's", "utf-8")
        return study(read)

    text = plan.read_text("utf-8")
    monkeypatch.setattr("circuitplan.planner.study", slow)
    monkeypatch.setattr("circuitplan.planfile.writing.plan_text", lambda path: text)
    answer = run("keep", plan)
    assert answer.code == 2
    assert "changed while" in answer.out
    assert plan.read_text("utf-8") == "somebody else's"
