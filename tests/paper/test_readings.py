"""Verdicts on measured values: one worked case for each likely cause.

Every case starts from a healthy circuit (Ohm's law along the wires as sized) and changes one thing;
the volts of the case follow from it, and the verdict must name that thing.
"""

from __future__ import annotations

import dataclasses
import json
from pathlib import Path
from typing import Any

import pytest

from circuitplan.cli import main
from circuitplan.design.bench.causes import side_ohm
from circuitplan.design.bench.chain import Chain, chains, sized
from circuitplan.design.bench.readings import Expected, expected, judge, judge_one, measured
from circuitplan.errors import InputError
from circuitplan.model.readings import Reading
from circuitplan.planfile import read_text
from circuitplan.planfile.readings import read_readings

PLAN = """\
circuitplan: 1
system: 12 V
supply: {battery: 90 Ah, alternator: 120 A}
places: {cab: 40 °C, bed: 40 °C}
panels: {main: {place: cab, fed_from: battery, length: 1 m, ways: 8}}
switches: {S1: {type: direct, rating: 30 A, place: cab}}
accessories:
  - {name: Lamps, kind: led lamp, current: 2 A, quantity: 4, load: constant current, fed_from: main,
     length: 5 m, switch: S1, drop: 4 %}
  - {name: Heater, current: 8 A, load: constant current, fed_from: main, length: 6 m}
  - {name: Body lamp, current: 6 A, load: constant current, fed_from: main, length: 6 m,
     return: chassis}
  - {name: Tracker, current: 0.5 A, load: constant current, fed_from: main, length: 3 m,
     parked: 20 mA, min_voltage: 11 V}
"""


@pytest.fixture(scope="module")
def found() -> dict[str, Chain]:
    return {c.accessory: c for c in chains(sized(read_text(PLAN, "bench.yaml")))}


def read(
    chain: Chain, amps: float | None = None, supply: float = 12.6, feed: float = 1.0,
    back: float = 1.0, more_plus: float = 0.0, more_minus: float = 0.0,
) -> Reading:
    """What a meter shows: ``feed`` and ``back`` multiply the circuit's own wires, ``more`` adds
    ohms in one place."""
    current = chain.load.rated_a if amps is None else amps

    def ohm(side: Any, factor: float) -> float:
        return sum(
            s.cold_ohm * (1.0 if s.feeder else factor) + s.contact_ohm for s in side
        )

    plus = current * (ohm(chain.plus, feed) + more_plus)
    minus = current * (ohm(chain.minus, back) + chain.body_ohm + more_minus)
    return Reading(
        chain.accessory, supply, round(current, 2), round(supply - plus - minus, 3),
        round(plus, 3), round(minus, 3),
    )


def causes(chain: Chain, reading: Reading) -> list[str]:
    return [d.cause for d in judge_one(chain, reading).deviations]


@pytest.mark.parametrize("name", ["Lamps", "Heater", "Body lamp", "Tracker"])
@pytest.mark.parametrize("supply", [12.6, 14.2])
def test_a_healthy_circuit_passes(found: dict[str, Chain], name: str, supply: float) -> None:
    judged = judge_one(found[name], read(found[name], supply=supply))
    assert judged.passed is True, judged.deviations


@pytest.mark.parametrize("name", ["Heater", "Body lamp", "Lamps"])
def test_high_resistance_return(found: dict[str, Chain], name: str) -> None:
    chain = found[name]
    assert causes(chain, read(chain, more_minus=0.06)) == ["high-resistance return"]


@pytest.mark.parametrize("name", ["Heater", "Body lamp", "Lamps"])
def test_high_resistance_feed(found: dict[str, Chain], name: str) -> None:
    chain = found[name]
    bad = read(chain, more_plus=side_ohm(chain.plus) + 0.03)
    assert causes(chain, bad) == ["high-resistance feed"]


@pytest.mark.parametrize("name", ["Heater", "Lamps"])
def test_undersized_wire_is_told_from_bad_joints(found: dict[str, Chain], name: str) -> None:
    """Both wires of the pair three sizes thinner: the size is named too."""
    chain = found[name]
    own = next(s for s in chain.plus if not s.feeder)
    size, ratio = own.thinner[2]
    judged = judge_one(chain, read(chain, feed=ratio, back=ratio))
    assert [d.cause for d in judged.deviations] == ["undersized wire"]
    assert size in judged.deviations[0].shown_by


def test_a_thin_feed_with_a_body_return_is_a_feed_and_names_the_size(
    found: dict[str, Chain],
) -> None:
    """With the return in the body one wire alone cannot tell itself from a joint."""
    chain = found["Body lamp"]
    own = next(s for s in chain.plus if not s.feeder)
    size, ratio = own.thinner[2]
    judged = judge_one(chain, read(chain, feed=ratio))
    assert [d.cause for d in judged.deviations] == ["high-resistance feed"]
    assert size in judged.deviations[0].remedy


def test_wrong_load(found: dict[str, Chain]) -> None:
    chain = found["Heater"]
    assert "wrong load, draws more" in causes(chain, read(chain, 11.0))
    assert causes(chain, read(chain, 5.0)) == ["wrong load, draws less"]


def test_one_of_four_lamps_is_dead(found: dict[str, Chain]) -> None:
    judged = judge_one(found["Lamps"], read(found["Lamps"], 6.0))
    assert [d.cause for d in judged.deviations] == ["some of the pieces dead"]
    assert "about 3 of 4" in judged.deviations[0].shown_by


@pytest.mark.parametrize(
    ("values", "cause"),
    [
        ((12.6, 0.0, 0.0, 12.6, 0.0), "open feed"),
        ((12.6, 0.0, 0.0, 0.0, 12.6), "open return"),
        ((12.6, 0.0, 12.6, 0.0, 0.0), "load open or not switched on"),
        ((12.6, 8.0, 12.9, 0.0, 0.0), "readings contradict each other"),
        ((12.6, 8.0, 12.0, 0.1, 0.1), "readings contradict each other"),
        ((10.2, 8.0, 9.8, 0.25, 0.15), "supply out of its range"),
    ],
)
def test_other_causes(found: dict[str, Chain], values: Any, cause: str) -> None:
    assert cause in causes(found["Heater"], Reading("Heater", *values))


def test_drain_while_parked(found: dict[str, Chain]) -> None:
    chain = found["Tracker"]
    assert judge_one(chain, Reading("Tracker", parked_a=0.021)).passed is True
    assert causes(chain, Reading("Tracker", parked_a=0.08)) == ["drain while parked"]


def test_volts_below_the_least(found: dict[str, Chain]) -> None:
    chain = found["Tracker"]
    assert "volts below the least the accessory needs" in causes(chain, read(chain, supply=10.9))


def test_drop_over_its_limit_where_the_drops_were_not_written(found: dict[str, Chain]) -> None:
    """4 % of 12 V is 0.48 V; 0.7 V are lost."""
    chain = found["Lamps"]
    assert causes(chain, Reading("Lamps", 12.6, 8.0, 11.9)) == ["drop over its limit"]


def test_missing_values_are_no_pass(found: dict[str, Chain]) -> None:
    judged = judge_one(found["Heater"], Reading("Heater", supply_v=12.6))
    assert judged.passed is None
    assert judged.missing == ("current_a", "load_v")


def test_expected_bands_hold_the_healthy_reading(found: dict[str, Chain]) -> None:
    for chain in found.values():
        band: Expected = expected(chain, 12.6)
        healthy = read(chain)
        assert healthy.load_v is not None
        assert healthy.drop_plus_v is not None
        assert band.low_a < chain.load.rated_a < band.high_a
        assert healthy.load_v > band.least_v
        assert healthy.drop_plus_v < band.most_plus_v


def test_answer_over_all_circuits(found: dict[str, Chain]) -> None:
    everything = list(found.values())
    good = [read(c) for c in everything]
    assert judge(everything, good).answer == "ok"
    assert judge(everything, good[1:]).answer == "cannot say"
    bad = dataclasses.replace(good[0], current_a=20.0)
    assert judge(everything, [bad, *good[1:]]).answer == "not ok"


def test_a_smaller_draw_of_a_varying_load_is_not_kept(found: dict[str, Chain]) -> None:
    steady = found["Heater"]
    varying = dataclasses.replace(
        steady, load=dataclasses.replace(steady.load, typical_a=4.0)
    )
    for chain, kept in ((steady, True), (varying, False)):
        answer = judge([chain], [read(chain, 7.5)])
        (draw,) = measured([chain], answer)
        assert draw.kept is kept
        assert draw.each_a == 7.5


HEAD = "circuit,supply_v,current_a,load_v,drop_plus_v,drop_minus_v,parked_a,note\n"


def test_problems_of_a_sheet_come_at_once(tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    path.write_text(HEAD + "1,12.6,x,12,,,,\n1,12.6,-3,12,,,,\n,12,1,1,,,,\n1,3 A,,,,,,\n",
                    encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_readings(path)
    assert len(caught.value.problems) == 4


def test_units_blank_rows_and_signs(tmp_path: Path) -> None:
    path = tmp_path / "r.csv"
    path.write_text(HEAD + "1,12.6 V,350 mA,12.5,-40 mV,20mV,,ok\n2,,,,,,,engine off\n",
                    encoding="utf-8")
    first, second = read_readings(path)
    assert first.current_a == pytest.approx(0.35)
    assert first.drop_plus_v == pytest.approx(0.04)
    assert second.blank


def test_round_trip_by_command(
    tmp_path: Path, found: dict[str, Chain], capsys: pytest.CaptureFixture[str]
) -> None:
    """The printed sheet, filled in, comes back with a verdict; the draws land in the plan."""
    plan, sheet = tmp_path / "bench.yaml", tmp_path / "sheet.csv"
    plan.write_text(PLAN, encoding="utf-8")
    main(["print", str(plan), "--only", "test", "-o", str(sheet)])
    head, *rows = sheet.read_text(encoding="utf-8").splitlines()
    assert len(rows) == 2 * len(found)
    lines = [head]
    for row in rows:
        name = row.split(",")[0].split(" ", 1)[1]
        r = read(found[name], supply=12.6 if "off" in row else 14.2)
        values = (r.supply_v, r.current_a, r.load_v, r.drop_plus_v, r.drop_minus_v)
        lines.append(",".join([row.split(",")[0], *map(str, values), "", ""]))
    sheet.write_text("\n".join(lines), encoding="utf-8")
    capsys.readouterr()
    assert main(["test", str(plan), str(sheet), "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert answer["answer"] == "ok"
    assert {c["cause"] for c in answer["circuits"]} == {None}
    assert main(["test", str(plan), str(sheet), "--keep"]) == 0
    kept = read_text(plan.read_text(encoding="utf-8"), "kept.yaml")
    heater = next(a for a in kept.accessories if a.name == "Heater")
    assert heater.current_a == pytest.approx(8.0)
    assert heater.rated_v is not None


def test_an_unknown_circuit_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan, sheet = tmp_path / "bench.yaml", tmp_path / "sheet.csv"
    plan.write_text(PLAN, encoding="utf-8")
    sheet.write_text(HEAD + "Fridge,12.6,1,12,,,,\n", encoding="utf-8")
    assert main(["test", str(plan), str(sheet)]) == 2
    assert "Heater" in capsys.readouterr().out
