"""Motors worked in two ways on paper: each relay, wire, position and terminal in its place."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable

import pytest

from circuitplan.design.bench.chain import Chain, chains, sized
from circuitplan.design.bench.readings import expected, judge, measured
from circuitplan.design.bench.way import way_of
from circuitplan.model.plan import Plan
from circuitplan.model.readings import Reading
from circuitplan.model.result import Circuit, Result
from circuitplan.report.card import card_view
from circuitplan.report.circuit_sheets.draw import draw
from circuitplan.report.motors import POSITIONS, terminals
from circuitplan.report.paper.bench import Wishes, csv_of, render
from circuitplan.report.test_sheet.view import truth

Worked = tuple[Plan, Result]
NAMES = ("market-van", "motors")


@pytest.fixture(params=NAMES)
def moved(request: pytest.FixtureRequest, work_of: Callable[[str], Worked]) -> Worked:
    """Each plan that has motors worked in two ways."""
    return work_of(request.param)


def _motors(result: Result) -> list[Circuit]:
    return [c for c in result.circuits if c.accessories and c.accessories[0].motor]


def _plain(html: str) -> str:
    text = re.sub(r"<style.*?</style>|<[^>]+>", " ", html, flags=re.DOTALL)
    return " ".join(text.split())


def test_each_relay_of_a_motor_has_its_own_base_with_its_own_wires(moved: Worked) -> None:
    _, result = moved
    seen = 0
    for circuit in _motors(result):
        boxes = draw(circuit, result).pen.boxes
        heads = [b for b in boxes if b.text.startswith("Base of ")]
        control = next((c for c in result.circuits if not c.accessories and
                        set(c.switches) & set(circuit.switches)), None)
        for head in heads:
            relay = next(r for r in circuit.relays if f"Base of {r.id}," in head.text)
            other = next(r for r in circuit.relays if r is not relay)
            said = {
                b.text: next(o.text for o in boxes if o.y == b.y and o.x == b.x + 9.0)
                for b in boxes
                if b.x == head.x and head.y < b.y < head.y + 18.0
            }
            assert control is not None
            wire = next(r.id for r in circuit.runs if r.at == relay.at)
            coil = next(r.id for r in control.runs if r.at == relay.at)
            lead, back = circuit.runs[0].id, circuit.runs[-1].id
            reversing = circuit.accessories[0].motor == "reversing"
            fed, out = ("87", "30") if reversing else ("30", "87")
            assert said[out].startswith(f"wire {wire} to ")
            assert f"link to {other.id} {fed}" in said[fed]
            assert said["86"].startswith(f"wire {coil} from ")
            assert said["86"].endswith(relay.at)
            assert said["85"] == "31, negative"
            if relay is circuit.relays[0]:
                assert f"wire {lead} from {circuit.fuses[0].id}" in said[fed]
            if reversing:
                assert f"link to {other.id} 87a" in said["87a"]
                assert (f"wire {back} to 31" in said["87a"]) == (relay is circuit.relays[0])
            else:
                assert said["87a"] == "left free"
            seen += 1
    assert seen >= 2


def test_the_drawing_has_its_terminals_and_positions(moved: Worked) -> None:
    _, result = moved
    for circuit in _motors(result):
        texts = [b.text for b in draw(circuit, result).pen.boxes]
        motor = circuit.accessories[0].motor
        assert motor is not None
        assert set(POSITIONS[motor]) <= set(texts)
        assert {"33", "32"} <= set(texts)
        assert ("33f" in texts) == (motor == "two-speed")
        if circuit.relays:
            assert texts.count("86") >= 2
            assert ("87a" in texts) or motor == "two-speed"
        words = re.findall(r'aria-label="([^"]*)"', draw(circuit, result).svg)[0]
        for position in POSITIONS[motor]:
            wire = next(r.id for r in circuit.runs if r.at == position)
            assert re.search(rf"{position}: .*wire {wire} ", words)


def test_the_truth_table_runs_from_one_end_of_the_switch_to_the_other(moved: Worked) -> None:
    _, result = moved
    rows = list(truth(result))
    for circuit in _motors(result):
        a = circuit.accessories[0]
        assert a.motor is not None
        mine = [(what, does) for what, does, _ in rows if does.startswith(a.name)]
        first, last = POSITIONS[a.motor]
        assert [what.rsplit(" ", 1)[1] for what, _ in mine] == [first, "off", last]
        assert mine[1][1] == f"{a.name} stands"
        assert len({does for _, does in mine}) == 3


def test_volts_at_every_terminal_in_every_position(moved: Worked) -> None:
    """Fed: the supply less what the fed side may lose; on the way back: what that side may lose.
    Off by relays: a reversing motor lies on the negative; else nothing is fed."""
    plan, result = moved
    found = chains(sized(plan))
    by_title = {c.title: c for c in found}
    rows = {(r[0].text, r[1].text.rsplit(" ", 1)[1]): [c.text for c in r]
            for r in terminals(found, result).rows}
    for circuit in _motors(result):
        a = circuit.accessories[0]
        assert a.motor is not None
        name = f"{circuit.number} {a.name}"
        off = rows[name, "off"]
        braked = a.motor == "reversing" and circuit.relays
        assert off[3] == ("0, on the negative" if braked else "0, no feed")
        assert off[2] == ("none" if circuit.relays else "–")
        for position, fed, back in (
            ("up", 3, 4), ("down", 4, 3), ("high", 3, 4), ("low", 5, 4),
        ):
            if position not in POSITIONS[a.motor]:
                continue
            row, chain = rows[name, position], by_title[f"{a.name}, {position}"]
            e = expected(chain, 12.6 * plan.nominal_v / 12.0)
            least, most = float(row[fed].split()[0]), float(row[back].split()[0])
            assert e.supply_v - e.most_plus_v <= least + 1e-9 <= e.supply_v + 0.01
            assert 0.0 <= most <= e.most_minus_v + 1e-9
            coil = next((r.id for r in circuit.relays if r.at == position), "–")
            assert row[2] == coil


def test_parts_hold_relays_sockets_links_and_the_kind_of_switch(
    work_of: Callable[[str], Worked]
) -> None:
    plan, result = work_of("market-van")
    rows = list(csv.DictReader(io.StringIO(csv_of("parts", plan, result, Wishes()))))
    by_what = {(r["what"], r["size"]): r for r in rows}
    relays = [r for c in result.circuits for r in c.relays]
    assert len(relays) == 4
    assert by_what["change-over plug-in relay", "20 A"]["quantity"] == "2"
    assert by_what["relay socket", ""]["quantity"] == "4"
    links = [r for r in rows if r["what"] == "link between two relay sockets"]
    assert {r["note"]: (r["quantity"], r["size"], r["colour"]) for r in links} == {
        "Q1 and Q2, 30 to 30": ("1", "6 mm²", "BK"),
        "Q3 and Q4, 87 to 87": ("1", "4 mm²", "BK"),
        "Q3 and Q4, 87a to 87a": ("1", "4 mm²", "BN"),
    }
    kinds = {r["note"]: r["what"] for r in rows if r["group"] == "Switches"}
    assert kinds == {
        "S1: Sales hatch, by relays": "switch (ON)-OFF-(ON), springs back, one pole",
        "S2: Roof fan, by relays": "switch ON-OFF-ON, one pole",
        "S3: Blind": "switch (ON)-OFF-(ON), springs back, two poles, crossed over",
        "S4: Counter fan": "switch ON-OFF-ON, one pole",
    }


def test_labels_and_cuts_name_the_relays_terminals(moved: Worked) -> None:
    plan, result = moved
    rows = list(csv.DictReader(io.StringIO(csv_of("cuts", plan, result, Wishes()))))
    ends = {r["wire"]: (r["from"], r["to"]) for r in rows}
    for circuit in _motors(result):
        a = circuit.accessories[0]
        lead, back = circuit.runs[0].id, circuit.runs[-1].id
        for relay in circuit.relays:
            wire = next(r for r in circuit.runs if r.at == relay.at)
            pin = "30" if a.motor == "reversing" else "87"
            assert ends[wire.id][0] == f"relay {relay.id} {pin}"
            assert ends[wire.id][1].startswith(f"{a.name} 3")
        if circuit.relays:
            ids = " and ".join(r.id for r in circuit.relays)
            pin = "87" if a.motor == "reversing" else "30"
            assert ends[lead][1] == f"relays {ids} {pin}"
            if a.motor == "reversing":
                assert ends[back][0] == f"relays {ids} 87a"
    labels = csv_of("labels", plan, result, Wishes())
    assert " 86" in labels


def test_card_and_panel_map_show_both_relays(moved: Worked) -> None:
    plan, result = moved
    view = card_view(plan, result)
    panels = _plain(render("panels", plan, result, Wishes()))
    for circuit in _motors(result):
        a = circuit.accessories[0]
        line = next(x for x in view.lines if x.name == a.name)
        assert [r for r, _ in line.relays] == [r.id for r in circuit.relays]
        assert a.motor is not None
        first, last = POSITIONS[a.motor]
        said = f"{a.name}: {circuit.switches[0]} {first} – off – {last}"
        assert sum(x.split(";")[0] == said for x in view.limits) == 1
        for relay in circuit.relays:
            assert f"{relay.switches[0]} {relay.at}" in panels


def test_fault_finding_goes_back_through_the_relay_at_rest(moved: Worked) -> None:
    plan, result = moved
    for chain in chains(sized(plan)):
        circuit = next(c for c in result.circuits if c.number == chain.circuit)
        if not chain.position:
            continue
        way = way_of(chain, result)
        names = [e.name for e in way.main]
        mine = next(r.id for r in circuit.runs if r.at == chain.position)
        others = {r.id for r in circuit.runs if r.at} - {mine}
        load = names.index(chain.accessory)
        assert f"wire {mine} or its joints" in names[:load]
        back = " ".join(names[load:])
        assert all((f"wire {o} " in back) == (circuit.accessories[0].motor == "reversing")
                   for o in others)
        relay = next((r for r in circuit.relays if r.at == chain.position), None)
        if relay is not None:
            assert f"relay {relay.id}" in names[:load]
            assert any(f"coil of {relay.id}" == e.name for e in way.coil)
            rest = next(r.id for r in circuit.relays if r is not relay)
            reversing = circuit.accessories[0].motor == "reversing"
            assert (f"break contact of relay {rest}" in names) == reversing
        elif circuit.accessories[0].motor == "reversing":
            assert f"other pole of switch {circuit.switches[0]}" in names


def _reading(chain: Chain, amps: float, more_minus_v: float = 0.0) -> Reading:
    plus = amps * sum(s.hot_ohm + s.contact_ohm for s in chain.plus)
    minus = amps * sum(s.hot_ohm + s.contact_ohm for s in chain.minus) + more_minus_v
    minus += amps * chain.body_ohm
    return Reading(
        f"{chain.circuit} {chain.title}", supply_v=12.6, current_a=amps,
        load_v=12.6 - plus - minus, drop_plus_v=plus, drop_minus_v=minus,
    )


def test_each_direction_is_judged_by_its_own_row(work_of: Callable[[str], Worked]) -> None:
    """A break contact that has burnt is felt in one direction only."""
    plan, _ = work_of("market-van")
    found = [c for c in chains(sized(plan)) if c.accessory == "Sales hatch"]
    good, bad = judge(found, [_reading(found[0], 7.0), _reading(found[1], 7.0, 1.5)]).circuits
    assert (good.accessory, good.passed) == ("Sales hatch, up", True)
    assert (bad.accessory, bad.passed) == ("Sales hatch, down", False)


def test_the_larger_of_both_directions_is_kept_and_low_speed_is_not(
    work_of: Callable[[str], Worked]
) -> None:
    plan, _ = work_of("market-van")
    found = [c for c in chains(sized(plan)) if c.accessory in ("Sales hatch", "Roof fan")]
    amps = {"up": 6.7, "down": 7.2, "high": 7.1, "low": 3.6}
    answer = judge(found, [_reading(c, amps[c.position]) for c in found])
    kept = {m.accessory: m.each_a for m in measured(found, answer)}
    assert kept == {"Sales hatch": 7.2, "Roof fan": 7.1}
