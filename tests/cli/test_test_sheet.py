"""``test PLAN READINGS``: what is wrong with a sheet is told all at once, by row and column."""

from __future__ import annotations

from pathlib import Path
from typing import Any

HEAD = "circuit,supply_v,current_a,load_v,frob\n"
ROWS = """1,12.6,"3,6",12,
99,12.x,4,12,
Frige,12.6,abc,,
Fridge,12.6,4,12,1,2
,12,3,,
"""


def test_every_cell_and_every_name_at_once(run: Any, plan: Path, tmp_path: Path) -> None:
    sheet = tmp_path / "r.csv"
    sheet.write_text(HEAD + ROWS, encoding="utf-8")
    answer = run("test", plan, sheet)
    assert answer.code == 2
    out = " ".join(answer.out.split())
    for where in (
        "row 1, column 5: 'frob'", "row 2, column current_a: '3,6'", "row 3, column supply_v",
        "row 3, column circuit: no circuit", "row 4, column current_a: 'abc'",
        "row 4, column circuit: no circuit", "row 5, column 6: more cells",
        "row 6, column circuit: values, but no circuit",
    ):  # fmt: skip
        assert where in out, where
    assert "8 problems" in answer.first
    assert "Fridge?" in out


def test_a_plan_that_does_not_read_hides_nothing_of_the_sheet(
    run: Any, plan: Path, tmp_path: Path
) -> None:
    sheet = tmp_path / "r.csv"
    sheet.write_text(HEAD.replace(",frob", "") + "1,12.6,x,12\n", encoding="utf-8")
    plan.write_text(plan.read_text("utf-8").replace("accessories:", "acessories:"), "utf-8")
    out = " ".join(run("test", plan, sheet).out.split())
    assert "unknown key 'acessories'" in out
    assert "column current_a: 'x'" in out
