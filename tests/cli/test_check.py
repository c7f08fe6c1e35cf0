"""``check``: the whole plan, and one circuit of it."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest

from circuitplan.cli.terminal.text import cells


def test_the_overloaded_switch_is_named_with_its_remedy(run: Any, plan: Path) -> None:
    answer = run("check", plan)
    assert answer.code == 1
    assert answer.first.startswith("NOT OK: ")
    assert re.search(r"WARNING +rule S01, S3", answer.out)
    assert "To mend it: " in answer.out
    assert re.search(r"! +1 +Compressor +S3 ", answer.out)


def test_every_section_is_there(run: Any, plan: Path) -> None:
    answer = run("check", plan)
    for head in ("FINDINGS", "CIRCUITS", "SWITCHES", "PANELS", "SUPPLY", "ASSUMED"):
        assert re.search(rf"^{head}", answer.out, re.MULTILINE), head
    assert "Local codes" in answer.out


def test_every_assumption_can_be_seen(run: Any, plan: Path) -> None:
    whole = run("check", plan, "--assumed")
    count = int(re.search(r"^ASSUMED \((\d+)\)", whole.out, re.MULTILINE)[1])  # type: ignore[index]
    listed = [line for line in whole.lines if line.startswith("- ")]
    assert len(listed) == count == len(run("check", plan, "--json").data["assumptions"])


@pytest.mark.parametrize("name", ["Fridge", "fridge", "2", "circuit 2"])
def test_one_circuit(run: Any, plan: Path, name: str) -> None:
    answer = run("check", plan, name)
    assert "CIRCUIT 2: Fridge" in answer.out
    assert "CIRCUIT 1" not in answer.out
    assert re.search(r"^2A +panel - Fridge ", answer.out, re.MULTILINE)
    for word in ("Fuse F", "Drop: ", "Fault: ", "Test: "):
        assert f"\n{word}" in answer.out
    assert "S3" not in answer.out


def test_the_answer_of_one_circuit_is_its_own(run: Any, plan: Path) -> None:
    data = run("check", plan, "Fridge", "--json")
    assert [c["label"] for c in data.data["circuits"]] == ["Fridge"]
    named = {f["subject"] for f in data.data["findings"]}
    assert named <= {"Fridge", "panel", "battery"}
    bad = run("check", plan, "Compressor")
    assert (bad.code, bad.first[:6]) == (1, "NOT OK")
    failing = [f for f in data.data["findings"] if f["fails"] and not f["accepted_by"]]
    assert data.code == (1 if failing else 0)


def test_a_switch_and_a_panel_are_names_too(run: Any, plan: Path) -> None:
    assert [c["label"] for c in run("check", plan, "S3", "--json").data["circuits"]] == [
        "Compressor"
    ]
    assert len(run("check", plan, "panel", "--json").data["circuits"]) == 2


def test_a_name_that_is_not_there(run: Any, plan: Path) -> None:
    answer = run("check", plan, "Frigde")
    assert answer.code == 2
    assert "did you mean Fridge?" in answer.out


def test_a_name_of_several_words_needs_no_quotes(run: Any, plan: Path) -> None:
    plan.write_text(plan.read_text().replace("name: Fridge", "name: Cold box"), "utf-8")
    assert run("check", plan, "cold", "box").code == run("check", plan, "Cold box").code != 2


@pytest.mark.parametrize(
    "example", ["overloaded-compressor.yaml", "workboat.yaml", "owners-list.csv"]
)
def test_no_line_is_longer_than_the_terminal(
    run: Any, examples: Path, monkeypatch: pytest.MonkeyPatch, example: str
) -> None:
    for width in (80, 72):
        answer = run("check", examples / example, "--assumed")
        assert max(map(cells, answer.lines)) <= width
        monkeypatch.setenv("COLUMNS", "72")
    monkeypatch.delenv("COLUMNS")


def test_names_of_any_length_and_script_stay_in_their_columns(run: Any, plan: Path) -> None:
    long = "冷蔵庫 " * 12 + "🚑 <b>&amp;</b>"
    text = plan.read_text("utf-8").replace("name: Fridge", f'name: "{long}"')
    plan.write_text(text, "utf-8")
    answer = run("check", plan)
    assert answer.code in (0, 1)
    assert max(map(cells, answer.lines)) <= 80
    assert max(map(cells, run("check", plan, "2").lines)) <= 80


def test_no_colour_where_nobody_looks(run: Any, plan: Path) -> None:
    assert "\x1b" not in run("check", plan).out


def test_colour_on_a_terminal_unless_refused(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    from circuitplan.cli.terminal import text

    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setattr("sys.stdout.isatty", lambda: True)
    assert text.ink("OK", "OK") == "\x1b[1;32mOK\x1b[0m"
    monkeypatch.setenv("NO_COLOR", "1")
    assert text.ink("OK", "OK") == "OK"


COLD = """
import sys
from circuitplan.cli import main
main(["check", sys.argv[1]])
slow = ("pandas", "weasyprint", "jinja2", "openpyxl", "matplotlib", "rich", "scipy.optimize",
        "scipy.integrate", "jsonschema", "circuitplan.report")
print("LOADED", [name for name in slow if name in sys.modules])
"""


def test_a_check_loads_nothing_slow(plan: Path) -> None:
    import subprocess
    import sys

    root = Path(__file__).resolve().parents[2]
    done = subprocess.run(
        [sys.executable, "-c", COLD, str(plan)],
        capture_output=True, encoding="utf-8", check=True, cwd=root,
    )  # fmt: skip
    assert done.stdout.splitlines()[-1] == "LOADED []"


def test_what_fails_is_listed_first_and_rules_are_called_rules(run: Any, plan: Path) -> None:
    answer = run("check", plan)
    heads = [line for line in answer.lines if re.match(r"(DANGER|WARNING|CAUTION|NOTICE) ", line)]
    passing = [i for i, line in enumerate(heads) if "does not fail" in line]
    assert passing
    assert passing == list(range(passing[0], len(heads)))
    assert all(re.match(r"[A-Z]+ +rule [A-Z][0-9]{2}, ", line) for line in heads)


def test_what_does_not_hold_is_marked_where_it_stands(run: Any, plan: Path) -> None:
    answer = run("check", plan)
    assert any(re.match(r"! +1  Compressor ", line) for line in answer.lines)
    assert not any(re.match(r"! +2  Fridge ", line) for line in answer.lines)
    assert "! does not hold: see findings above; do not build it so" in answer.out
    assert "Does not hold: see findings below" in run("check", plan, "Compressor").out
    assert "Does not hold" not in run("check", plan, "Fridge").out


def test_an_alternator_without_scenario_is_said_to_be_unjudged(run: Any, plan: Path) -> None:
    said = "alternator: not judged, the plan has no scenario"
    assert said in run("check", plan).out
    text = plan.read_text("utf-8")
    plan.write_text(text + "scenarios: [{name: Drive, engine: cruise}]\n", "utf-8")
    assert said not in run("check", plan).out


def test_a_doubtful_figure_is_asked_about_and_stays(run: Any, plan: Path) -> None:
    plan.write_text(plan.read_text("utf-8").replace("length: 2 m", "length: 4 mm"), "utf-8")
    answer = run("check", plan)
    assert "? Fridge: length 4 mm: is that right?" in answer.out
    assert answer.code == 1
