"""One set of measured values for each likely cause, by hand, through the command.

Only the printed result is used: lengths and ohms a metre of the wires as `check --json` states
them. Volts follow by Ohm's law; each joint side is given 2 mΩ (common practice for clean crimps).
"""

from __future__ import annotations

import csv
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any, get_args

import pytest

from circuitplan.cli import main
from circuitplan.model.readings import COLUMNS, Cause

PLAN = """\
circuitplan: 1
system: 12 V
supply: {battery: 90 Ah, alternator: 120 A}
places: {cab: 40 °C, bed: 40 °C}
panels: {main: {place: cab, fed_from: battery, length: 1 m, ways: 8}}
accessories:
  # four of them
  - {name: Lamps, power: 24 W, quantity: 4, load: constant current, fed_from: main, length: 5 m}
  - {name: Heater, current: 8 A, load: constant current, fed_from: main, length: 6 m}  # cab
  - {name: Body lamp, current: 6 A, load: constant current, fed_from: main, length: 6 m,
     return: chassis}
  - {name: Tracker, current: 0.5 A, load: constant current, fed_from: main, length: 3 m,
     parked: 20 mA, min_voltage: 11.6 V}
"""
AMPS = {"Lamps": 8.0, "Heater": 8.0, "Body lamp": 6.0, "Tracker": 0.5}
BODY_OHM = 0.002
JOINTS_OHM = 0.002


@dataclass(frozen=True)
class Wires:
    """Ohms of one accessory's own wires and of its panel's, at 20 °C."""

    feed: float
    back: float
    panel_feed: float
    panel_back: float
    body: float


def _ohm(runs: list[dict[str, Any]], role: str) -> float:
    return sum(r["length_m"] * r["resistance_20c_ohm_per_m"] for r in runs if r["role"] == role)


@pytest.fixture(scope="module")
def plan(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("causes") / "plan.yaml"
    path.write_text(PLAN, encoding="utf-8")
    return path


@pytest.fixture
def wires(plan: Path, capsys: pytest.CaptureFixture[str]) -> dict[str, Wires]:
    main(["check", str(plan), "--json"])
    result = json.loads(capsys.readouterr().out)
    feeder = result["panels"][0]["feeder"]
    found = {}
    for circuit in result["circuits"]:
        body = circuit["accessories"][0]["back"] == "chassis"
        found[circuit["label"]] = Wires(
            _ohm(circuit["runs"], "feed"), _ohm(circuit["runs"], "return"), _ohm(feeder, "feed"),
            0.0 if body else _ohm(feeder, "return"), BODY_OHM if body else 0.0,
        )
    return found


def row(name: str, w: Wires, **fault: Any) -> dict[str, Any]:
    """Meter values of one row; ``feed`` and ``back`` multiply a wire, ``plus`` and ``minus`` add
    ohms, ``amps`` replaces the current."""
    amps = fault.get("amps", AMPS[name])
    supply = fault.get("supply", 12.6)
    plus = amps * (w.feed * fault.get("feed", 1.0) + w.panel_feed + JOINTS_OHM
                   + fault.get("plus", 0.0))
    minus = amps * (w.back * fault.get("back", 1.0) + w.panel_back + w.body + JOINTS_OHM
                    + fault.get("minus", 0.0))
    return {
        "circuit": name, "supply_v": round(supply, 2), "current_a": round(amps, 2),
        "load_v": round(supply - plus - minus, 3), "drop_plus_v": round(plus, 3),
        "drop_minus_v": round(minus, 3), "note": fault.get("note", "engine off"),
    }


def write(path: Path, rows: list[dict[str, Any]]) -> Path:
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, COLUMNS)
        writer.writeheader()
        writer.writerows(rows)
    return path


def diagnosed(
    plan: Path, rows: list[dict[str, Any]], folder: Path, capsys: pytest.CaptureFixture[str]
) -> dict[str, Any]:
    """What the command says of the one accessory in ``rows``."""
    capsys.readouterr()
    code = main(["test", str(plan), str(write(folder / "r.csv", rows)), "--json"])
    answer = json.loads(capsys.readouterr().out)
    (found,) = [c for c in answer["circuits"] if c["readings"]]
    assert code == 1
    return dict(found)


HAND: dict[tuple[str, str], dict[str, Any]] = {
    # 4 mm² in place of 10 mm² has 4.71/1.82 = 2.59 times the ohms (ISO 6722-1, mΩ/m at 20 °C,
    # from memory); a wire of the right size 3 times as long reads alike.
    ("Heater", "undersized wire"): {"feed": 2.59, "back": 2.59},
    ("Lamps", "undersized wire"): {"feed": 3.0, "back": 3.0},
    ("Heater", "high-resistance return"): {"minus": 0.05},
    ("Body lamp", "high-resistance return"): {"minus": 0.05},
    ("Heater", "high-resistance feed"): {"plus": 0.08},
    ("Body lamp", "high-resistance feed"): {"plus": 0.1},
    ("Heater", "wrong load, draws more"): {"amps": 10.5},
    ("Tracker", "wrong load, draws more"): {"amps": 1.2},
    ("Heater", "wrong load, draws less"): {"amps": 4.0},
    ("Lamps", "some of the pieces dead"): {"amps": 6.0},
    ("Heater", "supply out of its range"): {"supply": 10.9},
    ("Body lamp", "supply out of its range"): {"supply": 15.8, "note": "engine running"},
    ("Heater", "battery not charged, engine running"): {"supply": 12.5, "note": "engine running"},
    ("Tracker", "volts below the least the accessory needs"): {"supply": 11.55},
}


@pytest.mark.parametrize(("name", "cause"), HAND)
def test_one_fault_one_cause(
    plan: Path, wires: dict[str, Wires], name: str, cause: str, tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Put one fault in, and it alone is named first."""
    found = diagnosed(plan, [row(name, wires[name], **HAND[name, cause])], tmp_path, capsys)
    assert (found["passed"], found["cause"]) == (False, cause)


# 4.71, 7.60 and 12.7 mΩ/m over the 1.82 mΩ/m of 10 mm² (ISO 6722-1, from memory).
@pytest.mark.parametrize(("size", "ratio"), [("4", 2.59), ("2.5", 4.18), ("1.5", 6.98)])
def test_the_thin_size_is_named(
    plan: Path, wires: dict[str, Wires], size: str, ratio: float, tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    found = diagnosed(
        plan, [row("Heater", wires["Heater"], feed=ratio, back=ratio)], tmp_path, capsys
    )
    assert found["cause"] == "undersized wire"
    assert f"as {size} mm² would" in found["readings"][0]["deviations"][0]["shown_by"]


@pytest.mark.parametrize("supply", [12.6, 14.2])
def test_no_fault_no_cause(
    plan: Path, wires: dict[str, Wires], supply: float, tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    note = "engine running" if supply > 13.0 else "engine off"
    rows = [row(name, w, supply=supply, note=note) for name, w in wires.items()]
    assert len(rows) == len(AMPS)
    assert main(["test", str(plan), str(write(tmp_path / "r.csv", rows))]) == 0


FIXED: dict[str, dict[str, Any]] = {
    # Nothing flows, so nothing is lost but where the wire is open: there the source's volts stand.
    "open feed": {"current_a": 0, "load_v": 0, "drop_plus_v": 12.6, "drop_minus_v": 0},
    "open return": {"current_a": 0, "load_v": 0, "drop_plus_v": 0, "drop_minus_v": 12.6},
    "load open or not switched on":
        {"current_a": 0, "load_v": 12.6, "drop_plus_v": 0, "drop_minus_v": 0},
    # Source + to the terminal that should be +, but is wired to -: 12.6 - 0.2 V. The same below.
    "reversed polarity at the load":
        {"current_a": 8, "load_v": -12.2, "drop_plus_v": 12.4, "drop_minus_v": 12.4},
    # 12.6 - 11.2 is 1.4, not 0.3 + 0.2.
    "readings contradict each other":
        {"current_a": 8, "load_v": 11.2, "drop_plus_v": 0.3, "drop_minus_v": 0.2},
    # 5 % of 12 V is 0.6 V; 0.9 V are lost, and which side was not measured.
    "drop over its limit": {"current_a": 8, "load_v": 11.7},
}


@pytest.mark.parametrize("cause", FIXED)
def test_faults_that_need_no_ohms(
    plan: Path, cause: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = diagnosed(
        plan, [{"circuit": "Heater", "supply_v": 12.6, **FIXED[cause]}], tmp_path, capsys
    )
    assert (found["passed"], found["cause"]) == (False, cause)


def test_a_drain(plan: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """20 mA are planned; 90 mA flow."""
    found = diagnosed(plan, [{"circuit": "Tracker", "parked_a": 0.09}], tmp_path, capsys)
    assert found["cause"] == "drain while parked"
    assert "90 mA" in found["readings"][0]["deviations"][0]["shown_by"]


def test_no_cause_is_without_a_case() -> None:
    tried = {cause for _, cause in HAND} | set(FIXED) | {"drain while parked"}
    assert tried == set(get_args(Cause))


def test_a_weak_supply_is_named_before_what_follows_from_it(
    plan: Path, wires: dict[str, Wires], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """10.9 V at the battery, and so less than 11.6 V at the tracker."""
    found = diagnosed(
        plan, [row("Tracker", wires["Tracker"], supply=10.9)], tmp_path, capsys
    )
    assert [d["cause"] for d in found["readings"][0]["deviations"]] == [
        "supply out of its range", "volts below the least the accessory needs",
    ]


@pytest.mark.parametrize("column", ["supply_v", "current_a", "parked_a"])
def test_only_a_load_may_be_the_wrong_way_round(
    plan: Path, column: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = [{"circuit": "Heater", "supply_v": 12.6, "current_a": 8, "load_v": 12.2, column: -1}]
    assert main(["test", str(plan), str(write(tmp_path / "r.csv", rows))]) == 2
    assert column in capsys.readouterr().out


def test_keep_writes_what_was_measured_and_nothing_else(
    plan: Path, wires: dict[str, Wires], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Four lamps draw 8.8 A together: 2.2 A each, where 24 W at 12 V was planned.

    The heater's row has a bad joint, so its current is not taken over. What was there stays in a
    copy, comments stay, and the plan sized for 2.2 A has four times that in the circuit.
    """
    mine = tmp_path / "mine.yaml"
    mine.write_bytes(plan.read_bytes())
    lamps = row("Lamps", wires["Lamps"], amps=8.8)
    rows = [lamps, row("Heater", wires["Heater"], amps=7.6, minus=0.06)]
    sheet = write(tmp_path / "r.csv", rows)
    assert main(["test", str(mine), str(sheet), "--keep"]) == 1
    said = capsys.readouterr().out
    assert "kept: Lamps: 2.2 A each" in said
    assert "kept: Heater" not in said
    text = mine.read_text(encoding="utf-8")
    (line,) = [x for x in text.splitlines() if "name: Lamps" in x]
    assert "power" not in line
    assert "current: 2.2 A" in line
    assert f"rated_voltage: {lamps['load_v']:.2f} V" in text
    assert "# four of them" in text
    assert "{name: Heater, current: 8 A, load: constant current" in text
    copies = [p for p in tmp_path.iterdir() if p.suffix != ".csv" and p != mine]
    assert [p.read_bytes() for p in copies] == [plan.read_bytes()]
    main(["check", str(mine), "--json"])
    result = json.loads(capsys.readouterr().out)
    amps = {c["label"]: c["current_a"] for c in result["circuits"]}
    assert amps["Lamps"] == pytest.approx(8.8)
    assert amps["Heater"] == pytest.approx(8.0)
