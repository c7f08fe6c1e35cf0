"""What a failing finding is about never stands on paper as if it were sound."""

from __future__ import annotations

import re
from dataclasses import replace
from types import ModuleType

from circuitplan.model.result import Result
from circuitplan.planner.holding import MARK, failing, unheld_parts
from circuitplan.report.html import render_html
from circuitplan.report.workbook import sheets


def one_fails(sample: ModuleType) -> Result:
    """The small result with its switch overloaded; the finding names the switch alone."""
    finding = replace(sample.FINDINGS[0], subject="S1", circuit=None, accepted_by=None)
    return replace(sample.small_result(), findings=(finding,), answer="not ok")


def text_of(html: str, section: str) -> str:
    """The words of one section."""
    body = html.split(f'<section id="{section}"', 1)[1].split("</section>", 1)[0]
    return " ".join(re.sub(r"<[^>]+>", " ", body).split())


def test_a_switch_that_fails_marks_its_circuit(sample: ModuleType) -> None:
    result = one_fails(sample)
    (circuit,) = result.circuits
    assert set(failing(result)) == {circuit.id}
    assert unheld_parts(result) == {r.id for r in circuit.runs} | {f.id for f in circuit.fuses}


def test_an_accepted_finding_marks_nothing(sample: ModuleType) -> None:
    result = one_fails(sample)
    accepted = replace(result.findings[0], accepted_by="J. K.")
    assert failing(replace(result, findings=(accepted,))) == {}


def test_schedule_wires_fuses_and_drawing_say_it(sample: ModuleType) -> None:
    good = render_html(sample.small_plan(), sample.small_result())
    bad = render_html(sample.small_plan(), one_fails(sample))
    assert MARK not in good
    for section in ("circuits", "wires", "protection"):
        assert "! " in text_of(bad, section)
        assert MARK in text_of(bad, section), section
    assert "does not hold" in text_of(bad, "distribution")


def test_the_workbook_says_no(sample: ModuleType) -> None:
    for name, heads, rows in sheets(one_fails(sample)):
        if name in ("circuits", "wires", "fuses"):
            assert heads[-1] == "holds"
            assert {row[-1] for row in rows} == {False}, name
    circuits = next(rows for name, _, rows in sheets(sample.small_result()) if name == "circuits")
    assert {row[-1] for row in circuits} == {True}


def test_a_rule_is_called_a_rule(sample: ModuleType) -> None:
    html = render_html(sample.big_plan(), sample.big_result())
    assert "rule F05, limit not met" in text_of(html, "findings")
    assert "rules A01, F02" in text_of(html, "assumptions")
