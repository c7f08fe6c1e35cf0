"""``explain`` and ``tables``: pages for rules, failures, errors, workings, tables."""

from __future__ import annotations

import io
import re
from pathlib import Path
from typing import Any

import pytest

from circuitplan.cli import error_pages
from circuitplan.cli.terminal.text import cells
from circuitplan.library import store
from circuitplan.rules import all_rules


def test_every_rule_and_failure_has_a_page(run: Any) -> None:
    ids = [rule.id for rule in all_rules()] + [f"G{n:02}" for n in range(1, 21)]
    for name in ids:
        answer = run("explain", name)
        assert answer.code == 0, name
        assert answer.first.startswith(f"OK: {name} "), name
        assert max(map(cells, answer.lines)) <= 80, name


@pytest.mark.parametrize("page", error_pages.PAGES, ids=lambda page: page.name)
def test_every_error_is_found_by_its_name(run: Any, page: error_pages.ErrorPage) -> None:
    answer = run("explain", page.name)
    assert answer.code == 0
    assert f"'{page.name}'" in answer.first
    assert "To mend it: " in answer.out


def test_what_is_not_known_is_said(run: Any) -> None:
    answer = run("explain", "qwertz")
    assert answer.code == 2
    assert answer.first.startswith("CANNOT SAY: ")


def test_the_working_of_a_circuit(run: Any, plan: Path) -> None:
    answer = run("explain", plan, "Fridge")
    assert answer.code == 0
    assert "CIRCUIT 2: Fridge" in answer.out
    assert "CIRCUIT 1" not in answer.out
    assert "  1. " in answer.out
    assert "from: " in answer.out
    assert max(map(cells, answer.lines)) <= 80
    assert "CIRCUIT 1" in run("explain", plan).out


def test_every_table_is_listed_and_shown(run: Any) -> None:
    listed = run("tables").out
    for name in store.names():
        assert f"\n{name} " in listed
        answer = run("tables", name)
        assert answer.code == 0, name
        assert max(map(cells, answer.lines)) <= 80, name
        assert run("tables", name, "--json").data["rows"] == list(store.rows(name))


def test_kinds_and_one_kind(run: Any) -> None:
    assert "\nfridge " in run("tables", "kinds").out
    one = run("tables", "kinds", "Refrigerators")
    assert "is the kind fridge" in one.first
    assert run("tables", "kinds", "flux compensator").code == 2
    assert run("tables", "fuse", "ratings").code == 0


def test_a_table_that_is_not_there(run: Any) -> None:
    answer = run("tables", "conductor")
    assert answer.code == 2
    assert "did you mean conductors?" in answer.out


def test_sources(run: Any) -> None:
    out = run("tables", "sources").out
    assert "33 CFR" in out
    assert "tables: " in out


def test_formula_against_tables(run: Any) -> None:
    # The gate: within 15 % of NEC 310.17 and DIN VDE 0298-4 (both second-hand).
    answer = run("tables", "deviations")
    assert answer.first.startswith("OK: ")
    assert "NEC" in answer.out
    assert "DIN VDE 0298-4" in answer.out
    data = run("tables", "deviations", "--json").data
    assert len(data["rows"]) >= 40
    assert max(abs(row["relative"]) for row in data["rows"]) <= data["gate"] == 0.15


def test_a_key_of_a_plan_is_explained(run: Any) -> None:
    peak = run("explain", "peak")
    assert peak.first == "OK: the key 'peak' of a plan is explained here."
    assert "peak, in accessories: largest current" in peak.out
    assert "as peak: 480 A" in peak.out
    assert "one of: always, ignition, engine" in run("explain", "live").out
    assert "in panels, switches: when" in run("explain", "live").out
    assert "its keys: name, engine, duration" in " ".join(run("explain", "scenarios").out.split())
    assert run("explain", "fed", "from").out == run("explain", "fed_from").out


def test_every_key_has_a_meaning_and_none_hides_an_error() -> None:
    from circuitplan.planfile import meanings

    for word in meanings.words():
        assert all(m.means and m.example for m in meanings.of_key(word)), word
    assert meanings.of_key("qwertz") == ()
    assert [p.name for p in error_pages.PAGES if meanings.of_key(p.name)] == []


BASE = {
    "circuitplan": "1",
    "places": {"engine bay": "80 °C", "cab": "45 °C", "bed": "40 °C"},
    "panels": {"Cab panel": {"place": "cab", "fed_from": "battery"}},
    "switches": {"S3": {"rating": "20 A"}},
    "scenarios": [{"name": "Search", "engine": "idle"}],
    "accessories": [{"name": "Winch", "kind": "winch"}, {"name": "Fridge", "kind": "fridge"}],
}


def _with_base(snippet: str) -> str:
    """The snippet in a plan that has what others may refer to; its own entries come first."""
    from ruamel.yaml import YAML

    said = YAML(typ="safe", pure=True).load(snippet)
    whole: dict[str, Any] = {**BASE, **said}
    for section, entries in said.items():
        base = BASE.get(section)
        if isinstance(base, dict):
            whole[section] = base | entries
        elif isinstance(base, list):
            names = {e["name"] for e in entries}
            whole[section] = [*entries, *(e for e in base if e["name"] not in names)]
    out = io.StringIO()
    YAML(typ="safe", pure=True).dump(whole, out)
    return out.getvalue()


def _meanings() -> list[Any]:
    from circuitplan.planfile import meanings

    return [m for word in dict.fromkeys(meanings.words()) for m in meanings.of_key(word)]


@pytest.mark.parametrize("meaning", _meanings(), ids=lambda m: f"{'+'.join(m.sections)}.{m.key}")
def test_every_example_is_read_without_a_problem(meaning: Any, tmp_path: Path) -> None:
    from circuitplan.planfile import read_plan

    (tmp_path / "maker.csv").write_text("shaft_rpm,output_a\n1500,60\n6000,150\n")
    (tmp_path / "prices.csv").write_text("what,size,colour,per,price,currency\n")
    path = tmp_path / "plan.yaml"
    assert re.search(rf"\b{meaning.key}\b", meaning.snippet)
    path.write_text(_with_base(meaning.snippet), "utf-8")
    read_plan(path)


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("charger", "'chargers' of a plan"), ("chargers", "'chargers' of a plan"),
        ("battery", "battery, in supply"), ("batteries", "further batteries, by name"),
        ("reverse", "signal, in switches"), ("signal", "signal, in switches"),
        ("stock", "wire sizes on the shelf"), ("prices", "a price list"), ("price", "a price list"),
        ("split", "split, in switches"), ("switches", "its keys: label"), ("leg", "its keys: from"),
        ("accessory", "its keys: name"), ("panel", "its keys: place"), ("days", "its keys: name"),
        ("amps", "current, in accessories"), ("watts", "as power: 45 W"), ("fed", "fed_from, in"),
        ("lifepo4", "one of: flooded, agm, gel, lifepo4"), ("relay", "type, in switches"),
        ("dc-dc", "type, in chargers"),
    ],
)  # fmt: skip
def test_words_people_ask_for_are_explained(run: Any, word: str, said: str) -> None:
    answer = run("explain", word)
    assert answer.code == 0
    assert said in " ".join(answer.out.split())
    assert "in a plan:" in answer.out
    assert max(map(cells, answer.lines)) <= 80


@pytest.mark.parametrize("word", ["bateries", "frige", "qwertz", "acessories", "D99", "fuze"])
def test_what_is_not_found_has_at_most_five_suggestions(run: Any, word: str) -> None:
    answer = run("explain", word)
    assert answer.code == 2
    out = " ".join(answer.out.split())
    assert len(out) < 420
    near = re.search(r"did you mean (.*)\?", out)
    assert near is None or near[1].count(",") <= 4
    assert word != "bateries" or (near is not None and "batteries" in near[1])
