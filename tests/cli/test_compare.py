"""``compare``: what changed between two revisions, and nothing that did not."""

from __future__ import annotations

import io
import random
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

PLANS = ("owner", "overloaded-compressor", "rescue-pickup", "service-truck", "workboat")


def shuffled(path: Path, seed: int) -> str:
    """The same plan: other remarks, every list and mapping in another order."""
    yaml = YAML()
    yaml.width = 100_000
    data = yaml.load(path.read_text("utf-8"))
    dice = random.Random(seed)
    for key in ("accessories", "scenarios", "legs"):
        dice.shuffle(data.get(key, []))
    for key in ("switches", "panels", "places"):
        entries = list(data.get(key, {}).items())
        dice.shuffle(entries)
        if entries:
            data[key] = dict(entries)
    entries = list(data.items())
    dice.shuffle(entries)
    out = io.StringIO()
    yaml.dump(dict(entries), out)
    return "# a remark of another hand\n" + out.getvalue()


@pytest.mark.parametrize("name", PLANS)
def test_order_and_remarks_are_no_difference(
    run: Any, examples: Path, tmp_path: Path, name: str
) -> None:
    old, new = examples / f"{name}.yaml", tmp_path / "new.yaml"
    new.write_text(shuffled(old, seed=7), "utf-8")
    assert new.read_bytes() != old.read_bytes()
    data = run("compare", old, new, "--json").data
    lists = [key for key, value in data.items() if isinstance(value, list) and key != "revisions"]
    assert len(lists) == 7
    assert {key: data[key] for key in lists} == {key: [] for key in lists}
    assert "Nothing that matters to the work has changed." in run("compare", old, new).out


def test_the_same_value_in_other_words_is_no_difference(
    run: Any, examples: Path, tmp_path: Path
) -> None:
    old, new = examples / "owner.yaml", tmp_path / "new.yaml"
    text = old.read_text("utf-8").replace("length: 5 m", "length: 500 cm")
    text = text.replace("20 W", "0.02 kW")
    assert text != old.read_text("utf-8")
    new.write_text(text, "utf-8")
    assert "Nothing that matters" in run("compare", old, new).out


def revised(examples: Path, tmp_path: Path, *pairs: tuple[str, str]) -> tuple[Path, Path]:
    old, new = examples / "rescue-pickup.yaml", tmp_path / "new.yaml"
    text = old.read_text("utf-8")
    for before, after in pairs:
        assert before in text
        text = text.replace(before, after)
    new.write_text(text, "utf-8")
    return old, new


def test_what_the_plan_says_differently_is_told(run: Any, examples: Path, tmp_path: Path) -> None:
    old, new = revised(
        examples, tmp_path, ("rated: 220 A", "rated: 240 A"),
        ("capacity: 105 Ah", "capacity: 120 Ah"),
        ("engine bay: 85 °C", "engine bay: 90 °C"), ("[cab, roof, 2.4 m", "[cab, roof, 3.4 m"),
        ("revision: B", "revision: C"),
    )  # fmt: skip
    data = run("compare", old, new, "--json").data
    assert data["revisions"] == ["B", "C"]
    said = [(c["subject"], c["what"], c["old"], c["new"]) for c in data["changed"]
            if c["sort"] == "plan"]
    assert sorted(said) == [
        ("alternator", "rated", "220 A", "240 A"),
        ("battery", "capacity", "105 Ah", "120 Ah"),
        ("leg cab to roof", "length", "2.4 m", "3.4 m"),
        ("place engine bay", "ambient", "85 °C", "90 °C"),
    ]


def test_margins_wires_fuses_and_parts_are_told(run: Any, examples: Path, tmp_path: Path) -> None:
    old, new = revised(examples, tmp_path, ("[cab, roof, 2.4 m", "[cab, roof, 3.4 m"))
    before, after = (run("check", p, "--json").data for p in (old, new))
    data = run("compare", old, new, "--json").data
    changed = {(c["subject"], c["what"]): (c["old"], c["new"]) for c in data["changed"]}
    assert changed["Roof bar", "length"] == ("2.40 m", "3.40 m")
    metres = [
        sum(p["length_m"] * p["quantity"] for p in r["parts"] if p["length_m"] is not None)
        for r in (before, after)
    ]
    told = sum(p["length_m"] or 0.0 for p in (*data["parts_added"], *data["parts_removed"]))
    assert told == pytest.approx(metres[1] - metres[0], abs=0.01)
    assert told > 0.0
    assert "PARTS: + TO BUY MORE" in run("compare", old, new).out


def test_an_accessory_that_comes_goes_or_moves(run: Any, examples: Path, tmp_path: Path) -> None:
    old, new = revised(
        examples, tmp_path, ("{name: Display,", "{name: Screen,"),
        ("Display: 100 %", "Screen: 100 %"),
        ("S8}\n  - {name: Rescue", "S7}\n  - {name: Rescue"),
    )  # fmt: skip
    data = run("compare", old, new, "--json").data
    assert (data["added"], data["removed"]) == (["Screen"], ["Display"])
    changed = {(c["sort"], c["subject"], c["what"]): (c["old"], c["new"]) for c in data["changed"]}
    assert changed["accessory", "Grille beacons", "switch"] == ("S8", "S7")
    assert "Grille beacons" in (changed["switch", "S7", "works"][1] or "")
    assert ("switch", "S8", "load") in changed


def test_what_fails_now_is_never_small(run: Any, examples: Path) -> None:
    pair = (examples / "owner.yaml", examples / "overloaded-compressor.yaml")
    answer = run("compare", *pair, "--json")
    assert answer.code == 1
    assert {f["rule"] for f in answer.data["findings_new"] if f["fails"]} == {"F03", "S01", "D01"}
    for change in answer.data["changed"]:
        if change["small"]:
            assert change["what"] in ("current", "drop", "drop margin", "load", "spare", "demand")
            assert change["old"].startswith("-") == change["new"].startswith("-")
    out = run("compare", *pair).out
    assert "-60.0 A" in out
