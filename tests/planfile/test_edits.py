"""Edits touch the asked lines and nothing else: shown by byte differences."""

from __future__ import annotations

import difflib

import pytest
from hypothesis import given
from hypothesis import strategies as st
from ruamel.yaml import YAML

from circuitplan.errors import InputError
from circuitplan.planfile.edits import Append, Change, Merge, Remove, apply
from circuitplan.planfile.scalars import render, scalar

PLAN = """\
# Ridge rescue pickup: the owner's own remarks stay
circuitplan: 1
system: 12 V
supply: {battery: 70 Ah, alternator: 120 A}   # both new

switches:
  S1: 30 A        # roof
  S3: {type: direct, rating: 20 A}
  "S 4":
    type: relay

accessories:
  # one line each
  - {name: Compressor, kind: twin-motor compressor, length: 3 m, switch: S3}
  - {name: "Lamps: rear, left", power: 20 W, length: 7' 6"}  # quoted

  - name: Kühlbox Ω   # not ASCII
    kind: fridge
    switch:
      - S1
      - S3
    # remark inside
    length: 5 m

  - name: Winch
    needs: S1
    never_with: [Compressor, Kühlbox Ω]
scenarios:
  - {name: Night, engine: off, running: {Kühlbox Ω: 30 %, Winch: 4 min}}
"""


def changed_lines(before: str, after: str) -> list[str]:
    """The lines that differ, line ends included."""
    pairs = difflib.ndiff(before.splitlines(keepends=True), after.splitlines(keepends=True))
    return [line for line in pairs if line[0] in "+-"]


def accessory(name: str, **values: str) -> Merge:
    return Merge(("accessories", name), values)


def test_a_key_is_added_to_a_flow_entry() -> None:
    after = apply(PLAN, [accessory("Compressor", size="6 mm2")])
    assert changed_lines(PLAN, after) == [
        "-   - {name: Compressor, kind: twin-motor compressor, length: 3 m, switch: S3}\n",
        "+   - {name: Compressor, kind: twin-motor compressor, length: 3 m, switch: S3,"
        " size: 6 mm2}\n",
    ]


def test_a_value_is_replaced_where_it_stands() -> None:
    after = apply(PLAN, [accessory("compressor", switch="S1")])
    assert changed_lines(PLAN, after) == [
        "-   - {name: Compressor, kind: twin-motor compressor, length: 3 m, switch: S3}\n",
        "+   - {name: Compressor, kind: twin-motor compressor, length: 3 m, switch: S1}\n",
    ]


def test_a_quoted_name_is_found_and_its_remark_kept() -> None:
    after = apply(PLAN, [accessory("Lamps: rear, left", length="4 m", number="12")])
    assert changed_lines(PLAN, after) == [
        '-   - {name: "Lamps: rear, left", power: 20 W, length: 7\' 6"}  # quoted\n',
        '+   - {name: "Lamps: rear, left", power: 20 W, length: 4 m, number: 12}  # quoted\n',
    ]


def test_keys_are_added_to_a_block_entry() -> None:
    after = apply(PLAN, [accessory("Kühlbox Ω", size="2.5 mm2", fuse="10 A C")])
    assert changed_lines(PLAN, after) == ["+     size: 2.5 mm2\n", "+     fuse: 10 A C\n"]
    assert "    length: 5 m\n    size: 2.5 mm2\n    fuse: 10 A C\n\n  - name: Winch" in after


def test_a_block_list_gives_way_to_one_value() -> None:
    after = apply(PLAN, [accessory("Kühlbox Ω", switch="S1")])
    assert changed_lines(PLAN, after) == [
        "-     switch:\n",
        "+     switch: S1\n",
        "-       - S1\n",
        "-       - S3\n",
    ]


def test_a_short_form_is_written_out() -> None:
    after = apply(PLAN, [Merge(("switches", "S1"), {"type": "relay"})])
    assert changed_lines(PLAN, after) == [
        "-   S1: 30 A        # roof\n",
        "+   S1: {rating: 30 A, type: relay}        # roof\n",
    ]
    after = apply(PLAN, [Merge(("supply", "battery"), {"capacity": "95 Ah", "type": "agm"})])
    assert "battery: {capacity: 95 Ah, type: agm}, alternator: 120 A}   # both new" in after


def test_a_lead_alone_is_a_length_or_a_size() -> None:
    for lone, key in (("0.4 m", "length"), ("10 AWG", "size"), ("4 mm²", "size")):
        text = f"switches:\n  S1: {{rating: 40 A, lead: {lone}}}\n"
        after = apply(text, [Merge(("switches", "S1", "lead"), {"colour": "RD"})])
        assert after == text.replace(lone, f"{{{key}: {lone}, colour: RD}}")


def test_a_new_thing_and_a_new_section() -> None:
    after = apply(PLAN, [Merge(("switches", "S9"), {"rating": "5 A"})])
    assert changed_lines(PLAN, after) == ["+   S9: {rating: 5 A}\n"]
    after = apply(PLAN, [Merge(("places", "bed"), {"ambient": "45 °C"})])
    assert changed_lines(PLAN, after) == ["+ places: {bed: {ambient: 45 °C}}\n"]


def test_an_accessory_is_added_in_the_style_of_the_last() -> None:
    new = {"name": "Fan, small", "kind": "fan", "switch": ("S1", "S3")}
    after = apply(PLAN, [Append(("accessories",), new)])
    assert changed_lines(PLAN, after) == [
        '+   - name: "Fan, small"\n',
        "+     kind: fan\n",
        "+     switch: [S1, S3]\n",
    ]
    flow = "circuitplan: 1\naccessories:\n- {name: A, kind: fan}\n"
    after = apply(flow, [Append(("accessories",), new)])
    assert changed_lines(flow, after) == ['+ - {name: "Fan, small", kind: fan, switch: [S1, S3]}\n']
    inline = "circuitplan: 1\naccessories: [{name: A, kind: fan}]  # x\n"
    after = apply(inline, [Append(("accessories",), {"name": "B"})])
    assert after == "circuitplan: 1\naccessories: [{name: A, kind: fan}, {name: B}]  # x\n"


@pytest.mark.parametrize("start", ["accessories:", "accessories: []", ""])
def test_the_first_accessory(start: str) -> None:
    after = apply(f"circuitplan: 1\n{start}\n", [Append(("accessories",), {"name": "B"})])
    assert YAML(typ="safe").load(after) == {"circuitplan": 1, "accessories": [{"name": "B"}]}


@pytest.mark.parametrize(
    ("path", "gone"),
    [
        (("accessories", "Compressor"), ["-   - {name: Compressor, kind"]),
        (("accessories", "Winch"), ["-   - name: Winch", "-     needs: S1", "-     never_with"]),
        (("accessories", "Kühlbox Ω", "kind"), ["-     kind: fridge"]),
        (("accessories", "Winch", "needs", "S1"), ["-     needs: S1"]),
        (("switches", "S 4"), ['-   "S 4":', "-     type: relay"]),
    ],
)
def test_removing_takes_whole_lines(path: tuple[str, ...], gone: list[str]) -> None:
    lines = changed_lines(PLAN, apply(PLAN, [Remove(path)]))
    assert len(lines) == len(gone)
    assert all(line.startswith(start) for line, start in zip(lines, gone, strict=True))


def test_removing_from_flow_takes_one_comma() -> None:
    after = apply(PLAN, [Remove(("scenarios", "Night", "running", "Winch"))])
    assert "running: {Kühlbox Ω: 30 %}}" in after
    after = apply(after, [Remove(("scenarios", "Night", "running", "Kühlbox Ω"))])
    assert "running: {}}" in after
    after = apply(PLAN, [Remove(("accessories", "Winch", "never_with", "Compressor"))])
    assert "never_with: [Kühlbox Ω]" in after
    after = apply(PLAN, [Remove(("accessories", "Lamps: rear, left", "power"))])
    assert '{name: "Lamps: rear, left", length' in after


def test_removing_the_last_one_leaves_an_empty_list() -> None:
    text = "circuitplan: 1\naccessories:   # all of them\n  - name: A\n    kind: fan\n"
    after = apply(text, [Remove(("accessories", "A"))])
    assert after == "circuitplan: 1\naccessories: []   # all of them\n"


def test_removing_the_first_key_of_an_entry_moves_the_next_up() -> None:
    text = "accessories:\n  - number: 3\n    name: A\n"
    assert apply(text, [Remove(("accessories", "A", "number"))]) == "accessories:\n  - name: A\n"


def test_windows_line_ends_a_mark_at_the_start_and_no_end_of_line_at_the_end() -> None:
    dos = "\ufeff" + PLAN.replace("\n", "\r\n")
    after = apply(dos, [accessory("Kühlbox Ω", size="2.5 mm2"), Remove(("accessories", "Winch"))])
    assert after.startswith("\ufeff# Ridge")
    assert after.count("\n") == after.count("\r\n")
    assert changed_lines(dos, after) == [
        "+     size: 2.5 mm2\r\n",
        "-   - name: Winch\r\n",
        "-     needs: S1\r\n",
        "-     never_with: [Compressor, Kühlbox Ω]\r\n",
    ]
    assert apply("a: {x: 1}", [Merge((), {"b": "2"})]) == "a: {x: 1}\nb: 2"


def test_many_changes_at_once_and_ones_that_build_on_each_other() -> None:
    changes: list[Change] = [
        Append(("accessories",), {"name": "Fan"}),
        accessory("Fan", kind="fan"),
        accessory("Compressor", size="6 mm2"),
        accessory("Compressor", fuse="40 A"),
        Append(("accessories",), {"name": "Pump"}),
    ]
    entries = YAML(typ="safe").load(apply(PLAN, changes))["accessories"]
    assert [e["name"] for e in entries][-2:] == ["Fan", "Pump"]
    assert entries[-2]["kind"] == "fan"
    assert (entries[0]["size"], entries[0]["fuse"]) == ("6 mm2", "40 A")


def test_the_same_value_again_changes_nothing() -> None:
    again = [accessory("Compressor", switch="S3"), accessory("Kühlbox Ω", kind="fridge")]
    assert apply(PLAN, again) == PLAN
    both = Merge(("accessories", "Kühlbox Ω"), {"switch": ("S1", "S3")})
    assert apply(PLAN, [both]) == PLAN


def test_a_name_that_is_not_there_names_the_nearest() -> None:
    with pytest.raises(InputError) as caught:
        apply(PLAN, [accessory("Compresor", size="6 mm2")])
    (problem,) = caught.value.problems
    assert "Compresor" in problem.found
    assert "'Compressor'" in problem.remedy
    with pytest.raises(InputError):
        apply(PLAN, [Remove(("accessories", "Fan"))])
    assert apply(PLAN, [Remove(("accessories", "Fan"), missing_ok=True)]) == PLAN


@pytest.mark.parametrize("text", ["", "- a\n", "a: [\n", "just words"])
def test_no_plan_in_the_text(text: str) -> None:
    with pytest.raises(InputError):
        apply(text, [Merge((), {"a": "1"})])


printable = st.text(
    st.characters(exclude_categories=("Cs", "Cc", "Cn", "Co", "Zl", "Zp"), max_codepoint=0xFFFF),
    min_size=1,
    max_size=20,
)


@given(printable)
def test_any_name_comes_back_as_written(name: str) -> None:
    for text in (f"a: {scalar(name)}\n", f"a: {{b: {scalar(name)}, c: 1}}\n"):
        node = YAML(typ="safe", pure=True).compose(text).value[0][1]
        value = node.value if isinstance(node.value, str) else node.value[0][1].value
        assert value == name


@given(st.dictionaries(printable, printable, min_size=1, max_size=4), st.booleans())
def test_merged_values_read_back(values: dict[str, str], flow: bool) -> None:
    distinct = {k.casefold(): k for k in values}
    values = {k: values[k] for k in distinct.values() if k.casefold() not in ("name", "x")}
    start = (
        "accessories:\n  - {name: A, x: 1}  # c\n"
        if flow
        else ("accessories:\n  - name: A\n    x: 1  # c\n\nrest: 1\n")
    )
    after = apply(start, [Merge(("accessories", "A"), values)])
    root = YAML(typ="safe", pure=True).compose(after)
    entry = root.value[0][1].value[0]
    assert {k.value: v.value for k, v in entry.value} == {"name": "A", "x": "1", **values}


def test_render_nests() -> None:
    assert render({"a": ("b", "c d"), "e": {"f": "1, 2"}}) == '{a: [b, c d], e: {f: "1, 2"}}'
