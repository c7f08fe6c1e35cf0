"""The shipped examples read, and say what their remarks claim."""

from __future__ import annotations

from pathlib import Path

import pytest

from circuitplan.planfile import read_plan

FOLDER = Path(__file__).parents[2] / "examples"


@pytest.mark.parametrize(
    "name", [*sorted(p.name for p in FOLDER.glob("*.yaml")), "owners-list.csv"]
)
def test_reads(name: str) -> None:
    plan = read_plan(FOLDER / name)
    assert plan.accessories
    assert plan.file.endswith(name)
    assert len(plan.sha256) == 64
    assert name in (FOLDER / "README.md").read_text(encoding="utf-8")


def test_rescue_pickup_is_a_whole_job() -> None:
    plan = read_plan(FOLDER / "rescue-pickup.yaml")
    assert len(plan.accessories) >= 14
    worked = {name for a in plan.accessories for name in a.switches}
    assert {f"S{i}" for i in range(1, 9)} <= worked
    lamps = next(a for a in plan.accessories if a.name == "Rear work lamps")
    assert lamps.switches == ("S3", "reverse")
    assert plan.practice == "rescue vehicle"
    assert plan.supply.chargers[0].kind == "dc-dc"
    assert plan.places
    assert plan.legs
    assert plan.days


def test_overloaded_compressor_hangs_on_a_20_a_switch() -> None:
    plan = read_plan(FOLDER / "overloaded-compressor.yaml")
    s3 = next(s for s in plan.switches if s.name == "S3")
    assert (s3.rating_a, s3.type) == (20.0, "direct")


def test_workboat_returns_are_wires() -> None:
    plan = read_plan(FOLDER / "workboat.yaml")
    assert {a.back for a in plan.accessories} == {"wire"}
    assert sum(bool(a.critical) for a in plan.accessories) >= 3
