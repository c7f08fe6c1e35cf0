"""A sample that has the design's own values gives the design's own numbers."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from circuitplan.design.groups import fault_currents
from circuitplan.design.protection import protect
from circuitplan.design.tolerance.carried import fitted
from circuitplan.design.tolerance.faults import parts_of
from circuitplan.design.tolerance.limits import CARRIES, DROP, LEAST_VOLTS
from circuitplan.design.tolerance.solve import solve
from circuitplan.model.plan import (
    Accessory,
    Battery,
    Leg,
    Panel,
    Place,
    Plan,
    SharedCircuit,
    Supply,
    Switch,
)
from circuitplan.planfile import read_plan
from circuitplan.planner import tolerance

EXAMPLES = Path(__file__).parents[2] / "examples"
EXACT = 1e-9


def interlocked() -> Plan:
    """Two heavy loads that are never on together, behind one feeder with a third."""
    return Plan(
        supply=Supply((Battery("battery", "flooded", 90.0),)),
        accessories=(
            Accessory("A", current_a=30.0, load="constant power", length_m=4.0, back="wire",
                      never_with=("B",)),
            Accessory("B", current_a=24.0, load="resistance", length_m=3.0, back="wire"),
            Accessory("C", current_a=6.0, load="motor", length_m=5.0, back="chassis"),
        ),
    )


def numbered(split: bool) -> Plan:
    """Three lamps behind one relay, by number: on one wire up to the bed, or on three."""
    return Plan(
        supply=Supply((Battery("battery", "agm", 90.0, place="bay"),)),
        places=(Place("bay", 50.0), Place("cab", 40.0), Place("bed", 40.0), Place("tail", 40.0)),
        legs=(Leg("bay", "cab", 2.0), Leg("cab", "bed", 3.0), Leg("bed", "tail", 2.0)),
        panels=(Panel("main", "cab", "battery"),),
        switches=(Switch("S1", type="relay", rating_a=2.0, place="cab"),),
        circuits=(SharedCircuit("4", "bed"),) if split else (),
        accessories=tuple(
            Accessory(name, number=4, current_a=amps, load=load, place=place, fed_from="main",
                      switches=("S1",), back="wire", drop_percent=8.0)
            for name, amps, load, place in (
                ("A", 6.0, "constant power", "bed"), ("B", 4.0, "resistance", "tail"),
                ("C", 2.0, "constant current", "tail"),
            )
        ),
    )  # fmt: skip


PLANS = {
    "interlocks": interlocked, "split": lambda: numbered(True), "shared": lambda: numbered(False)
}


@pytest.fixture(
    scope="module", params=["rescue-pickup", "service-truck", "workboat", "market-van", *PLANS]
)
def sized(request: pytest.FixtureRequest, size: Any) -> Any:
    if request.param in PLANS:
        return size(PLANS[request.param]())
    return size(read_plan(str(EXAMPLES / f"{request.param}.yaml")))


@pytest.mark.parametrize("end", [0.0, 1.0])
def test_guaranteed_volts(sized: Any, end: float) -> None:
    solved = solve(sized.margins.frozen, sized.margins.drawing.design_point(end))
    expected = sized.solved.high_v if end else sized.solved.low_v
    assert solved.held.all()
    assert solved.volts[:, 0] == pytest.approx(expected, rel=EXACT)


def test_temperatures_of_all_wires(sized: Any) -> None:
    frozen, state = sized.margins.frozen, sized.state
    solved = solve(frozen, sized.margins.drawing.design_point(0.0))
    for row, segment in enumerate(frozen.wires.segments):
        expected = state.temperature(segment, state.wire[segment.key])
        assert solved.body_c[frozen.wires.body[row], 0] == pytest.approx(expected, rel=EXACT)


def test_drop_and_minimum_volts(sized: Any) -> None:
    point = sized.margins.drawing.design_point(0.0)
    parts = sized.margins.parts(point)
    for index, limit in enumerate(sized.state.demand.limits):
        drop = sized.state.levels.low_v[index] - sized.solved.low_v[index]
        found = parts[DROP][index, 0]
        if limit.conductor_v is None:
            assert found == pytest.approx(1.0 - drop / limit.total_v, rel=EXACT, abs=EXACT)
        else:
            assert found <= 1.0 - drop / limit.total_v + EXACT
        if limit.least_v is not None:
            expected = sized.solved.low_v[index] - limit.least_v
            assert parts[LEAST_VOLTS][index, 0] == pytest.approx(expected, rel=EXACT)


def test_far_end_shorts_and_how_long_they_last(sized: Any) -> None:
    margins, state = sized.margins, sized.state
    point = margins.drawing.design_point(0.0)
    solved = solve(margins.frozen, point)
    left, current = margins.faults.margin(
        solved.wire_ohm, point.fault_contact_ohm, point.fault_chassis_ohm, point.fault_ohm,
        point.clearing,
    )
    row = 0
    for owner in (*state.wiring.circuits, *state.wiring.nodes.values()):
        upstream: list[Any] = []
        for group in parts_of(owner):
            slot = owner.slot
            if group.inline is not None and state.fuse.get(group.inline.key) is not None:
                slot = group.inline
            device = state.fuse.get(slot.key) if slot is not None else None
            if slot is not None and device is not None and device.gates:
                first = state.devices_at(owner).get(group.segments[0].key)
                wire = state.wire[group.segments[0].key]
                weak, _ = fault_currents(state, group, wire, first, upstream)
                assert current[row, 0] == pytest.approx(weak, rel=EXACT)
                clears, allowed = protect.clearing(device, weak), protect.withstand(wire, weak)
                if not margins.faults.always[row]:
                    expected = -math.inf if math.isinf(clears) else math.log(allowed / clears)
                    assert left[row, 0] == pytest.approx(expected, rel=EXACT, abs=EXACT)
                row += 1
            if group.segments[0].kind == "trunk":
                upstream = group.segments
    assert row == len(current) > 0


def test_what_fuses_must_carry(sized: Any) -> None:
    """With the currents that the design froze, the rating that the design asked for."""
    margins, state = sized.margins, sized.state
    carried = margins.carried
    frozen_a = state.demand.worst_a.reshape(-1, 1)
    places = np.zeros((len(margins.frozen.place_names), 1))
    left = carried.margin(frozen_a, places, 20.0)
    known = fitted(state)
    keys = [k for k in margins.drawing.fuse_names if not known[k][1].short_circuit_only]
    for row, key in enumerate(keys):
        _, slot, device = known[key]
        currents = [(state.wiring.loads[i], float(state.demand.worst_a[i])) for i in slot.loads]
        whole = sum(a for _, a in currents)
        if not whole:
            continue
        share = min(1.0, state.demand.of_loads(slot.loads) / whole)
        least = protect.least_rating([(x, a * share) for x, a in currents], device.ambient_c)
        assert left[row, 0] == pytest.approx(1.0 - least / device.rating_a, rel=EXACT, abs=EXACT)


def test_a_block_is_what_its_samples_are_one_by_one(sized: Any) -> None:
    variables = len(sized.margins.drawing.variables)
    shares = np.random.default_rng(2).uniform(0.02, 0.98, (variables, 5))
    together = tolerance.margins_at(sized.margins, shares)
    for i in range(5):
        alone = tolerance.margins_at(sized.margins, shares[:, i : i + 1])[:, 0]
        drops = [r for r, x in enumerate(sized.margins.limits) if x.name in (DROP, CARRIES)]
        assert together[drops, i] == pytest.approx(alone[drops], rel=1e-8, abs=1e-9)
        assert (together[:, i] >= 0).tolist() == (alone >= 0).tolist()
