"""Circuits whose accessories share one wire by their number: wires, volts, fuses, relay, words.

Contacts as in test_drop_by_hand. The splice is one crimp on either side.
"""

from __future__ import annotations

import html
import re
from pathlib import Path

import openpyxl
import pytest
from small_plans import circuit, drop, feed, hot, studied

from circuitplan.cli import main
from circuitplan.design.bench.chain import chains, sized
from circuitplan.errors import InputError
from circuitplan.model.plan import FuseSpec, WireSpec
from circuitplan.model.result import Result
from circuitplan.planfile import read_plan, read_text
from circuitplan.planfile.edits import Merge, apply
from circuitplan.planfile.writing import plan_text
from circuitplan.planner.copper import least

SIX, FOUR = 0.00314, 0.00471  # ohm/m at 20 °C, ISO 6722 (memory)

VAN = """circuitplan: 1
system: 12 V
wire: {gauge: metric, insulation: 105 °C PVC}
supply: {battery: {type: agm, capacity: 95 Ah, cranking: 850 A, place: cab}}
places: {cab: 30 °C, bed: 30 °C, tail: 30 °C}
legs: [[cab, bed, 3 m], [bed, tail, 2 m]]
panels:
  main: {place: cab, fed_from: battery, length: 1 m, size: 16 mm2}
switches: {S1: {type: relay, rating: 2 A, place: cab}, S2: {rating: 30 A, place: cab}}
"""
LAMPS = """
accessories:
  - {name: Bed lamp, number: 7, current: 6 A, load: constant current, place: bed, length: 1 m,
     size: 4 mm2, fed_from: main, return: wire%s}
  - {name: Tail lamp, number: 7, current: 4 A, load: constant current, place: tail, size: 4 mm2,
     fed_from: main, return: wire%s}
"""
SPLIT = "circuits: {7: {split: bed, size: 6 mm2}}"


def van(split: str = SPLIT, works: str = "") -> Result:
    return studied(VAN, split, LAMPS % (works, works))


@pytest.mark.parametrize("works", ["", ", switch: S1"])
def test_the_shared_wire_carries_all_and_each_branch_its_own(works: str) -> None:
    """3 m of 6 mm² carry 10 A to the bed; 1 m and 2 m of 4 mm² go on. Each comes back alone, as
    long as it goes there: 4 m and 5 m."""
    found = circuit(van(works=works), "Bed lamp")
    assert found.number == 7
    trunk = next(r for r in found.runs if r.to == "splice of circuit 7")
    assert (trunk.from_, trunk.length_m, trunk.size) == ("main", 3.0, "6 mm²")
    assert trunk.current_a == pytest.approx(10.0)
    assert len(found.relays) == (1 if works else 0)
    result = van(works=works)
    for name, amps, there, back in (("Bed lamp", 6.0, 1.0, 4.0), ("Tail lamp", 4.0, 2.0, 5.0)):
        run = feed(result, name)
        assert (run.from_, run.length_m) == ("splice of circuit 7", there)
        wires = 10.0 * hot(SIX, trunk.conductor_c) * 3.0
        wires += amps * hot(FOUR, run.conductor_c) * there
        assert drop(result, name).parts.run_v == pytest.approx(wires)
        home = next(r for r in found.runs if r.role == "return" and r.from_ == name)
        assert home.length_m == pytest.approx(back)


@pytest.mark.parametrize(("works", "relay"), [("", 0.0), (", switch: S1", 1.0)])
def test_fuse_and_relay_lose_what_all_of_it_draws(works: str, relay: float) -> None:
    """The fuse stands before the shared wire, the relay too: 10 A go through both.

    Shared: ring, 2 crimps, fuse of 15 A and holder 1; with a relay of 20 A 4 more, 2 blades and 2
    crimps. Branch: blade, 4 crimps. Return: ring, 2 crimps.
    """
    result = van(works=works)
    fuse = circuit(result, "Bed lamp").fuses[0]
    assert fuse.rating_a == 15.0
    feeder = 4 * 0.1e-3 + 4 * 0.1e-3 + 0.08 / 30 + 0.1e-3
    shared = 0.1e-3 + 2 * 0.25e-3 + 0.11 / 15 + 1e-3
    shared += relay * (4e-3 + 2 * 0.5e-3 + 2 * 0.25e-3)
    for name, amps in (("Bed lamp", 6.0), ("Tail lamp", 4.0)):
        own = 0.5e-3 + 4 * 0.25e-3 + 0.1e-3 + 2 * 0.25e-3
        assert drop(result, name).parts.contacts_v == pytest.approx(
            10.0 * (feeder + shared) + amps * own
        )


@pytest.mark.parametrize(("works", "relay"), [("", 0.0), (", switch: S1", 1.0)])
def test_wires_of_their_own_behind_one_fuse_lose_in_it_what_all_draw(
    works: str, relay: float
) -> None:
    """No split: each has its wire from the panel, but 10 A go through the one fuse and relay.

    Each: ring, blade, 4 crimps, with a relay 2 blades and 2 crimps more; return ring, 2 crimps.
    """
    result = van("", works)
    assert circuit(result, "Bed lamp").fuses[0].rating_a == 15.0
    feeder = 4 * 0.1e-3 + 4 * 0.1e-3 + 0.08 / 30 + 0.1e-3
    shared = 0.11 / 15 + 1e-3 + relay * 4e-3
    own = 0.1e-3 + 0.5e-3 + 4 * 0.25e-3 + 0.1e-3 + 2 * 0.25e-3
    own += relay * (2 * 0.5e-3 + 2 * 0.25e-3)
    for name, amps in (("Bed lamp", 6.0), ("Tail lamp", 4.0)):
        assert drop(result, name).parts.contacts_v == pytest.approx(
            10.0 * (feeder + shared) + amps * own
        )
    text = VAN + LAMPS % (works, works)
    for chain in chains(sized(read_text(text))):
        assert [s.fuse for s in chain.plus if not s.feeder] == [
            circuit(result, "Bed lamp").fuses[0].id
        ]


def test_the_fault_is_looked_for_behind_the_relay_and_the_shared_wire() -> None:
    plan = read_text(VAN + SPLIT + LAMPS % (", switch: S1", ", switch: S1"))
    for chain in chains(sized(plan)):
        shared, own = [s for s in chain.plus if not s.feeder]
        assert (bool(shared.relay), bool(shared.fuse)) == (True, True)
        assert (own.relay, own.fuse) == ("", "")
        assert shared.together == pytest.approx(10.0 / chain.load.rated_a)


def test_a_thin_branch_is_guarded() -> None:
    """1 mm² behind 6 mm² and a 40 A fuse: it has a fuse of its own, or is not so thin."""
    split = "circuits: {7: {split: bed, size: 6 mm2, fuse: 40 A}}"
    result = studied(VAN, split, (LAMPS % ("", "")).replace("size: 4 mm2,", ""))
    found = circuit(result, "Bed lamp")
    guards = {f.id: f for f in found.fuses}
    assert guards["F2"].rating_a == 40.0
    own = [guards[r.protected_by or ""] for r in found.runs if len(r.accessories) == 1]
    assert any(f.id != "F2" for f in own)
    for run in found.runs:
        assert guards[run.protected_by or ""].rating_a <= run.ampacity_a


def test_the_fuse_of_the_circuit_and_that_of_a_branch() -> None:
    split = "circuits: {7: {split: bed, fuse: 20 A}}"
    text = (LAMPS % ("", "")).replace("current: 4 A", "current: 4 A, fuse: 10 A")
    found = circuit(studied(VAN, split, text), "Tail lamp")
    assert [(f.rating_a, f.given) for f in found.fuses] == [(20.0, True), (10.0, True)]
    inline = found.fuses[1]
    assert inline.position == "inline, start of the branch to Tail lamp"


@pytest.mark.parametrize(
    ("split", "lamps", "said"),
    [
        ("circuits: {8: {split: bed}}", ("", ""), "no accessory has number 8"),
        ("circuits: {7: {split: bed}}", (", switch: S2",) * 2, "say split: bed at switch S2"),
        ("circuits: {7: {split: bed}}", (", switch: S1", ""), "worked by other switches"),
        ("circuits: {7: {split: roof}}", ("", ""), "roof"),
        ("circuits: {seven: {split: bed}}", ("", ""), "a circuit number from 1 to 9999"),
        ("circuits: {7: {size: 6 mm2}}", ("", ""), "split"),
    ],
)
def test_contradictions_are_told(split: str, lamps: tuple[str, str], said: str) -> None:
    with pytest.raises(InputError, match=said):
        read_text(VAN + split + LAMPS % lamps)


def test_two_panels_are_no_circuit_and_an_island_is_no_way() -> None:
    aft = "  aft: {place: bed, fed_from: battery, length: 1 m}\nswitches:"
    other = VAN.replace("switches:", aft)
    text = (other + SPLIT + LAMPS % ("", "")).replace("tail, size: 4 mm2,\n     fed_from: main",
                                                      "tail, size: 4 mm2,\n     fed_from: aft")
    with pytest.raises(InputError, match="fed from elsewhere"):
        read_text(text)
    far = VAN.replace("tail: 30 °C", "tail: 30 °C, hut: 30 °C")
    with pytest.raises(InputError, match="no way of legs from hut to tail"):
        read_text(far + "circuits: {7: {split: hut}}" + LAMPS % ("", ""))


def test_a_split_with_one_thing_behind_it_is_said_to_be_unused() -> None:
    text = VAN + SPLIT + (LAMPS % ("", "")).replace("Tail lamp, number: 7", "Tail lamp")
    assert read_text(text).unused == ("split of circuit 7",)
    assert circuit(studied(text), "Bed lamp").runs[0].from_ == "main"
    moved = VAN + SPLIT + LAMPS % ("", ", switch: S2")  # one of two goes to a switch that carries
    assert read_text(moved).unused == ("split of circuit 7",)
    assert circuit(studied(moved), "Tail lamp").switches == ("S2",)


def test_copper_finds_the_split_and_writes_it_beside_the_comments() -> None:
    """30 A of lamps, 5 m of way of which 3 m are common: one wire of 3 m in place of two."""
    text = VAN + LAMPS % ("", "")
    text = text.replace("6 A", "14 A").replace("length: 1 m,\n     size: 4 mm2", "drop: 10 %")
    text = text.replace(" size: 4 mm2,", " drop: 10 %,") + "# as measured\n"
    found = least(read_text(text), text, "plan.yaml")
    assert any(e.path == ("circuits", "7") and e.values == {"split": "bed"}
               for e in found.edits if isinstance(e, Merge))  # fmt: skip
    assert found.answer == "ok"
    assert found.after_kg < found.before_kg
    kept = apply(text, found.edits)
    assert kept.startswith(text.split("# as measured")[0].rstrip())
    assert read_text(kept).circuits[0].split == "bed"


@pytest.mark.parametrize("works", ["", ", switch: S1"])
def test_keep_writes_the_shared_wire_and_its_fuse(works: str, tmp_path: Path) -> None:
    plan = tmp_path / "van.yaml"
    text = VAN + "circuits:\n  7: bed  # the way aft\n" + LAMPS % (works, works)
    plan.write_text(text, encoding="utf-8")
    assert main(["keep", str(plan)]) == 0
    kept = plan.read_text(encoding="utf-8")
    assert "# the way aft" in kept
    shared = read_text(kept).circuits[0]
    assert shared.split == "bed"
    assert shared.wire.size is not None
    assert shared.fuse is not None
    before, after = studied(text), studied(kept)
    assert [r.size for r in circuit(before, "Bed lamp").runs] == [
        r.size for r in circuit(after, "Bed lamp").runs
    ]


def test_the_circuit_as_the_plan_says_it(tmp_path: Path) -> None:
    text = "circuits: {7: {split: BED, size: 6 mm2, colour: BK/RD, insulation: 125 °C, fuse: 20 A}}"
    found = read_text(VAN + text + LAMPS % ("", "")).circuits[0]
    assert (found.number, found.split, found.fuse) == (7, "bed", FuseSpec(20.0))
    assert found.wire == WireSpec("metric", "6", insulation_c=125.0, colour="BK/RD")
    book = openpyxl.Workbook()
    sheets = {
        "accessories": [["name", "number", "kind", "place"], ["Bed lamp", 7, "led lamp", "bed"],
                        ["Tail lamp", 7, "led lamp", "tail"]],
        "circuits": [["name", "split", "size"], [7, "bed", "6 mm2"]],
        "places": [["name", "ambient °C"], ["cab", 30], ["bed", 30], ["tail", 30]],
        "legs": [["from", "to", "length m"], ["cab", "bed", 3], ["bed", "tail", 2]],
        "panels": [["name", "place", "fed from"], ["main", "cab", "battery"]],
    }
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    del book["Sheet"]
    path = tmp_path / "van.xlsx"
    book.save(path)
    read = read_plan(str(path))
    assert [(c.name, c.split, c.wire.size) for c in read.circuits] == [("7", "bed", "6")]
    again = read_text(plan_text(path))
    assert [(c.name, c.split, c.wire) for c in again.circuits] == [
        (c.name, c.split, c.wire) for c in read.circuits
    ]


def test_the_paper_tells_of_the_shared_wire(tmp_path: Path) -> None:
    plan = tmp_path / "van.yaml"
    works = ", switch: S1"
    plan.write_text(VAN + SPLIT + LAMPS % (works, works), encoding="utf-8")
    words: dict[str, str] = {}
    for part in ("drawings", "faults", "labels", "cuts"):
        out = tmp_path / f"{part}.html"
        assert main(["print", str(plan), "--only", part, "-o", str(out)]) == 0
        plain = re.sub(r"<style.*?</style>|<[^>]+>", " ", out.read_text("utf-8"), flags=re.DOTALL)
        words[part] = " ".join(html.unescape(plain).split())
    assert "contact of relay Q1; wire 7A 6 mm² BK 3.00 m, wire 7B 4 mm²" in words["drawings"]
    assert "fuse F3 → relay Q1 → wire 7A or its joints → wire 7B or its joints" in words["faults"]
    assert "splice" in words["labels"]
    assert "splice of circuit 7" in words["cuts"]


@pytest.mark.parametrize("thin", ["0.5 mm2", "0.75 mm2"])
def test_a_thin_branch_that_the_plan_fixes_gets_a_fuse_of_its_own(thin: str) -> None:
    """Neither feed nor return of it suits the shared 15 A; that 0.5 mm² is too weak to last (W02)
    is no reason to leave it unguarded. A blade fuse never carries more than its wire."""
    lamps = (LAMPS % ("", "")).replace("4 A", "1 A").replace(
        "place: tail, size: 4 mm2", f"place: tail, size: {thin}"
    )
    result = studied(VAN, lamps, "circuits: {7: {split: bed, fuse: 15 A}}")
    found = circuit(result, "Tail lamp")
    mine = [r for r in found.runs if r.accessories == ("Tail lamp",)]
    (fuse,) = [f for f in found.fuses if f.id == mine[0].protected_by]
    assert {r.role for r in mine} == {"feed", "return"}
    assert "inline, start of the branch to Tail lamp" in fuse.position
    assert {r.protected_by for r in mine} == {fuse.id}
    assert fuse.min_a <= fuse.rating_a <= min(r.ampacity_a for r in mine)
    assert not {"X31", "F01", "F03"} & {f.rule for f in result.findings if f.fails}
