"""The two pictures: grey-proof, told apart without colour, every name escaped, words that agree."""

from __future__ import annotations

import re
from dataclasses import replace
from xml.etree import ElementTree

import failing_plans as plans
import pytest

from circuitplan.model.plan import Leg, Plan
from circuitplan.model.result import Coordination, Result, WarmLeg
from circuitplan.planfile import read_text
from circuitplan.planner import design
from circuitplan.report.fuse_against_wire import (
    LOAD,
    MELTS,
    OPENS,
    START,
    fuse_against_wire,
    legend,
    sentence,
)
from circuitplan.report.html import render_html
from circuitplan.report.sections.warm_wires import view as warm_view
from circuitplan.report.warm_wires import Way, warm_wires

SVG = "{http://www.w3.org/2000/svg}"
RESULT: Result = design(read_text(plans.EVERYTHING), ()).result
ALL = [c for p in RESULT.panels for c in p.coordination] + [
    c for one in RESULT.circuits for c in one.coordination
]


def words(svg: str) -> list[str]:
    return [t.text or "" for t in ElementTree.fromstring(svg).iter(f"{SVG}text")]


@pytest.mark.parametrize("against", ALL, ids=[c.fuse for c in ALL])
def test_a_chart_names_its_lines_and_stays_black_and_white(against: Coordination) -> None:
    svg, alternative = fuse_against_wire(against)
    said = words(svg)
    assert {"load", "far end", "melts", "opens", "wire hurt"} <= set(said)
    assert set(re.findall(r"#[0-9a-fA-F]+", svg)) <= {"#000", "#fff"}
    assert sentence(against) in alternative
    assert ("start" in said) == bool(against.start)


def test_no_two_lines_share_dash_and_width() -> None:
    assert len({START, MELTS, OPENS, LOAD}) == 4
    lines = ElementTree.fromstring(legend()[0]).iter(f"{SVG}path")
    looks = [(p.get("stroke-dasharray"), p.get("stroke-width")) for p in lines]
    drawn = [look for look in looks if look[1] != "0.18"]  # strokes of the hatching
    assert len(drawn) == len(set(drawn)) == 6


@pytest.mark.parametrize("against", ALL, ids=[c.fuse for c in ALL])
def test_nothing_is_drawn_outside_the_frame(against: Coordination) -> None:
    svg, _ = fuse_against_wire(against)
    for path in ElementTree.fromstring(svg).iter(f"{SVG}path"):
        numbers = [float(n) for n in re.findall(r"-?[\d.]+", path.get("d") or "")]
        xs, ys = numbers[::2], numbers[1::2]
        assert min(xs) >= 11.9
        assert max(xs) <= 85.9  # the bar of the far end may pass the frame by its least width
        assert min(ys) >= 4.9
        assert max(ys) <= 45.5


def test_the_sentence_says_what_fails() -> None:
    bad = next(c for c in ALL if not c.guarded)
    good = next(c for c in ALL if c.guarded and c.start_share is None)
    assert "NOT shown" in sentence(bad)
    assert "the wire is guarded" in sentence(good)
    assert "NOT" not in sentence(good)
    blows = next(c for c in ALL if c.start_margin is not None and c.start_margin < 1.0)
    assert "it may blow" in sentence(blows)
    unknown = replace(good, clears=(), melts=(), clears_s=None, guarded=False)
    assert "No curve" in sentence(unknown)


# --- the map -------------------------------------------------------------------------------------


def leg(way: str, share: float) -> WarmLeg:
    return WarmLeg(way, "3A", share * 100.0, 100.0, 40.0)


def test_the_map_shows_every_way_with_its_number() -> None:
    ways = (
        Way("bay", "cab", leg("bay–cab", 0.95)), Way("cab", "bed", leg("bed–cab", 0.5)),
        Way("cab", "roof", None), Way("bay", "bed", leg("bay–bed", 1.2)),
    )  # fmt: skip
    svg, alternative = warm_wires("bay", ways, {"cab": leg("at cab", 0.7)})
    said = words(svg)
    assert {"95 °C", "50 °C", "120 °C"} <= set(said)
    assert "wire 3A: 70 °C" in said
    assert {"bay", "cab", "bed", "roof"} <= set(said)
    assert said.count("bay") == 2  # the ring ends in a dashed box that repeats its beginning
    assert "cab to roof: no wire" in alternative
    assert set(re.findall(r"#[0-9a-fA-F]+", svg)) <= {"#000", "#fff"}


def test_places_without_a_way_between_them_still_stand_on_the_map() -> None:
    ways = (Way("a", "b", None), Way("c", "d", leg("c–d", 0.3)))
    svg, _ = warm_wires("c", ways, {})
    assert {"a", "b", "c", "d"} <= set(words(svg))


def test_names_are_escaped() -> None:
    svg, _ = warm_wires(None, (Way("<b> & c", "d", leg("x", 0.5)),), {})
    assert any("<b>" in text for text in words(svg))


def test_without_ways_there_is_no_map_but_the_hottest_wire_is_told() -> None:
    view = warm_view.build(read_text(plans.EVERYTHING), RESULT)
    assert view.picture is None
    assert view.hottest.startswith("Nearest to its class: wire ")


def test_each_way_shows_its_hottest_wire_of_all_circuits() -> None:
    first, *rest = RESULT.circuits
    circuits = (
        replace(first, warm=(replace(leg("bay–cab", 0.6), run="1A"),)),
        *(replace(c, warm=(replace(leg("bay–cab", 0.4), run="9A"),)) for c in rest),
    )
    plan = Plan(legs=(Leg("cab", "bay", 2.0),))
    view = warm_view.build(plan, replace(RESULT, circuits=circuits, panels=()))
    assert view.picture is not None
    assert "wire 1A, 60 °C of 100 °C" in view.picture.alternative
    assert view.hottest == "Nearest to its class: wire 1A, 60 °C of 100 °C (bay to cab)."


def test_both_sections_stand_in_the_summary() -> None:
    page = render_html(read_text(plans.EVERYTHING), RESULT)
    assert page.count('class="drawing chart"') == len(ALL)
    for against in ALL:
        assert sentence(against).replace("&", "&amp;") in page
    assert 'id="warm_wires"' in page
