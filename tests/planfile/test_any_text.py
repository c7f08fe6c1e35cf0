"""Whatever stands in a file, the answer is a plan or a list of clear problems."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from circuitplan.errors import InputError
from circuitplan.model.plan import Plan
from circuitplan.planfile import read_plan, read_text, sheets
from circuitplan.planfile.sections import read_tree
from circuitplan.planfile.tree import Troubles
from circuitplan.planfile.yaml_file import compose

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))

BASE = """\
circuitplan: 1
system: 12 V
supply: {battery: 70 Ah, alternator: 120 A}
places: {cab: 45 °C, bed: 50 °C}
legs: [[cab, bed, 2 m]]
panels: {main: {place: cab, fed_from: battery, fuse: 60 A E}}
switches: {S1: 30 A, S3: {type: relay, rating: 1 A}}
accessories:
  - {name: Compressor, kind: twin-motor compressor, length: 3 m, switch: S3}
  - name: Fridge
    kind: fridge
    place: bed
    fed_from: main
scenarios: [{name: Night, running: {Fridge: 40 %}}]
"""


def assert_clear(error: InputError) -> None:
    assert error.problems
    for problem in error.problems:
        assert problem.where
        assert problem.found
        assert problem.remedy


def plan_or_problems(text: str) -> None:
    try:
        plan = read_text(text)
    except InputError as error:
        assert_clear(error)
    else:
        assert isinstance(plan, Plan)


@given(st.text(max_size=200))
@settings(deadline=None)
def test_any_text(text: str) -> None:
    plan_or_problems(text)


@given(st.text(alphabet=":-[]{}#&*!|>'\"%@`,? \n\tab1~", max_size=60))
@settings(deadline=None)
def test_any_heap_of_marks(text: str) -> None:
    plan_or_problems(text)
    plan_or_problems("circuitplan: 1\naccessories:\n  - name: A\n    kind: fan\n" + text)


@given(st.data())
@settings(max_examples=150, deadline=None)
def test_any_small_damage_to_a_good_plan(data: st.DataObject) -> None:
    start = data.draw(st.integers(0, len(BASE)))
    end = data.draw(st.integers(start, min(len(BASE), start + 12)))
    plan_or_problems(BASE[:start] + data.draw(st.text(max_size=6)) + BASE[end:])


values = st.recursive(
    st.text(alphabet=st.characters(codec="ascii", categories=("L", "N", "P", "Zs")), max_size=8)
    | st.sampled_from(["40 A", "S1", "cab", "yes", "1", "", "Fridge", "battery", "12 V"]),
    lambda inner: st.lists(inner, max_size=3)
    | st.dictionaries(
        st.sampled_from(["name", "kind", "power", "switch", "size", "place", "lead", "running"]),
        inner, max_size=4,
    ),
    max_leaves=8,
)  # fmt: skip
keys = st.sampled_from(
    ["circuitplan", "supply", "places", "legs", "panels", "switches", "accessories", "scenarios",
     "days", "accepted", "job", "wire", "system", "prices"]
)  # fmt: skip


@given(st.dictionaries(keys, values, max_size=6))
@settings(deadline=None)
def test_any_tree_in_any_section(tree: dict[str, object]) -> None:
    import json

    plan_or_problems(json.dumps(tree))


@given(st.text(max_size=120) | st.text(alphabet='name,kind;power W\n"=#1', max_size=60))
@settings(deadline=None)
def test_any_list(text: str) -> None:
    troubles = Troubles()
    root = sheets.csv_tree(text, "x.csv", troubles)
    plan = read_tree(root, troubles, formatted=False)
    assert isinstance(plan, Plan)


@given(st.binary(max_size=120))
@settings(
    suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=60, deadline=None
)
@pytest.mark.parametrize("ending", ["yaml", "csv", "xlsx"])
def test_any_bytes(tmp_path: Path, ending: str, data: bytes) -> None:
    path = tmp_path / f"plan.{ending}"
    path.write_bytes(data)
    try:
        plan = read_plan(path)
    except InputError as error:
        assert_clear(error)
    else:
        assert isinstance(plan, Plan)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_both_parsers_of_the_library_read_alike(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    troubles = Troubles()
    fast = compose(text, "x", troubles)
    assert fast == compose(text, "x", troubles, pure=True)
    assert not troubles.problems


@given(st.data())
@settings(max_examples=100, deadline=None)
def test_both_parsers_read_the_same_plan_or_refuse(data: st.DataObject) -> None:
    start = data.draw(st.integers(0, len(BASE)))
    # A tab inside a bare text is left out: only the parser in C takes it, as the standard does.
    spoilt = data.draw(st.sampled_from([" #x", "{", "]", ": ", "- ", "&a", '"']))
    text = BASE[:start] + spoilt + BASE[start:]
    outcomes = []
    for pure in (False, True):
        troubles = Troubles()
        try:
            plan = read_tree(compose(text, "x", troubles, pure), troubles)
        except InputError:
            outcomes.append(None)
        else:
            outcomes.append(None if troubles.problems else plan)
    if None not in outcomes:  # on odd texts one of the two is stricter
        assert outcomes[0] == outcomes[1]
