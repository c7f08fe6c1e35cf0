"""What a switch may still carry is the least of the whole way, and what limits it is named.

Figures by hand from the made-up circuit: fuse 0.8 x 15 A x share of the rating left at 50 °C
(``tables/fuse_ambient.csv``), wire 30 A, drop 3 of 5 % at 5 A.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from circuitplan.library.fuses import ambient_factor
from circuitplan.model.result import Circuit, Result
from circuitplan.planfile import read_plan
from circuitplan.planner import study
from circuitplan.planner.room import Room, rooms

EXAMPLES = Path(__file__).parents[2] / "examples"


def _with(result: Result, circuit: Circuit, on_switch_a: float | None, **panel: Any) -> Result:
    panels = tuple(
        replace(p, **panel) if p.id == circuit.panel else p for p in result.panels
    )
    switches = tuple(
        replace(s, spare_a=on_switch_a) if s.id in circuit.switches else s for s in result.switches
    )
    circuits = tuple(circuit if c.id == circuit.id else c for c in result.circuits)
    return replace(result, panels=panels, switches=switches, circuits=circuits)


@pytest.fixture
def made() -> tuple[Result, Circuit]:
    """One lamp circuit with plenty of everything, so that each limit can be set in turn."""
    result = study(read_plan(str(EXAMPLES / "owner.yaml")))
    circuit = next(c for c in result.circuits if c.switches == ("S1",))
    circuit = replace(
        circuit, current_a=5.0, relays=(),
        fuses=tuple(replace(f, rating_a=100.0, current_a=5.0) for f in circuit.fuses),
        runs=tuple(replace(r, ampacity_a=100.0, current_a=5.0) for r in circuit.runs),
        drops=tuple(
            replace(d, total_v=0.01, percent=0.1, limit_percent=5.0) for d in circuit.drops
        ),
    )
    panel = next(p for p in result.panels if p.id == circuit.panel)
    assert panel.fuse is not None
    whole = _with(
        result, circuit, 60.0, spare_a=50.0, current_a=10.0,
        fuse=replace(panel.fuse, rating_a=300.0, current_a=None),
        feeder=tuple(replace(r, ampacity_a=200.0, current_a=10.0) for r in panel.feeder),
    )
    return whole, circuit


def test_the_panel_rules_where_it_leaves_least(made: tuple[Result, Circuit]) -> None:
    """19 A on the switch, 5 A in the panel: 5 A, and the panel is named."""
    result, circuit = made
    found = rooms(_with(result, circuit, 19.0, spare_a=5.0))["S1"]
    assert found == Room(5.0, circuit.panel)


def test_switch_fuse_wire_and_drop_in_turn(made: tuple[Result, Circuit]) -> None:
    result, circuit = made
    assert rooms(_with(result, circuit, 19.0))["S1"] == Room(19.0, "switch")

    (fuse,) = circuit.fuses
    share = ambient_factor(50.0)
    assert share is not None
    fused = replace(circuit, fuses=(replace(fuse, rating_a=15.0, ambient_c=50.0),))
    found = rooms(_with(result, fused, 19.0))["S1"]
    assert found.limit == f"fuse {fuse.id}"
    assert found.spare_a == pytest.approx(0.8 * share * 15.0 - 5.0)

    feed = next(r for r in circuit.runs if r.role == "feed")
    thin = tuple(replace(r, ampacity_a=8.0) if r is feed else r for r in circuit.runs)
    found = rooms(_with(result, replace(circuit, runs=thin), 19.0))["S1"]
    assert found == Room(3.0, f"wire {feed.id}")

    lossy = tuple(replace(d, total_v=0.36, percent=3.0) for d in circuit.drops)
    found = rooms(_with(result, replace(circuit, drops=lossy), 19.0))["S1"]
    assert found.limit == f"drop to {circuit.drops[0].accessory}"
    assert found.spare_a == pytest.approx(5.0 * 2.0 / 3.0)


def test_the_feeder_and_its_fuse_count(made: tuple[Result, Circuit]) -> None:
    result, circuit = made
    panel = next(p for p in result.panels if p.id == circuit.panel)
    thin = tuple(replace(r, ampacity_a=12.0, thermal_a=10.0) for r in panel.feeder)
    found = rooms(_with(result, circuit, 19.0, feeder=thin))["S1"]
    assert found.spare_a == pytest.approx(2.0)
    assert found.limit.startswith("wire ")
    assert panel.fuse is not None
    small = replace(panel.fuse, rating_a=15.0, ambient_c=20.0)
    found = rooms(_with(result, circuit, 19.0, fuse=small))["S1"]
    assert found == Room(pytest.approx(0.8 * 15.0 - 10.0), f"fuse {small.id}")


def test_an_overload_stays_said_and_an_unknown_rating_stays_unknown(
    made: tuple[Result, Circuit]
) -> None:
    result, circuit = made
    assert rooms(_with(result, circuit, -3.0))["S1"] == Room(-3.0, "switch")
    assert rooms(_with(result, circuit, None))["S1"] == Room(None, "rating not given")


@pytest.mark.parametrize("name", ["owner", "rescue-pickup", "service-truck", "workboat"])
def test_never_more_than_any_part_of_the_way(name: str) -> None:
    result = study(read_plan(str(EXAMPLES / f"{name}.yaml")))
    panels = {p.id: p for p in result.panels}
    left = rooms(result)
    for switch in result.switches:
        if switch.type == "signal":
            continue
        spare = left[switch.id].spare_a
        if spare is None:
            continue
        for c in result.circuits:
            if switch.id not in c.switches or not c.accessories:
                continue
            panel = panels.get(c.panel)
            if panel is not None and panel.spare_a is not None:
                assert spare <= max(panel.spare_a, 0.0) + 1e-9
            assert all(spare <= max(f.rating_a - c.current_a, 0.0) + 1e-9 for f in c.fuses)
