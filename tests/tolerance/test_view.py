"""What the study says on a terminal, and as JSON beside the result."""

from __future__ import annotations

import json
import warnings
from pathlib import Path

import pytest

with warnings.catch_warnings():  # some releases of typer import names that click has deprecated
    warnings.simplefilter("ignore", DeprecationWarning)
    import typer  # noqa: F401

from circuitplan.cli import main
from circuitplan.cli.terminal.tolerance import tolerance_lines
from circuitplan.planner.tolerance import Chance, Driver, Tolerance

EXAMPLES = Path(__file__).parents[2] / "examples"


def study(*chances: Chance) -> Tolerance:
    return Tolerance(131072, 16, 20, "ab" * 32, chances, ("F7",), ())


RISKY = Chance(
    "3", "Roof bar", "drop", 0.937256, 0.93666, 0.93785, True,
    Driver("joints of wire 3A", 0.605), "Measure the volts lost in the joints of wire 3A.",
)
SURE = Chance("3", "Roof bar", "fault clears", 1.0, 0.99998, 1.0, True, None, None)
NEVER = Chance("4", "Pump", "wire class", 0.0, 0.0, 0.0000229, False, None, None)


def test_the_risk_its_driver_and_the_measurement_are_named() -> None:
    text = "\n".join(tolerance_lines(study(RISKY, SURE, NEVER)))
    assert "93.72 %" in text  # never rounded up
    assert "93.66–93.79 %" in text
    assert "joints of wire 3A" in text
    assert "Measure the volts lost in the joints of wire 3A." in text
    assert "1 of 3 limits hold in 99.95 % of cases or more." in text
    assert "F7" in text
    assert text.index("4 Pump") < text.index("3 Roof bar")  # worst first


def test_one_circuit_alone() -> None:
    text = "\n".join(tolerance_lines(study(RISKY, SURE, NEVER), {"4"}))
    assert "4 Pump" in text
    assert "Roof bar" not in text


def test_nothing_at_risk_is_said_in_one_line() -> None:
    text = "\n".join(tolerance_lines(study(SURE)))
    assert "1 of 1 limits hold" in text
    assert "Holds in" not in text


@pytest.mark.slow
def test_check_adds_it_and_keeps_the_verdict(capsys: pytest.CaptureFixture[str]) -> None:
    plan = str(EXAMPLES / "overloaded-compressor.yaml")
    plain = main(["check", plan, "--json"])
    before = json.loads(capsys.readouterr().out)
    assert main(["check", plan, "--tolerance", "--json"]) == plain
    data = json.loads(capsys.readouterr().out)
    found = data.pop("tolerance")
    assert data == before
    assert found["format"] == "circuitplan tolerance 1"
    assert found["samples"] == 131072
    names = {c["limit"] for c in found["chances"]}
    assert {"drop", "wire class", "fault clears", "fuse carries"} <= names
    assert all(0.0 <= c["low"] <= c["chance"] <= c["high"] <= 1.0 for c in found["chances"])
