"""Raw first-principles ampacity against two published tables of single wires in free air.

The gate: every entry of NEC 310.17 from 18 AWG to 4/0 and of DIN VDE 0298-4 from 0.5 to 240 mm2
within 15 %. Ambient 30 C, insulation 5.5 K m/W (between the 5.0 and 6.0 of IEC 60287-2-1).
Entries, resistances and diameters with their sources: tables/ampacity_gate.csv.
"""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from circuitplan.physics.heat import ampacity_a
from circuitplan.physics.resistance import COPPER_ALPHA

TABLE = Path(__file__).parents[2] / "tables" / "ampacity_gate.csv"
with TABLE.open(encoding="utf-8", newline="") as _file:
    ROWS = list(csv.DictReader(_file))


def deviation(row: dict[str, str]) -> float:
    computed_a = ampacity_a(
        float(row["r20_ohm_per_m"]),
        COPPER_ALPHA,
        float(row["conductor_mm"]),
        float(row["outer_mm"]),
        5.5,
        float(row["class_c"]),
        30.0,
    )
    return computed_a / float(row["published_a"]) - 1.0


@pytest.mark.parametrize(
    "row", ROWS, ids=[f"{r['document']}-{r['size']}-{r['class_c']}C" for r in ROWS]
)
def test_first_principles_within_15_percent_of_the_published_entry(row: dict[str, str]) -> None:
    assert abs(deviation(row)) <= 0.15


def test_the_gate_covers_both_tables_whole() -> None:
    nec = {(r["size"], r["class_c"]) for r in ROWS if r["document"] == "NEC"}
    vde = {r["size"] for r in ROWS if r["document"] == "DIN VDE 0298-4"}
    small = {(size, c) for size in ("18", "16") for c in ("60", "90")}  # no 75 C entry is printed
    sizes = ("14", "12", "10", "8", "6", "4", "2", "1", "1/0", "2/0", "3/0", "4/0")
    assert nec == small | {(size, c) for size in sizes for c in ("60", "75", "90")}
    areas = "0.5 0.75 1 1.5 2.5 4 6 10 16 25 35 50 70 95 120 150 185 240"
    assert sorted(vde, key=float) == areas.split()


def test_published_entries_are_those_printed() -> None:
    """Spot values, typed a second time (NEC read; VDE second-hand)."""
    printed = {(r["document"], r["size"], r["class_c"]): r["published_a"] for r in ROWS}
    assert printed["NEC", "10", "75"] == "50"
    assert printed["NEC", "4/0", "90"] == "405"
    assert printed["DIN VDE 0298-4", "2.5", "70"] == "32"
    assert printed["DIN VDE 0298-4", "240", "70"] == "528"


def test_nine_tenths_of_it_never_exceeds_published_by_more_than_4_percent() -> None:
    """The factor 0.9 that the design uses is what keeps the largest sizes safe."""
    assert max(0.9 * (1.0 + deviation(row)) for row in ROWS) <= 1.04
