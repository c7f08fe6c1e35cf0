"""The distribution drawing: any tree is laid out without overlap and within the sheet."""

from __future__ import annotations

import dataclasses
from itertools import combinations
from types import ModuleType

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from circuitplan.report.drawing.draw import draw
from circuitplan.report.drawing.layout import HEIGHT_MM, WIDTH_MM, Drawing, layout
from circuitplan.report.drawing.strips import Mark
from circuitplan.report.drawing.tree import CircuitBranch, Contact, Guard, Load, Node, distribution

HAIR_MM = 1e-6


def overlap(a: Mark, b: Mark) -> bool:
    return (
        a.x + a.w > b.x + HAIR_MM
        and b.x + b.w > a.x + HAIR_MM
        and a.y + a.h > b.y + HAIR_MM
        and b.y + b.h > a.y + HAIR_MM
    )


def holds(outer: Mark, inner: Mark) -> bool:
    """A panel's text lies inside its box: that is meant."""
    return (
        outer.what == "panel"
        and inner.what == "text"
        and outer.x <= inner.x
        and outer.y <= inner.y
        and inner.x + inner.w <= outer.x + outer.w + HAIR_MM
        and inner.y + inner.h <= outer.y + outer.h + HAIR_MM
    )


def check(drawings: tuple[Drawing, ...]) -> None:
    for drawing in drawings:
        for a, b in combinations(drawing.marks, 2):
            assert not overlap(a, b) or holds(a, b) or holds(b, a), (drawing.name, a, b)
        for m in drawing.marks:
            assert m.x >= 0.0
            assert m.y >= -HAIR_MM
            assert m.x + m.w <= WIDTH_MM + HAIR_MM, m
            assert m.y + m.h <= drawing.height_mm + HAIR_MM, m
        for (x0, y0), (x1, y1) in (w for w in drawing.wires if len(w) == 2):
            assert x0 == x1 or y0 == y1  # IEC 61082-1: horizontal or vertical (from memory)
            line = Mark("wire", min(x0, x1), min(y0, y1), abs(x1 - x0), abs(y1 - y0))
            for m in drawing.marks:
                assert m.what != "text" or not _strikes(line, m), (drawing.name, line, m)


def _strikes(line: Mark, text: Mark) -> bool:
    thin = dataclasses.replace(line, w=max(line.w, 0.1), h=max(line.h, 0.1))
    return overlap(thin, text)


def test_the_big_sample(sample: ModuleType) -> None:
    result = sample.big_result()
    drawings = layout(distribution(result))
    check(drawings)
    words = " ".join(" ".join(m.lines) for d in drawings for m in d.marks)
    for circuit in result.circuits:
        assert circuit.label in words
        assert all(f.id in words for f in circuit.fuses)
        assert all(r.id in words for r in circuit.relays)


@pytest.mark.parametrize(("panels", "circuits"), [(1, 40), (9, 3), (5, 9)])
def test_wide_and_deep_results_are_split(sample: ModuleType, panels: int, circuits: int) -> None:
    result = sample.wide_result(panels, circuits)
    drawings = layout(distribution(result))
    check(drawings)
    assert len(drawings) > 1
    assert all(d.height_mm <= HEIGHT_MM for d in drawings)
    names = [m for d in drawings for m in d.marks if m.what.startswith("load ")]
    assert len(names) == panels * circuits


def test_a_cut_bar_is_named_at_both_ends(sample: ModuleType) -> None:
    drawings = layout(distribution(sample.wide_result(1, 40)))
    first = [m.lines[0] for m in drawings[0].marks if m.what == "text"]
    second = [m.lines[0] for m in drawings[1].marks if m.what == "text"]
    assert "P0: goes on in drawing 2" in first
    assert "P0: from drawing 1" in second


def test_a_ring_of_panels_is_refused(sample: ModuleType) -> None:
    base = sample.wide_result(2, 1)
    ring = dataclasses.replace(base.panels[0], fed_from="P1")
    result = dataclasses.replace(base, panels=(ring, base.panels[1]))
    with pytest.raises(ValueError, match="no source feeds"):
        distribution(result)


def test_texts_are_escaped(sample: ModuleType) -> None:
    drawings = layout(distribution(sample.big_result()))
    svg = "".join(draw(d, 'a "title" <x>') for d in drawings)
    assert "Tracker &lt;12 V&gt; &amp;" in svg
    assert "<x>" not in svg


text = st.text(alphabet="abcM W.12-", min_size=1, max_size=80).filter(str.strip)
guard = st.builds(
    Guard, st.sampled_from(["fuse", "breaker", "isolator", "none"]), text, st.just("40 A C")
)
contact = st.builds(Contact, st.sampled_from(["switch", "relay", "none"]), text, text)
load = st.builds(
    Load,
    st.sampled_from(["lamp", "motor", "box", "horn", "heater", "socket", "coil"]),
    st.just("E"), text, text, st.sampled_from(["wire", "chassis"]), contact, text, text,
)  # fmt: skip
branch = st.builds(
    CircuitBranch, guard, st.lists(load, min_size=1, max_size=3).map(tuple),
    st.one_of(st.none(), contact),
)  # fmt: skip


def node(below: st.SearchStrategy[Node]) -> st.SearchStrategy[Node]:
    return st.builds(
        Node, st.sampled_from(["panel", "converter", "output"]), text, text, guard, text, text,
        st.lists(below, max_size=3).map(tuple), st.lists(branch, max_size=3).map(tuple),
    )  # fmt: skip


leaf = st.builds(
    Node, st.just("panel"), text, text, guard, text, text, st.just(()),
    st.lists(branch, max_size=4).map(tuple),
)  # fmt: skip
tree = st.builds(
    lambda below, own: Node("source", "battery", "", Guard("none", "", ""), "", "", below, own),
    st.lists(st.recursive(leaf, node, max_leaves=6), max_size=3).map(tuple),
    st.lists(branch, max_size=3).map(tuple),
)


@settings(max_examples=40, deadline=None)
@given(tree)
def test_no_tree_overlaps(root: Node) -> None:
    drawings = layout((root,))
    check(drawings)
    shown = sum(m.what.startswith("load ") for d in drawings for m in d.marks)
    assert shown == _loads(root)


def _loads(n: Node) -> int:
    return sum(len(b.loads) for b in n.circuits) + sum(map(_loads, n.panels))
