"""``explain`` and ``tables``: pages for rules, failures, errors, workings, tables."""

from __future__ import annotations

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
