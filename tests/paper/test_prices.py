"""The user's price list: closest row wins, currencies stay apart, every bad row is named."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest

from circuitplan.cli import main
from circuitplan.design.bench.fittings import PartLine
from circuitplan.errors import InputError
from circuitplan.model.plan import Plan
from circuitplan.model.result import Result
from circuitplan.planfile import read_plan
from circuitplan.planfile.prices import read_prices
from circuitplan.report.parts_list.prices import priced, totals
from circuitplan.report.parts_list.view import view

EXAMPLES = Path(__file__).parents[2] / "examples"

LIST = """\
what,size,colour,per,price,currency,minutes
wire,,,m,1.20,EUR,2
wire,2.5 mm2,,m,0.90,EUR,
fuse,,,pc,0.5,USD,
ring,,,pc,0.4,EUR,3
"""


def test_the_plan_names_its_price_list(tmp_path: Path) -> None:
    list_ = "what,size,colour,per,price,currency\nwire,,,m,2.50,EUR\nfuse,,,pc,1.20,EUR\n"
    (tmp_path / "shop.csv").write_text(list_, "utf-8")
    text = (EXAMPLES / "owner.yaml").read_text("utf-8")
    plan = tmp_path / "owner.yaml"
    plan.write_text(text + "prices: shop.csv\n", "utf-8")
    read = read_plan(plan)
    assert read.price_list == "shop.csv"
    assert read.unused == ()
    digest = hashlib.sha256(list_.encode()).hexdigest()
    assert [(f.name, f.sha256) for f in read.drawn_in] == [("shop.csv", digest)]
    by_key, by_option = tmp_path / "key.csv", tmp_path / "option.csv"
    assert main(["print", str(plan), "--only", "parts", "-o", str(by_key)]) == 0
    plain = tmp_path / "plain.yaml"
    plain.write_text(text, "utf-8")
    words = ["--only", "parts", "--prices", str(tmp_path / "shop.csv"), "-o", str(by_option)]
    assert main(["print", str(plain), *words]) == 0
    assert by_key.read_bytes() == by_option.read_bytes()
    assert "EUR" in by_key.read_text("utf-8")


def test_a_price_list_that_is_not_there_is_told(tmp_path: Path) -> None:
    plan = tmp_path / "owner.yaml"
    text = (EXAMPLES / "owner.yaml").read_text("utf-8")
    plan.write_text(text + "prices: shop.csv\n", "utf-8")
    with pytest.raises(InputError, match=r"shop.csv', which is not there"):
        read_plan(plan)
    plan.write_text(text + "prices: ../shop.csv\n", "utf-8")
    with pytest.raises(InputError, match="beside the plan"):
        read_plan(plan)


def _line(what: str, size: str, unit: str, quantity: float) -> PartLine:
    return PartLine("", what, size, "", "BK", quantity, unit)


def test_closest_row_wins_and_sums_by_hand(tmp_path: Path) -> None:
    """10 m x 0.90 + 2 m x 1.20 + 4 x 0.40 = 13.00 EUR; 3 x 0.50 = 1.50 USD."""
    path = tmp_path / "prices.csv"
    path.write_text(LIST, encoding="utf-8")
    found = priced(
        (
            _line("wire, 105 °C PVC", "2.5 mm²", "m", 10.0),
            _line("wire, 105 °C PVC", "4 mm²", "m", 2.0),
            _line("ring M8", "4 mm²", "pc", 4.0),
            _line("fuse, type C", "5 A", "pc", 3.0),
            _line("grommet", "", "pc", 1.0),
        ),
        read_prices(path),
    )
    assert totals(found) == pytest.approx({"EUR": 13.0, "USD": 1.5})
    assert found[-1].amount is None
    assert sum(p.minutes for p in found) == pytest.approx(2 * 2 + 3 * 4)


def test_a_workbook_reads_the_same(tmp_path: Path) -> None:
    text = tmp_path / "prices.csv"
    text.write_text(LIST, encoding="utf-8")
    book = openpyxl.Workbook()
    for line in LIST.splitlines():
        book.active.append([float(c) if c.replace(".", "").isdigit() else c
                            for c in line.split(",")])
    book.save(tmp_path / "prices.xlsx")
    assert read_prices(tmp_path / "prices.xlsx") == read_prices(text)


@pytest.mark.parametrize(
    ("text", "said"),
    [("", "empty"), ("size,price\n", "no column 'what'"), ("what,price\nwire,2,5\n", "row 2"),
     ("what,price,per\nwire,x,m\nring,1,box\n", "row 2: 'x'")],
)
def test_bad_lists_are_refused(tmp_path: Path, text: str, said: str) -> None:
    path = tmp_path / "prices.csv"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError, match=said):
        read_prices(path)


def test_sheet_names_what_has_no_price(
    tmp_path: Path, work_of: Callable[[str], tuple[Plan, Result]]
) -> None:
    path = tmp_path / "prices.csv"
    path.write_text(LIST, encoding="utf-8")
    plan, result = work_of("workboat")
    words = " ".join(view(plan, result, 1, (), read_prices(path)).blocks[-1].words)
    assert "EUR" in words
    assert "USD" in words
    assert "without a price" in words
