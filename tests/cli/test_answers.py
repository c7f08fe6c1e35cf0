"""The answer: first line, exit code, JSON alone on standard output, never a traceback."""

from __future__ import annotations

import dataclasses
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from circuitplan.cli import answers, app
from circuitplan.cli.answers import plain_data
from circuitplan.model.result import FORMAT

ANSWERS = {"OK": 0, "NOT OK": 1, "CANNOT SAY": 1}


def test_a_plan_is_answered(run: Any, plan: Path) -> None:
    answer = run("check", plan)
    word, _, why = answer.first.partition(": ")
    assert answer.code == ANSWERS[word]
    assert why
    assert answer.err == ""


def test_json_is_one_document_with_the_names_of_the_contract(run: Any, plan: Path) -> None:
    answer = run("check", plan, "--json")
    data = answer.data
    assert list(data)[:2] == ["format", "answer"]
    assert data["format"] == FORMAT
    assert {"plan", "circuits", "switches", "panels", "supply", "parts", "findings"} <= set(data)
    runs = [wire for circuit in data["circuits"] for wire in circuit["runs"]]
    assert all("from" in wire and "from_" not in wire for wire in runs)
    assert answer.code == {"ok": 0}.get(data["answer"], 1)
    assert answer.err == ""


def test_the_text_and_the_json_give_the_same_answer(run: Any, plan: Path) -> None:
    text, data = run("check", plan), run("check", plan, "--json")
    assert text.code == data.code
    assert text.first.startswith(data.data["answer"].upper() + ": ")


@dataclasses.dataclass(frozen=True)
class _Sample:
    from_: str
    size_m: float


def test_no_nan_and_no_infinity_leave_the_program() -> None:
    sample = [_Sample("a", float("nan")), {"x": float("inf")}, (1.5, None)]
    assert plain_data(sample) == [{"from": "a", "size_m": None}, {"x": None}, [1.5, None]]


BROKEN = "circuitplan: 1\nsystem: 12 V\naccessories:\n  - {name: A, kind: fridge, length: 6}\n"


def test_bad_input_is_told_in_words(run: Any, tmp_path: Path) -> None:
    path = tmp_path / "bad.yaml"
    path.write_text(BROKEN)
    answer = run("check", path)
    assert answer.code == 2
    assert answer.first.startswith("CANNOT SAY: ")
    assert "line 4" in answer.out
    assert "to mend it: " in answer.out
    assert list(tmp_path.iterdir()) == [path]


def test_bad_input_is_told_in_json(run: Any, tmp_path: Path) -> None:
    path = tmp_path / "bad.yaml"
    path.write_text(BROKEN)
    for words in (["check"], ["try", "--add", "fridge"]):
        answer = run(words[0], path, *words[1:], "--json")
        assert answer.code == 2
        data = answer.data
        assert (data["format"], data["answer"]) == (FORMAT, "cannot say")
        (error,) = data["errors"]
        assert {"file", "line", "cell", "found", "allowed", "remedy"} <= set(error)
        assert error["line"] == 4


@pytest.mark.parametrize(
    "words",
    [
        ["check"],
        ["check", "nowhere.yaml"],
        ["check", "--colour"],
        ["try", "nowhere.yaml"],
        ["wire"],
        ["wire", "--outside", "3"],
        ["wire", "--strands", "0", "--strand", "1mm"],
        ["print", "nowhere.yaml", "-o", "x.doc"],
        ["nonsense"],
    ],
)
def test_a_command_that_cannot_be_used_exits_2(run: Any, words: list[str]) -> None:
    answer = run(*words)
    assert answer.code == 2
    assert answer.first.startswith("CANNOT SAY: ")
    assert answer.err == ""
    data = run(*words, "--json")
    assert data.code == 2
    assert data.data["errors"]


def test_a_defect_is_owned_up_to_without_a_traceback(
    run: Any, plan: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: Any, **__: Any) -> None:
        raise ZeroDivisionError("oops")

    monkeypatch.setattr("circuitplan.planner.study", fail)
    answer = run("check", plan)
    assert answer.code == 3
    assert answer.first.startswith("CANNOT SAY: circuitplan itself failed")
    assert "Traceback" not in answer.out + answer.err
    assert run("check", plan, "--json").data["answer"] == "cannot say"


def test_a_reader_that_stops_reading_is_no_error(plan: Path) -> None:
    line = f'"{sys.executable}" -m circuitplan tables kinds | head -n 1'
    done = subprocess.run(
        line, shell=True, capture_output=True, text=True, check=False, cwd=app.__file__[:-23]
    )
    assert done.stdout.startswith("OK: ")
    assert done.stderr == ""


def test_an_output_without_all_signs_gets_replacements(installed: Any, plan: Path) -> None:
    answer = installed("check", str(plan), PYTHONUTF8="0", PYTHONIOENCODING="ascii")
    assert answer.code in (0, 1)
    data = installed("check", str(plan), "--json", PYTHONUTF8="0", PYTHONIOENCODING="ascii")
    sizes = [wire["size"] for c in json.loads(data.out)["circuits"] for wire in c["runs"]]
    assert any("mm²" in size for size in sizes)


def test_exit_codes() -> None:
    assert [answers.exit_code(a) for a in ("ok", "not ok", "cannot say")] == [0, 1, 1]


def test_the_version(run: Any) -> None:
    answer = run("--version")
    assert (answer.code, answer.lines) == (0, ["circuitplan 0.1.0"])


def test_alone_it_says_what_it_can_do(run: Any) -> None:
    answer = run()
    assert answer.code == 0
    assert all(f"\n  {name} " in answer.out for name in app.NAMES)
