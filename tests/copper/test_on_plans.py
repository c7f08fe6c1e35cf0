"""Whole plans: the choice keeps every limit by the full solve, and weighs no more than before."""

from __future__ import annotations

from pathlib import Path

import pytest
from random_wires import plan_text

from circuitplan.design import compose, groups, paths, solve
from circuitplan.design.assume import Ledger
from circuitplan.design.copper.choose import least_copper
from circuitplan.design.copper.costs import costs
from circuitplan.design.copper.gather import gather
from circuitplan.design.copper.part import parts_of
from circuitplan.design.copper.settle import Settled, settle
from circuitplan.design.copper.task import Task
from circuitplan.design.state import State
from circuitplan.planfile import read_plan, read_text
from circuitplan.planfile.edits import Merge
from circuitplan.planner import study
from circuitplan.planner.copper import CopperAnswer, least
from circuitplan.planner.measures import copper_kg, runs_of

EXAMPLES = Path(__file__).parents[2] / "examples"
TENTH_G = 1e-4

SHORT_RULES = """circuitplan: 1
system: 12 V
supply:
  battery: {type: flooded, capacity: 45 Ah, cranking: 300 A, place: bay}
places: {bay: 40 °C, cab: 40 °C}
legs: [[bay, cab, 6 m]]
panels: {main: {place: cab, fed_from: battery}}
switches: {S1: {rating: 40 A, place: cab}, S2: {rating: 40 A, place: cab}}
accessories:
  - {name: A, current: 9 A, length: 7 m, switch: S1, drop: 35 %}
  - {name: B, current: 3 A, length: 9 m, switch: S1, drop: 35 %}
  - {name: C, current: 14 A, length: 6 m, switch: S2, drop: 35 %}
  - {name: D, current: 5 A, length: 8 m, drop: 35 %}
"""
"""Long thin wires behind a weak battery: whether a short is cleared rules their sizes."""


def settled(text: str) -> tuple[State, Settled]:
    state, _ = compose.sized(read_text(text), Ledger(()))
    found = settle(state)
    assert found is not None
    return state, found


def whole_task(state: State) -> Task:
    parts = parts_of(state)
    return gather(state, parts, costs(state, parts, None))[0]


@pytest.mark.parametrize("seed", range(12))
def test_every_limit_is_kept_by_the_full_solve(seed: int) -> None:
    state, found = settled(plan_text(seed, 12) if seed else SHORT_RULES)
    assert found.chosen.proven
    assert found.bound is not None
    assert found.bound <= found.chosen.cost <= found.before
    drops = solve.electrical(state).drops
    for index, drop in enumerate(drops):
        assert drop is not None
        assert drop.total_v <= state.demand.limits[index].total_v * (1 + 1e-9)
    for part in found.parts:
        wire = state.wire[part.group.segments[0].key]
        assert groups.broken(
            state, part.group, wire, part.device, part.guard, part.before, frozenset({"fault"})
        ) is None


@pytest.mark.parametrize("seed", range(12))
def test_one_size_less_of_any_wire_breaks_something(seed: int) -> None:
    """The least is at least a local one: seen with the full rules, not with the program's."""
    text = plan_text(seed, 12) if seed else SHORT_RULES
    state, found = settled(text)
    first, _ = compose.sized(read_text(text), Ledger(()))  # its looms are those of the proof
    least_of = [w.least for w in whole_task(first).wires]
    for n, (part, index) in enumerate(zip(found.parts, found.chosen.sizes, strict=True)):
        if part.fixed or index == least_of[n] or n in found.raised:
            continue
        for segment in part.group.segments:
            state.wire[segment.key] = part.sizes[index - 1]
        wire = part.sizes[index - 1]
        alone = groups.broken(
            state, part.group, wire, part.device, part.guard, part.before, frozenset({"fault"})
        )
        behind = any(
            groups.broken(
                state, other.group, state.wire[other.group.segments[0].key], other.device,
                other.guard, other.before, frozenset({"fault"}),
            )
            for other in found.parts
        )
        frozen = any(_frozen_over(state, i) for i in range(len(state.wiring.loads)))
        assert alone or behind or frozen, part.group.key
        for segment in part.group.segments:
            state.wire[segment.key] = part.sizes[index]


def _frozen_over(state: State, index: int) -> bool:
    """Whether the drop to a load is over its limit with frozen currents, summed up anew."""
    circuit = next(c for c in state.wiring.circuits if index in c.loads)
    links = [*paths.feeders(state, circuit, index), *paths.own(circuit, index)]
    total = 0.0
    for link in links:
        wire = state.wire[link.segment.key]
        hot = state.temperature(link.segment, wire)
        device = state.devices_at(link.owner).get(link.segment.key)
        ohm = state.wire_ohm(link.segment, wire, hot)
        ohm += state.contact_ohm(link.segment, wire, device)
        total += ohm * sum(float(state.demand.worst_a[i]) for i in link.segment.loads)
    return total > state.demand.limits[index].total_v


def test_a_short_rules_where_the_battery_is_weak() -> None:
    """Without the limits on shorts thinner sizes would keep heat, fuse and drop."""
    state, _ = compose.sized(read_text(SHORT_RULES), Ledger(()))
    loose = least_copper(whole_task(state))
    _, found = settled(SHORT_RULES)
    assert loose is not None
    assert loose.cost < found.chosen.cost


def answer(name: str) -> CopperAnswer:
    path = EXAMPLES / name
    return least(read_plan(str(path)), path.read_text(encoding="utf-8"), str(path))


@pytest.mark.parametrize("name", ["rescue-pickup.yaml", "service-truck.yaml", "workboat.yaml"])
def test_an_example_weighs_less_and_passes_as_before(name: str) -> None:
    found = answer(name)
    assert found.answer == "ok"
    assert found.proven
    assert found.edits
    assert found.after_kg < found.before_kg
    assert found.bound_kg is not None
    assert found.bound_kg <= found.after_kg + 1e-9
    assert found.after_kg == pytest.approx(copper_kg(found.after))
    before = study(read_plan(str(EXAMPLES / name)))
    saved = sum(r.saves_kg for r in found.resized)
    assert copper_kg(before) - saved == pytest.approx(found.after_kg, abs=2e-3)


SHARED_WAY = """circuitplan: 1
system: 12 V
supply:
  battery: {type: agm, capacity: 95 Ah, cranking: 850 A, place: bay}
places: {bay: 50 °C, cab: 40 °C, bed: 40 °C, tail: 40 °C}
legs: [[bay, cab, 2 m], [cab, bed, 4 m], [bed, tail, 1.5 m]]
panels: {main: {place: cab, fed_from: battery}}
switches: {S1: {rating: 40 A, place: cab%s}}
accessories:
  - {name: Bed lamps, power: 120 W, place: bed, switch: S1, fed_from: main, return: wire}
  - {name: Tail lamps, power: 80 W, place: tail, switch: S1, fed_from: main, return: wire}
"""


def test_a_switch_splits_at_the_last_place_that_all_it_works_lie_behind() -> None:
    """One wire of 4 m from the switch to the bed in place of two; only 1 m and 1.5 m go on."""
    text = SHARED_WAY % ""
    found = least(read_text(text), text, "plan.yaml")
    assert found.answer == "ok"
    assert any(e.values == {"split": "bed"} for e in found.edits if isinstance(e, Merge))
    feeds = {(r.from_, r.to): r for r in runs_of(found.after) if r.role == "feed"}
    assert feeds["S1", "splice of S1"].length_m == pytest.approx(4.0)
    assert feeds["S1", "splice of S1"].current_a == pytest.approx(
        sum(c.current_a for c in found.after.circuits), rel=0.05
    )
    assert feeds["splice of S1", "Tail lamps"].length_m == pytest.approx(1.5)
    assert found.after_kg < 0.8 * found.before_kg


def test_a_thinner_branch_behind_a_split_has_a_fuse_of_its_own_or_suits_the_shared_one() -> None:
    result = study(read_text(SHARED_WAY % ", split: bed"))
    assert result.answer == "ok"
    circuit = result.circuits[0]
    fuses = {f.id: f for f in circuit.fuses}
    assert len(circuit.runs) == 6  # lead, shared run, two branches, two ways back
    for run in circuit.runs:
        guard = fuses[run.protected_by or ""]
        assert guard.rating_a <= run.ampacity_a


def test_a_split_saves_nothing_where_ways_part_at_the_switch() -> None:
    text = (SHARED_WAY % "").replace("place: tail, switch", "place: bay, switch")
    found = least(read_text(text), text, "plan.yaml")
    assert not any("split" in e.values for e in found.edits if isinstance(e, Merge))


def test_a_plan_that_does_not_hold_is_left_alone() -> None:
    found = answer("overloaded-compressor.yaml")
    assert found.answer == "not ok"
    assert not found.edits
    assert found.after_kg == found.before_kg
