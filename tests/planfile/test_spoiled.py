"""Spoiled inputs: each gives InputError with one clear problem at the right place."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from circuitplan.errors import InputError, Problem
from circuitplan.planfile import read_plan, read_text


def problems(text: str) -> tuple[Problem, ...]:
    """What is wrong with a YAML plan; fails if nothing is."""
    with pytest.raises(InputError) as caught:
        read_text(text)
    return caught.value.problems


def plan(fridge: str = "kind: fridge", top: str = "") -> str:
    """A small plan: line 5 is of the fridge, ``top`` begins on line 6."""
    return (
        "circuitplan: 1\nswitches: {S1: 30 A}\naccessories:\n  - name: Fridge\n"
        f"    {fridge}\n{top}"
    )


NAME = "- {name: Fan, kind: fan}"

# what is spoiled: (text, line, words in what was found, words in the remedy)
SPOILED = {
    "no unit": (plan("current: 40"), 5, "'40', a number without a unit", "40 A"),
    "wrong dimension": (plan("power: 40 A"), 5, "a current", "give a power"),
    "negative": (plan("current: -4 A"), 5, "negative", "sign"),
    "zero": (plan("current: 0 A"), 5, "zero", "leave the key out"),
    "not a number": (plan("current: NaN A"), 5, "no number", "give the number"),
    "infinite": (plan("current: .inf A"), 5, "does not begin with a number", "number"),
    "beyond all reason": (plan("current: 1e30 A"), 5, "beyond", "check"),
    "comma in a number": (plan("current: 2,5 A"), 5, "comma", "2.5 A"),
    "400 V": ("circuitplan: 1\nsystem: 400 V\naccessories: [{name: A, power: 1 W}]\n", 2,
              "'400 V'", "qualified electrician"),
    "13.8 V nominal": ("circuitplan: 1\nsystem: 13.8 V\naccessories: [{name: A, power: 1 W}]\n",
                       2, "'13.8 V'", "nominal"),
    "230 V accessory": (plan("rated_volts: 230 V\n    power: 5 W"), 5, "above 60 V", "electrician"),
    "unknown key": (plan("kind: fridge\n    lenght: 5 m"), 6, "unknown key 'lenght'", "length"),
    "key with a space": (plan("kind: fridge\n    fed from: battery"), 6, "'fed from'", "fed_from"),
    "unknown section": (plan(top="acessories: []\n"), 6, "'acessories'", "accessories"),
    "unknown kind": (plan("kind: frige"), 5, "'frige'", "fridge"),
    "unknown switch": (plan("kind: fridge\n    switch: S2"), 6, "'S2'", "did you mean S1"),
    "two switches as a text": (
        "circuitplan: 1\nswitches: {S1: 5 A, S2: 5 A}\naccessories:\n"
        "  - name: Fan\n    kind: fan\n    switch: S1, S2\n", 6, "'S1, S2'", "S1"),
    "unknown panel": (plan("kind: fridge\n    fed_from: mian", "panels: {main: {ways: 4}}\n"), 6,
                      "'mian'", "main"),
    "unknown place": (plan("kind: fridge\n    place: atic", "places: {attic rack: 50 °C}\n"), 6,
                      "'atic'", ""),
    "unknown battery": (
        plan(top="supply:\n  chargers: {C1: {type: dc-dc, from: battery, to: hous}}\n"
                 "  batteries: {house: 90 Ah}\n"), 7, "'hous'", "house"),
    "unknown accessory": (plan("kind: fridge\n    needs: Winsh"), 6, "'Winsh'", "accessories"),
    "unknown in scenario": (plan(top="scenarios:\n  - {name: N, running: {Frige: 10 %}}\n"), 7,
                            "'Frige'", "Fridge"),
    "unknown scenario": (plan(top="days: [{name: D, order: [Night]}]\n"), 6, "'Night'",
                         "scenarios"),
    "unknown practice": (plan(top="practice: rescue\n"), 6, "'rescue'", "rescue vehicle"),
    "duplicate name": (plan("kind: fridge\n  - {name: fridge, kind: fridge}"), 6,
                       "'fridge' a second",
                       "another name"),
    "duplicate key": (plan("kind: fridge\n    kind: fan"), 6, "'kind' a second", "delete"),
    "duplicate switch": ("circuitplan: 1\nswitches:\n  S1: 5 A\n  s1: 6 A\naccessories: "
                         "[{name: A, power: 1 W}]\n", 4, "'s1' a second", "another name"),
    "panel named as the battery": (plan(top="panels: {battery: {ways: 4}}\n"), 6, "'battery'",
                                   "another name"),
    "panel feeding itself": (plan(top="panels: {main: {fed_from: main}}\n"), 6, "feeds itself",
                             "battery"),
    "panels in a ring": (plan(top="panels:\n  a: {fed_from: b}\n  b: {fed_from: c}\n"
                                  "  c: {fed_from: a}\n"), 7, "ring: a from b from c from a",
                         "battery"),
    "no way": (plan("kind: fridge\n    place: bed\n    fed_from: main",
                    "panels: {main: {place: cab}}\nplaces: {cab: 40 °C, bed: 40 °C, roof: 60 °C}\n"
                    "legs: [[cab, roof, 2 m]]\n"), 4, "no way of legs from cab to bed",
               "[cab, bed"),
    "leg to itself": (plan(top="legs: [[cab, cab, 2 m]]\n"), 6, "to itself", "mend"),
    "leg without a length": (plan(top="legs: [[cab, roof]]\n"), 6, "2 parts", "cab, bed, 3.1 m"),
    "neither kind nor draw": (plan("quantity: 2"), 4, "without kind, power and current", "kind"),
    "power and current": (plan("power: 5 W\n    current: 2 A"), 4, "both", "keep"),
    "fuse and breaker": (plan("kind: fan\n    fuse: 5 A\n    breaker: 5 A"), 4, "both fuse and",
                         "delete one"),
    "half a piece": (plan("kind: fridge\n    quantity: 1.5"), 6, "'1.5'", "digits"),
    "no piece": (plan("kind: fridge\n    quantity: 0"), 6, "'0'", "digits"),
    "no such wire": (plan("kind: fridge\n    size: 2.4 mm2"), 6, "'2.4 mm2'", "2.5 mm²"),
    "no such gauge number": (plan("kind: fridge\n    size: 13 AWG"), 6, "'13 AWG'", "12 AWG"),
    "bare wire size": (plan("kind: fridge\n    size: 14"), 6, "'14'", "14 AWG"),
    "fuse without a unit": (plan("kind: fridge\n    fuse: 15"), 6, "without a unit", "15 A"),
    "unknown insulation": (plan(top="wire: {insulation: 104 °C}\n"), 6, "'104 °C'", "lower"),
    "unknown colour": (plan("kind: fridge\n    colour: redd"), 6, "'redd'", "RD"),
    "unknown live": (plan("kind: fridge\n    live: ignitoin"), 6, "'ignitoin'", "ignition"),
    "yes or no": (plan("kind: fridge\n    critical: maybe"), 6, "'maybe'", "yes or no"),
    "share over the whole": (plan("kind: fridge\n    dimmed: 140 %"), 6, "'140 %'", "share"),
    "duty the wrong way": (plan("kind: fridge\n    duty: 10 min in 60 s"), 6, "longer", "on first"),
    "date": (plan(top="job: {date: 3/2/2026}\n"), 6, "'3/2/2026'", "year-month-day"),
    "impossible date": (plan(top="job: {date: 2026-02-30}\n"), 6, "2026-02-30", "year"),
    "comma in braces": ("circuitplan: 1\naccessories:\n  - {name: Lamp, left, power: 5 W}\n", 3,
                        "'left'", '"Lamp, left"'),
    "name cut short": (plan("kind: fridge\n  - name: Lamp #2\n    power: 5 W"), 6,
                       "cut short", "Lamp #2"),
    "key without a value": (plan("kind:"), 5, "'kind' without a value", "delete"),
    "name with a line break": (plan('kind: fan\n  - {name: "a\\nb", power: 5 W}'), 6,
                               "line break", ""),
    "name with a control character": (plan('kind: fan\n  - {name: "a\\u0007b", power: 5 W}'), 6,
                                      "control character", ""),
    "name too long": (plan(f"kind: fan\n  - {{name: {'x' * 81}, power: 5 W}}"), 6, "81 characters",
                      "shorten"),
    "broken YAML": ("circuitplan: 1\naccessories: [{name: A\n", 3, "not YAML", ""),
    "broken indent": ("circuitplan: 1\naccessories:\n  - name: A\n   kind: fan\n", 4, "not YAML",
                      "indent"),
    "tab": ("circuitplan: 1\naccessories:\n\t- name: A\n", 3, "not YAML", "tab"),
    "colon in a text": ("circuitplan: 1\ntitle: a: b\n", 2, "not YAML", "quotes"),
    "empty": ("", 1, "empty", "begin"),
    "remarks alone": ("# nothing here\n", 1, "empty", "begin"),
    "a list": ("- 1\n", 1, "a list", "circuitplan: 1"),
    "a text": ("hello\n", 1, "'hello'", "circuitplan: 1"),
    "no format": ("accessories: [{name: A, power: 1 W}]\n", 1, "format", "circuitplan: 1"),
    "format to come": ("circuitplan: 2\naccessories: [{name: A, power: 1 W}]\n", 1, "'2'",
                       "use one"),
    "no accessories": ("circuitplan: 1\n", 1, "without accessories", "accessories"),
    "alias": (plan("kind: &k fridge\n  - {name: B, kind: *k}"), 5, "alias", "write the value"),
    "tag": (plan("kind: !!str fridge"), 5, "tag", "delete"),
    "deep": ("circuitplan: 1\naccessories: " + "[" * 40 + "]" * 40, 2, "nested", "bracket"),
    "two documents": (plan() + "---\ncircuitplan: 1\n", 6, "second document", "delete"),
    "keys that are lists": ("circuitplan: 1\n? [a, b]\n: c\naccessories: [{name: A, power: 1 W}]\n",
                            2, "in the place of a key", "quotes"),
    "bytes that do not print": ("circuitplan: 1\ntitle: a\x07b\n", 2, "0x0007", "delete"),
    "charger without a source": (
        plan(top="supply: {battery: 9 Ah, chargers: {C: {type: dc-dc, to: battery}}}\n"), 6,
        "without 'from'", "from: battery"),
    "longer than it lasts": (plan(top="scenarios:\n  - {name: N, duration: 1 h, "
                                      "running: {Fridge: 2 h}}\n"), 7, "longer", "lengthen"),
    "time without duration": (plan(top="scenarios: [{name: N, running: {Fridge: 2 h}}]\n"), 6,
                              "no duration", "duration"),
}  # fmt: skip


@pytest.mark.parametrize("case", SPOILED)
def test_one_clear_problem(case: str) -> None:
    text, line, found, remedy = SPOILED[case]
    told = problems(text)
    assert len(told) == 1, [str(p) for p in told]
    problem = told[0]
    assert found in problem.found
    assert remedy in problem.remedy
    assert problem.line == line
    assert problem.where == f"plan.yaml, line {line}"
    assert problem.allowed


def test_all_problems_at_once_in_reading_order() -> None:
    told = problems(
        "circuitplan: 1\nsystem: 13 V\naccessories:\n"
        "  - {name: A, power: 5}\n  - {name: a, kind: fan, length: 3 A}\n  - {name: B}\n"
    )
    assert [p.line for p in told] == [2, 4, 5, 5, 6]


def test_a_flood_of_problems_is_cut() -> None:
    rows = "".join(f"  - {{name: A{i}, power: 5}}\n" for i in range(500))
    told = problems("circuitplan: 1\naccessories:\n" + rows)
    assert len(told) == 61
    assert "440 more" in told[-1].found


def test_markup_in_a_name_is_kept_as_text() -> None:
    name = "<b>R&D</b> <script>"
    plan = read_text(f"circuitplan: 1\naccessories:\n  - name: {name}\n    power: 5 W\n")
    assert plan.accessories[0].name == name


def _write(name: str, data: bytes) -> Callable[[Path], Path]:
    def make(folder: Path) -> Path:
        (folder / name).write_bytes(data)
        return folder / name

    return make


FILES = {
    "missing": (lambda folder: folder / "none.yaml", "no such file"),
    "directory": (lambda folder: folder / "folder.yaml", "directory"),
    "ending": (_write("plan.txt", b"circuitplan: 1\n"), "ends in '.txt'"),
    "no ending": (_write("plan", b"circuitplan: 1\n"), "without ending"),
    "binary noise": (_write("plan.yaml", bytes(range(256)) * 4), "binary"),
    "binary noise in a list": (_write("plan.csv", bytes(range(256)) * 4), "binary"),
    "noise for a workbook": (_write("plan.xlsx", bytes(range(256)) * 4), "no workbook"),
    "not UTF-8": (_write("plan.yaml", "title: 85 °C".encode("latin-1")), "not UTF-8"),
    "UTF-16": (_write("plan.yaml", "circuitplan: 1".encode("utf-16")), "UTF-16"),
    "10 MB": (_write("plan.yaml", b"# x\n" * 2_500_000), "10.0 MB"),
    "empty": (_write("plan.yaml", b""), "empty"),
    "empty list": (_write("plan.csv", b""), "empty"),
}


@pytest.mark.parametrize("case", FILES)
def test_files_that_are_no_plan(case: str, tmp_path: Path) -> None:
    (tmp_path / "folder.yaml").mkdir()
    make, found = FILES[case]
    with pytest.raises(InputError) as caught:
        read_plan(make(tmp_path))
    (problem,) = caught.value.problems
    assert found in problem.found
    assert problem.remedy


def test_a_missing_file_names_its_likeness(tmp_path: Path) -> None:
    (tmp_path / "pickup.yaml").write_text("circuitplan: 1\n")
    with pytest.raises(InputError) as caught:
        read_plan(tmp_path / "pikup.yaml")
    assert "pickup.yaml" in caught.value.problems[0].remedy
