"""F02: a larger fuse is only proposed where it was tried, guards its wire and clears a short."""

from __future__ import annotations

import re

import pytest

from circuitplan.model.result import Finding, Result
from circuitplan.planfile import changes, edits, read_text
from circuitplan.planner import study

HEAD = """circuitplan: 1
system: 12 V
supply: {battery: {type: agm, capacity: 95 Ah, cranking: 850 A}}
panels: {main: {fed_from: battery, length: 1 m, fuses: C}}
accessories:
"""
LAMP = "  - {name: Lamp, current: %s, load: constant current, length: %s, drop: 40 %%, %s}\n"
PLANS = {
    "near, wire given": LAMP % ("10 A", "2 m", "size: 4 mm2, fuse: 10 A"),
    "far, thin wire given": LAMP % ("8 A", "22 m", "size: 1 mm2, fuse: 10 A"),
    "far, thicker wire given": LAMP % ("11 A", "30 m", "size: 2.5 mm2, fuse: 15 A"),
    "far, wire free": LAMP % ("10 A", "20 m", "fuse: 10 A"),
    "wire that no larger fuse may stand before": LAMP % ("12 A", "3 m", "size: 1 mm2, fuse: 10 A"),
}


def failing(result: Result) -> set[str]:
    return {f.rule for f in result.findings if f.fails}


def told(text: str) -> tuple[Result, Finding]:
    result = study(read_text(text))
    (found,) = [f for f in result.findings if f.rule == "F02" and f.subject == "Lamp"]
    return result, found


def steps(found: Finding) -> list[str]:
    """The changes that a finding proposes: one to try as it is, or a fuse and a wire together."""
    if found.change is not None:
        return [found.change]
    both = re.match(r"Fit (\S+ A) of type (\S+) and (\S+) mm² in place of", found.remedy)
    assert both is not None, found.remedy
    return [f"Lamp fuse {both[1]} {both[2]}", f"Lamp size {both[3]} mm2"]


@pytest.mark.parametrize("name", PLANS)
def test_what_is_proposed_mends_it_and_breaks_nothing(name: str) -> None:
    text = HEAD + PLANS[name]
    result, found = told(text)
    for words in steps(found):
        text = edits.apply(text, changes.change(read_text(text), words))
    after = failing(study(read_text(text)))
    assert after <= failing(result)
    assert not {"F01", "F02", "F03"} & after


@pytest.mark.parametrize("name", ["far, thin wire given", "far, thicker wire given"])
def test_a_larger_fuse_alone_is_not_offered_on_a_far_short(name: str) -> None:
    """22 m of 1 mm² out and back: 0.81 ohm cold, over 1.1 hot; some 10 V drive 9 A. No fuse that
    carries 8 A for good (10 A at 0.8, 15 A in the warmth) opens at less than its rating."""
    _, found = told(HEAD + PLANS[name])
    assert found.change is None
    assert "mm² in place of" in found.remedy


def test_where_a_larger_fuse_serves_no_wire_is_offered() -> None:
    _, found = told(HEAD + PLANS["near, wire given"])
    assert found.change == "Lamp fuse 15 A C"
    assert "mm²" not in found.remedy
