"""The choice by price on whole plans: the money by hand, all sizes tried, the installed program."""

from __future__ import annotations

import csv
import json
import random
import subprocess
import sys
from itertools import product
from pathlib import Path

import pytest
from random_wires import plan_text

from circuitplan.cli import main
from circuitplan.errors import InputError
from circuitplan.model.result import Result
from circuitplan.planfile import read_text
from circuitplan.planfile.edits import Merge, apply
from circuitplan.planfile.prices import Price
from circuitplan.planner import study
from circuitplan.planner.copper import CopperAnswer, least
from circuitplan.planner.measures import Purse

SIZES = ("1 mm2", "1.5 mm2", "2.5 mm2", "4 mm2", "6 mm2", "10 mm2", "16 mm2", "25 mm2")

TREE = """circuitplan: 1
system: 12 V
supply:
  battery: {type: agm, capacity: 95 Ah, cranking: 850 A, place: bay}
places: {bay: 50 °C, cab: 40 °C}
legs: [[bay, cab, 2 m]]
panels: {main: {place: cab, fed_from: battery}}
accessories:
  - {name: A, current: %g A, load: resistance, length: %.1f m, fed_from: main, return: wire}
  - {name: B, current: %g A, load: resistance, length: %.1f m, fed_from: main, return: wire}
"""


def tree(seed: int) -> str:
    draw = random.Random(seed)
    return TREE % (
        draw.choice((2, 5, 8)), draw.uniform(2, 4), draw.choice((3, 6)), draw.uniform(2, 5)
    )


def prices(seed: int, sizes: tuple[str, ...] = SIZES) -> tuple[Price, ...]:
    """Cents a metre without rhyme: a thicker wire may be the cheaper one."""
    draw = random.Random(seed)
    return tuple(Price("wire", s, "", "m", draw.randint(20, 400) / 100, "EUR", 0.0) for s in sizes)


def by_price(text: str, list_: tuple[Price, ...]) -> CopperAnswer:
    return least(read_text(text), text, "plan.yaml", purse=Purse(list_, "list.csv"))


def money(result: Result, list_: tuple[Price, ...]) -> float | None:
    """Metres cut (drawn way + 5 % + 2 x 8 cm, to whole cm) times the price of the size."""
    each = {p.size.replace("mm2", "mm²"): p.price for p in list_}
    runs = [r for c in result.circuits for r in c.runs] + [
        r for p in result.panels for r in p.feeder
    ]
    if any(run.size not in each for run in runs):
        return None
    return sum(
        each[run.size] * run.pieces * -(-round(run.length_m * 1050 + 160, 6) // 10) / 100
        for run in runs
    )


def too_thick(result: Result) -> set[str]:
    """Whose wire does not go into the holder of its fuse."""
    return {f.subject for f in result.findings if f.rule == "W04"}


@pytest.mark.parametrize("seed", range(4))
def test_no_sizes_that_pass_the_whole_check_cost_less(seed: int) -> None:
    """All 216 choices of six sizes for three wires, each given in the plan and checked whole.

    Those too thick for the holder of their fuse do not count: check cautions against them.
    """
    text = tree(seed)
    sizes = SIZES[1:7]
    list_ = prices(seed, sizes)
    assert not too_thick(study(read_text(text)))
    found = by_price(text, list_)
    assert found.answer == "ok"
    assert found.proven
    assert found.money is not None
    assert found.money.bound is not None
    assert found.money.after == pytest.approx(money(found.after, list_))
    paid = []
    owners = (("panels", "main"), ("accessories", "A"), ("accessories", "B"))
    for choice in product(sizes, repeat=3):
        given = apply(
            text, [Merge(path, {"size": s}) for path, s in zip(owners, choice, strict=True)]
        )
        result = study(read_text(given))
        amount = money(result, list_)
        if result.answer == "ok" and not too_thick(result):
            assert amount is not None
            paid.append(amount)
    assert min(paid) >= found.money.bound - 0.005
    assert found.money.after == pytest.approx(min(paid), abs=0.005)


@pytest.mark.parametrize("seed", range(20))
def test_what_is_proposed_passes_and_is_worth_it(seed: int) -> None:
    """Also sizes of accessories are written; fuses, holders, shorts hold by the full study."""
    text = plan_text(seed, 12)
    list_ = prices(1000 + seed, (*SIZES, "35 mm2", "50 mm2"))
    found = by_price(text, list_)
    before = study(read_text(text))
    assert found.answer == before.answer == "ok"
    assert found.money is not None
    assert found.money.after <= found.money.before or found.money.open_before
    assert found.money.open == 0
    assert found.money.after == pytest.approx(money(found.after, list_))
    assert found.money.bound is not None
    assert found.money.bound <= found.money.after + 0.01
    kept = study(read_text(apply(text, found.edits)))
    assert kept.answer == "ok"
    assert too_thick(kept) <= too_thick(before)
    for circuit in kept.circuits:
        guards = {f.id: f for f in circuit.fuses}
        for run in circuit.runs:
            assert guards[run.protected_by or ""].rating_a <= run.ampacity_a * (1 + 1e-9)


def test_a_thicker_wire_is_taken_where_it_is_cheaper() -> None:
    """4 mm² at 2.00 a metre, 6 mm² at 1.00: no wire is of 4 mm² then."""
    list_ = tuple(
        Price("wire", s, "", "m", p, "EUR", 0.0)
        for s, p in zip(SIZES, (9.0, 9.0, 9.0, 2.0, 1.0, 3.0, 5.0, 8.0), strict=True)
    )
    found = by_price(tree(3), list_)
    assert found.proven
    sizes = {r.size for c in found.after.circuits for r in c.runs}
    assert sizes == {"6 mm²"}


def test_a_size_without_a_price_is_not_chosen_and_is_said() -> None:
    text = tree(1)
    chosen = {r.size for p in study(read_text(text)).panels for r in p.feeder}
    list_ = tuple(p for p in prices(1) if p.size.replace("mm2", "mm²") not in chosen)
    found = by_price(text, list_)
    assert found.answer == "ok"
    assert found.money is not None
    assert found.money.open_before > 0
    assert found.money.open == 0
    assert chosen <= set(found.money.unpriced)
    assert not chosen & {r.size for p in found.after.panels for r in p.feeder}


def test_a_colour_of_its_own_price() -> None:
    """Black (returns) of 2.5 mm² has no price: returns and feeds of one size are then thicker."""
    list_ = (
        Price("wire", "2.5 mm2", "RD", "m", 0.1, "EUR", 0.0),
        *(Price("wire", s, "", "m", 1.0, "EUR", 0.0) for s in SIZES[3:]),
    )
    found = by_price(tree(1), list_)
    assert found.money is not None
    assert "2.5 mm²" in found.money.unpriced
    assert not any(r.size == "2.5 mm²" for c in found.after.circuits for r in c.runs)


def test_where_no_priced_size_will_do_that_is_said() -> None:
    found = by_price(tree(1), prices(1, SIZES[:1]))
    assert found.answer == "cannot say"
    assert "no sizes with a price keep every limit; check chose" in found.because
    assert not found.edits


def test_lists_that_do_not_serve_are_refused() -> None:
    one, two = prices(1)[:2]
    other = Price(two.what, two.size, "", "m", 1.0, "USD", 0.0)
    with pytest.raises(InputError, match="wire priced in EUR and USD"):
        by_price(tree(1), (one, other))
    piece = Price("wire", "", "", "pc", 1.0, "EUR", 0.0)
    with pytest.raises(InputError, match="no price of a metre"):
        by_price(tree(1), (piece,))


def test_very_dear_wire_is_counted_in_a_coarser_unit() -> None:
    """Prices a million times as high choose the same sizes, and are still proven."""
    cheap, dear = (
        by_price(tree(2), tuple(
            Price(p.what, p.size, "", "m", p.price * times, "EUR", 0.0) for p in prices(2)
        ))
        for times in (1.0, 1e6)
    )
    assert cheap.edits == dear.edits
    assert cheap.money is not None
    assert dear.money is not None
    assert dear.money.after == pytest.approx(1e6 * cheap.money.after)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--by", "price"], "no price list to choose by"),
        (["--by", "length"], "weight, price"),
        (["--by", "weight", "--prices", "list.csv"], "say --by price"),
    ],
)
def test_wishes_that_make_no_sense_are_refused(
    words: list[str], said: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan = tmp_path / "tree.yaml"
    plan.write_text(tree(1), encoding="utf-8")
    assert main(["copper", str(plan), *words]) == 2
    assert said in " ".join(capsys.readouterr().out.split())


@pytest.mark.end_to_end
def test_the_installed_program_from_price_list_to_parts_list(tmp_path: Path) -> None:
    """What ``copper`` says all wire costs is what the parts list of the kept plan adds up to."""
    rows = [f"wire,{p.size},,m,{p.price},EUR" for p in prices(7)]
    text = "what,size,colour,per,price,currency\n" + "\n".join(rows) + "\n"
    (tmp_path / "shop.csv").write_text(text, encoding="utf-8")
    plan = tmp_path / "tree.yaml"
    plan.write_text(tree(7) + "prices: shop.csv\n", encoding="utf-8")

    def run(*words: object) -> tuple[int, str]:
        done = subprocess.run(
            [sys.executable, "-m", "circuitplan", *map(str, words)], capture_output=True,
            encoding="utf-8", check=False, timeout=300,
        )  # fmt: skip
        assert done.stderr == ""
        return done.returncode, done.stdout

    code, shown = run("copper", plan, "--by", "price")
    assert code == 0
    assert "PRICE OF ALL WIRES" in shown
    code, out = run("copper", plan, "--by", "price", "--keep", "--json")
    found = json.loads(out)
    assert code == 0
    assert found["edits"]
    assert found["money"]["after"] < found["money"]["before"]
    saved = sum(wire["saves_money"] for wire in found["wires"])
    assert found["money"]["before"] - found["money"]["after"] == pytest.approx(saved)
    parts = tmp_path / "parts.csv"
    assert run("print", plan, "--only", "parts", "-o", parts)[0] == 0
    with parts.open(encoding="utf-8-sig", newline="") as stream:
        wire = [row for row in csv.DictReader(stream) if row["group"] == "Wire"]
    assert sum(float(r["amount"]) for r in wire) == pytest.approx(found["money"]["after"], abs=0.02)
    assert run("check", plan)[0] == 0
    code, again = run("copper", plan, "--by", "price", "--json")
    assert json.loads(again)["edits"] == []
