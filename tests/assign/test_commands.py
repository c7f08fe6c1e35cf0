"""The commands ``assign`` and ``compare``: dry run, writing, conflict, JSON, exit codes."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from circuitplan.cli import main

PLAN = """\
circuitplan: 1
system: 12 V
revision: A
supply: {battery: {type: agm, capacity: 95 Ah, cranking: 850 A}, alternator: 120 A}
switches: {S1: 20 A, S2: 20 A}   # two
accessories:
  - {name: Rear lamps, power: 20 W, quantity: 2, length: 6 m}   # pair
  - {name: Bed lamps, power: 15 W, length: 4 m}
"""
FULL = PLAN.replace("quantity: 2, length: 6 m}", "quantity: 2, length: 6 m, switch: S2}").replace(
    "power: 15 W, length: 4 m}", "power: 15 W, length: 4 m, switch: S1}"
)


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "plan.yaml"
    path.write_text(PLAN, encoding="utf-8")
    return path


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Any:
    monkeypatch.setenv("COLUMNS", "80")

    def command(*words: object) -> tuple[int, str]:
        code = main([str(word) for word in words])
        return code, capsys.readouterr().out

    return command


def test_first_it_only_shows(run: Any, plan: Path) -> None:
    code, out = run("assign", plan)
    assert code == 0
    assert out.startswith("OK: switches are chosen for 2 accessories, no relay is added; proven")
    assert "Rear lamps switch S2" in out
    assert "Nothing is written" in out
    assert plan.read_text(encoding="utf-8") == PLAN
    assert max(map(len, out.splitlines())) <= 80


def test_keep_writes_it_and_leaves_a_copy(run: Any, plan: Path) -> None:
    code, out = run("assign", plan, "--keep")
    assert code == 0
    assert "written to" in out
    assert plan.read_bytes() == FULL.encode()
    assert plan.with_name("plan.yaml.bak").read_bytes() == PLAN.encode()
    code, out = run("assign", plan, "--keep")
    assert "says all of it already" in " ".join(out.split())
    assert plan.read_bytes() == FULL.encode()


def test_a_list_becomes_a_plan_beside_it(run: Any, tmp_path: Path) -> None:
    sheet = tmp_path / "list.csv"
    sheet.write_text("name,kind,length m\nFridge,fridge,3\n", encoding="utf-8")
    before = sheet.read_bytes()
    run("assign", sheet, "--keep")
    assert sheet.read_bytes() == before
    assert "Fridge" in (tmp_path / "list.yaml").read_text(encoding="utf-8")


def test_json_holds_the_choice(run: Any, plan: Path) -> None:
    code, out = run("assign", plan, "--json", "--others", 1)
    data = json.loads(out)
    assert (code, data["format"], data["answer"], data["proven"]) == (
        0, "circuitplan assign 1", "ok", True,
    )  # fmt: skip
    assert data["parts_added"] == 0
    assert {a["accessory"]: (a["switch"], a["relay"]) for a in data["assignments"]} == {
        "Rear lamps": ("S2", False), "Bed lamps": ("S1", False),
    }  # fmt: skip
    assert data["conflict"] == []
    other = {a["accessory"]: a["switch"] for a in data["alternatives"][0]["assignments"]}
    assert other != {"Rear lamps": "S2", "Bed lamps": "S1"}


@pytest.mark.end_to_end
def test_the_solver_says_nothing_on_standard_output(plan: Path) -> None:
    words = [sys.executable, "-m", "circuitplan", "assign", str(plan), "--json"]
    done = subprocess.run(words, capture_output=True, encoding="utf-8", check=False, timeout=120)
    assert json.loads(done.stdout)["answer"] == "ok"
    assert (done.returncode, done.stderr) == (0, "")


def test_a_conflict_is_named_and_so_is_the_way_out(run: Any, plan: Path) -> None:
    text = PLAN.replace("S1: 20 A, S2: 20 A", "S1: 20 A")
    plan.write_text(text, encoding="utf-8")
    code, out = run("assign", plan, "--apart", "Rear lamps=Bed lamps", "--json")
    data = json.loads(out)
    assert (code, data["answer"], data["parts_added"]) == (1, "not ok", None)
    assert {line["demand"] for line in data["conflict"][0]} == {
        "Bed lamps and Rear lamps are never on together",
        "Bed lamps needs a switch",
        "Rear lamps needs a switch",
    }
    code, out = run("assign", plan, "--apart", "Rear lamps=Bed lamps")
    assert code == 1
    assert out.startswith("NOT OK: these cannot hold together: ")
    assert "LEAST THAT WOULD HAVE TO GIVE" in out


@pytest.mark.parametrize(
    ("words", "found"),
    [
        (("--together", "Rear lamps"), "NAME=NAME"),
        (("--apart", "Rear lamps=Winch"), "no accessory 'Winch'"),
        (("--spare", "5"), "--spare"),
    ],
)
def test_wrong_wishes_are_refused(run: Any, plan: Path, words: tuple[str, ...], found: str) -> None:
    code, out = run("assign", plan, *words, "--keep")
    assert code == 2
    assert found in out
    assert plan.read_text(encoding="utf-8") == PLAN


# --- compare -----------------------------------------------------------------------------------


def test_two_revisions_are_told_apart(run: Any, plan: Path, tmp_path: Path) -> None:
    new = tmp_path / "new.yaml"
    text = FULL.replace("revision: A", "revision: B").replace("length: 6 m", "length: 9 m")
    new.write_text(text + "  - {name: Fridge, kind: fridge, length: 3 m}\n", encoding="utf-8")
    plan.write_text(FULL, encoding="utf-8")
    code, out = run("compare", plan, new, "--json")
    data = json.loads(out)
    assert (code, data["format"], data["revisions"]) == (0, "circuitplan compare 1", ["A", "B"])
    assert (data["added"], data["removed"]) == (["Fridge"], [])
    changed = {(c["subject"], c["what"]): (c["old"], c["new"]) for c in data["changed"]}
    assert changed["Rear lamps", "length"] == ("6.00 m", "9.00 m")
    assert ("Bed lamps", "length") not in changed
    metres = sum(p["length_m"] or 0 for p in data["parts_added"] + data["parts_removed"])
    assert metres == pytest.approx(2 * 3 + 2 * 3)  # out and back: 3 m more, and 3 m for the fridge
    assert any(p["what"].startswith("fuse") for p in data["parts_added"])
    code, words = run("compare", plan, new)
    assert words.startswith("OK: ")
    assert "ADDED\nFridge\n" in words


def test_the_same_twice_is_no_change_and_backwards_is_the_opposite(
    run: Any, plan: Path, tmp_path: Path
) -> None:
    new = tmp_path / "new.yaml"
    new.write_text(FULL.replace("20 W", "60 W"), encoding="utf-8")
    plan.write_text(FULL, encoding="utf-8")
    same = run("compare", plan, plan)[1]
    assert "Nothing that matters to the work has changed." in same
    there, back = (json.loads(run("compare", a, b, "--json")[1]) for a, b in (
        (plan, new), (new, plan)))  # fmt: skip
    assert there["changed"]
    assert [(c["subject"], c["what"], c["old"], c["new"]) for c in there["changed"]] == [
        (c["subject"], c["what"], c["new"], c["old"]) for c in back["changed"]
    ]
    assert len(there["parts_added"]) == len(back["parts_removed"])
    assert [f["rule"] for f in there["findings_new"]] == [f["rule"] for f in back["findings_gone"]]


def test_a_worse_revision_fails(run: Any, plan: Path, tmp_path: Path) -> None:
    new = tmp_path / "new.yaml"
    new.write_text(FULL.replace("20 W", "200 W"), encoding="utf-8")
    plan.write_text(FULL, encoding="utf-8")
    code, out = run("compare", plan, new)
    assert code == 1
    assert out.startswith("NOT OK: ")
    assert "FINDINGS THAT COME" in out


def test_what_the_solver_itself_prints_is_unheard(capfd: pytest.CaptureFixture[str]) -> None:
    from circuitplan.design.rows import _unheard

    with _unheard():
        os.write(1, b"noise")
    os.write(1, b"answer")
    assert capfd.readouterr().out == "answer"
