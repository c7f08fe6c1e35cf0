"""The written load analysis: content, forms, pictures, workbook, words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from circuitplan.cli import main
from circuitplan.model.plan import Battery, Plan
from circuitplan.model.result import Result
from circuitplan.planfile import read_plan
from circuitplan.planner import design
from circuitplan.report.analysis import forms, view
from circuitplan.report.analysis.document import render_analysis
from circuitplan.report.analysis.draws_picture import drawn
from circuitplan.report.analysis.loads import loads
from circuitplan.report.analysis.workbook import sheets, write_analysis

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def pickup() -> tuple[Plan, Result]:
    plan = read_plan(EXAMPLES / "rescue-pickup.yaml")
    return plan, design(plan, ()).result


@pytest.fixture(scope="module")
def page(pickup: tuple[Plan, Result]) -> str:
    return render_analysis(*pickup)


def test_every_load_of_the_starting_battery_is_listed_once(pickup: tuple[Plan, Result]) -> None:
    plan, result = pickup
    split = loads(plan, result)
    listed = [x.name for x in (*split.minimum, *split.additional, *split.intermittent)]
    wanted = [
        a.name for c in result.circuits if c.source == "battery" for a in c.accessories
    ]
    assert sorted(listed) == sorted(wanted)
    assert "Rescue radio" in [x.name for x in split.minimum]
    assert "Winch" in [x.name for x in split.intermittent]
    by_hand = 45.0 + sum(x.current_a for x in split.minimum)
    assert split.minimum_a == pytest.approx(by_hand)
    assert split.total_a == pytest.approx(by_hand + sum(x.current_a for x in split.additional))


def test_what_the_standard_asks_for_is_there(page: str, pickup: tuple[Plan, Result]) -> None:
    """NFPA 1901 13.15 as restated (second-hand): plate rating, rating under the test condition,
    minimum continuous, additional, total continuous, each intermittent load."""
    text = re.sub(r"<[^>]+>", " ", page)
    for words in (
        "rated 220 A", "Hot, A", "Minimum continuous load", "Additional continuous loads",
        "total continuous load", "Intermittent loads, each", "12 V DC nominal",
        "no claim of compliance", "take precedence",
    ):  # fmt: skip
        assert words in text, words
    for name in ("Test 1: reserve", "Test 2: alternator at idle", "Test 3: alternator at full load",
                 "Test 4: low-voltage alarm", "11.70 V", "140 s"):  # fmt: skip
        assert name in text, name
    order = [text.index(f"Test {n}:") for n in (1, 2, 3, 4)]
    assert order == sorted(order)
    assert not re.search(r"https?://(?!www\.w3\.org/2000/svg)", page)


def test_pictures_say_the_same_in_words(pickup: tuple[Plan, Result]) -> None:
    plan, result = pickup
    shown = view.build(plan, result).pictures
    assert len(shown) == 4  # charge and volts, and what draws what, of two batteries
    for one in shown:
        assert one.alternative in one.svg.replace("&amp;", "&")
        assert "stroke=\"#000\"" in one.svg
        assert not re.search(r"#(?!000|fff)[0-9a-f]{3,6}", one.svg)  # black and white alone
    assert "reserve 50 %" in shown[0].svg


def test_what_draws_what_is_sorted_and_whole(pickup: tuple[Plan, Result]) -> None:
    """Ah of each = mean current x hours, over the day's scenarios."""
    _, result = pickup
    day = result.supply.days[0]
    rows = drawn(day, result.supply.scenarios)
    assert [r.charge_ah for r in rows] == sorted((r.charge_ah for r in rows), reverse=True)
    whole = sum(
        (s.vehicle_a + sum(a for _, a in s.running)) * (s.duration_h or 0.0)
        for name, _ in day.steps
        for s in result.supply.scenarios if s.name == name and s.battery == day.battery
    )
    assert sum(r.charge_ah for r in rows) == pytest.approx(whole)


def test_reserve_minutes() -> None:
    """25 A on AGM of 95 Ah: t + 1.6709 (1 - exp(-0.446 t)) = 102.98/25, t = 2.906 h, 174 min. EN
    50342-1 (memory) gives a flooded battery of 100 Ah 0.7732 * 100^1.1828 = 179 min; here it is
    t + 2.7225 (1 - exp(-0.499 t)) = 113.6/25, t = 2.577 h, 154 min: the shipped one is weaker."""
    assert forms.reserve_minutes_text(Battery("b", "agm", 95.0)) == "174"
    assert forms.reserve_minutes_text(Battery("b", "flooded", 100.0)) == "154"
    assert forms.reserve_minutes(Battery("b", "agm", 20.0)) is None  # faster than its 1 h rate
    assert forms.reserve_minutes(Battery("b", "agm")) is None


def test_ten_minutes_on_half_of_the_reserve(pickup: tuple[Plan, Result]) -> None:
    plan, result = pickup
    split = loads(plan, result)
    (row,) = forms.build(plan, split)[0].rows
    assert row[3].text == "yes"
    assert split.minimum_a * 10.0 <= 0.5 * 25.0 * 174.0


def test_workbook(pickup: tuple[Plan, Result], tmp_path: Path) -> None:
    from openpyxl import load_workbook

    plan, result = pickup
    write_analysis(plan, result, tmp_path / "a.xlsx")
    write_analysis(plan, result, tmp_path / "b.xlsx")
    assert (tmp_path / "a.xlsx").read_bytes() == (tmp_path / "b.xlsx").read_bytes()
    book = load_workbook(tmp_path / "a.xlsx")
    for name, heads, rows in sheets(plan, result):
        sheet = book[name]
        assert sheet.max_row == 1 + len(rows)
        assert all(len(row) == len(heads) for row in rows)
    assert isinstance(book["loads"].cell(2, 4).value, int | float)  # a number, not text


def test_names_with_markup_are_shown_as_text() -> None:
    plan = Plan(title="A <b>bold</b> & brave plan", supply=read_plan(
        EXAMPLES / "rescue-pickup.yaml").supply)  # fmt: skip
    result = design(read_plan(EXAMPLES / "workboat.yaml"), ()).result
    assert "<b>bold</b>" not in render_analysis(plan, result)
    assert "A &lt;b&gt;bold&lt;/b&gt; &amp; brave plan" in render_analysis(plan, result)


@pytest.mark.parametrize("name", ["rescue-pickup.yaml", "service-truck.yaml", "workboat.yaml",
                                  "overloaded-compressor.yaml", "owners-list.csv"])  # fmt: skip
def test_every_example_prints(name: str) -> None:
    plan = read_plan(EXAMPLES / name)
    assert "electrical load analysis" in render_analysis(plan, design(plan, ()).result)


@pytest.mark.parametrize("ending", ["html", "pdf", "xlsx"])
def test_print_only_analysis(tmp_path: Path, ending: str) -> None:
    target = tmp_path / f"analysis.{ending}"
    code = main(["print", str(EXAMPLES / "workboat.yaml"), "--only", "analysis", "-o", str(target)])
    assert code in (0, 1)
    assert target.stat().st_size > 5000
