"""Random reversing and two-speed motors: what must hold whatever they draw and wherever they sit.

The sums are made here from the result's own wires; the contacts follow from the tables by hand.
"""

from __future__ import annotations

import random

import pytest

from circuitplan.design.bench.chain import chains, sized
from circuitplan.model.result import Circuit, Result
from circuitplan.planfile import read_text
from circuitplan.planner import study

SEEDS = range(40)


def plan_text(seed: int) -> str:
    """One to four motors, each on a switch of its own, among plain loads."""
    rng = random.Random(seed)
    volts = rng.choice((12, 12, 24))
    places = ("cab", "bed", "roof")
    switches, accessories = [], []
    for n in range(rng.randint(1, 4)):
        motor = rng.choice(("reversing", "two-speed"))
        amps = round(rng.uniform(0.5, 14.0) * 12 / volts, 2)
        keys = [f"name: Motor {n}", f"current: {amps} A", f"motor: {motor}", f"switch: S{n}",
                f"inrush: {round(4 * amps, 2)} A",
                f"load: {rng.choice(('torque motor', 'fan motor', 'motor'))}"]
        if motor == "two-speed" and rng.random() < 0.7:
            keys.append(f"low_speed: {round(amps * rng.uniform(0.2, 1.0), 2)} A")
        back = "wire" if motor == "reversing" else rng.choice(("wire", "chassis"))
        keys.append(f"return: {back}")
        keys.append(f"place: {rng.choice(places)}" if rng.random() < 0.6
                    else f"length: {round(rng.uniform(0.5, 12.0), 1)} m")
        if rng.random() < 0.2:
            keys.append("quantity: 2")
        if rng.random() < 0.2:
            keys.append("size: 2.5 mm2")
        if rng.random() < 0.3:
            keys.append("duty: 20 s in 3 min")
        accessories.append("  - {" + ", ".join(keys) + "}")
        type_ = rng.choice(("relay", "direct"))
        where = f", place: {rng.choice(places)}" if rng.random() < 0.7 else ""
        rating = rng.choice((2, 10, 20, 40))
        switches.append(f"  S{n}: {{type: {type_}, rating: {rating} A{where}}}")
    for n in range(rng.randint(0, 2)):
        accessories.append(
            f"  - {{name: Lamp {n}, power: {rng.randint(5, 60)} W, length: 2 m, return: wire}}"
        )
    rng.shuffle(accessories)
    return "\n".join((
        "circuitplan: 1", f"system: {volts} V",
        "supply: {battery: {type: agm, capacity: 95 Ah, cranking: 850 A, place: bay}}",
        "places: {bay: 60 °C, cab: 45 °C, bed: 40 °C, roof: 55 °C}",
        "legs: [[bay, cab, 2 m], [cab, bed, 3 m, conduit], [cab, roof, 2 m]]",
        "panels: {main: {place: cab, fed_from: battery, ways: 12}}",
        "switches:", *switches, "accessories:", *accessories, "",
    ))


def _motors(result: Result) -> list[Circuit]:
    return [c for c in result.circuits if c.accessories and c.accessories[0].motor]


def _fails(result: Result, *rules: str) -> bool:
    return any(f.rule in rules and f.fails for f in result.findings)


@pytest.mark.parametrize("seed", SEEDS)
def test_motor_circuits_are_whole_guarded_and_add_up(seed: int) -> None:
    text = plan_text(seed)
    plan = read_text(text)
    result = study(plan)
    found = chains(sized(plan))
    for circuit in _motors(result):
        a = circuit.accessories[0]
        reversing = a.motor == "reversing"
        first, second = ("up", "down") if reversing else ("high", "low")
        runs = {r.at: r for r in circuit.runs if r.at}
        assert set(runs) == {first, second}
        # Behind one fuse, of one size, each able to carry what the fuse lets flow.
        assert len({r.size for r in circuit.runs}) == 1
        assert {r.protected_by for r in circuit.runs} == {circuit.fuses[0].id}
        if not _fails(result, "F01", "A01"):
            assert all(r.ampacity_a * (1 + 1e-9) >= circuit.fuses[0].rating_a
                       for r in circuit.runs)
        # No live wire wears the colour of a return.
        returns = {r.colour for c in result.circuits for r in c.runs if r.role == "return"}
        assert {r.colour for r in circuit.runs if r.role == "feed"}.isdisjoint(returns)
        assert runs[second].live_back == reversing
        # The volts lost in wires are those of the wires in series, one after the other.
        assert circuit.drop is not None
        out_ohm, back_ohm = (
            sum(
                r.resistance_20c_ohm_per_m * (1 + 0.00393 * (r.conductor_c - 20.0)) * r.length_m
                for r in circuit.runs if r.role == role and (r.at != second or reversing)
            )
            for role in ("feed", "return")
        )
        parts = circuit.drop.parts
        assert parts.run_v / parts.return_v == pytest.approx(out_ohm / back_ohm, rel=1e-3)
        if a.load == "torque motor":  # the same current at any volts
            assert parts.run_v == pytest.approx(a.current_a * out_ohm, rel=1e-3)
        if circuit.drop.percent > circuit.drop.limit_percent * (1 + 1e-9):
            assert _fails(result, "D01")
        # Two relays with contacts that suffice, both of them, or the plan fails.
        if circuit.relays:
            assert {r.at for r in circuit.relays} == {first, second}
            for relay in circuit.relays:
                rated = min(relay.contact_a, relay.break_a or relay.contact_a)
                assert (relay.break_a is not None) == reversing
                assert rated * (1 + 1e-9) >= relay.needed_a or _fails(result, "S02")
        # Both directions lose the same; low speed loses no more than full speed.
        mine = {c.position: c for c in found if c.accessory == a.name}
        loop = {
            at: sum(s.hot_ohm + s.contact_ohm for s in (*c.plus, *c.minus))
            for at, c in mine.items()
        }
        assert loop[first] == pytest.approx(loop[second], rel=1e-9)
        assert mine[second].design_a <= mine[first].design_a * (1 + 1e-9)
        assert a.low_speed_a is None or a.low_speed_a <= a.current_a * (1 + 1e-9)


@pytest.mark.parametrize("seed", [3, 11])
def test_any_order_of_entries_gives_the_same_result(seed: int) -> None:
    text = plan_text(seed)
    head, accessories = text.split("accessories:\n")
    lines = accessories.strip("\n").split("\n")
    turned = "\n".join((f"{head}accessories:", *lines[::-1], ""))
    one, other = study(read_text(text)), study(read_text(turned))
    assert [(c.label, c.runs, c.relays, c.drop) for c in one.circuits] == [
        (c.label, c.runs, c.relays, c.drop) for c in other.circuits
    ]
