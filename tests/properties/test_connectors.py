"""Random plans with connectors: each is judged again with arithmetic of its own.

A contact bears I_r √((T_class - T) / (T_class - T_r)) where it sits, T_r 20 °C and T_class 105 °C
where the plan is silent; its fuse may not be above that, nor its current; wire within its range.
"""

from __future__ import annotations

import math
import random
from dataclasses import replace

import independent
import pytest
import random_plans

from circuitplan.model.plan import ConnectorSpec, Plan
from circuitplan.model.result import Circuit, Connector, Result
from circuitplan.planner import design

PLANS = 60
TABS = {
    r["contact"]: next(t for t in independent.rows("terminal_ranges")
                       if t["interface"] == r["interface"])
    for r in independent.rows("connector_tabs")
}  # fmt: skip
NEAR = 1e-6
"""How close to a limit no verdict is asked for."""


def plan(seed: int) -> Plan:
    rng = random.Random(seed + 2 * 10**9)
    base = random_plans.plan(seed)
    accessories = tuple(
        replace(a, connector=_spec(rng)) if rng.random() < 0.8 else a for a in base.accessories
    )
    return replace(base, accessories=accessories)


def _spec(rng: random.Random) -> ConnectorSpec:
    ways = rng.randint(1, 6)
    rating = rng.choice((None, 5.0, 15.0, 40.0, 80.0))
    class_c = rng.choice((None, 85.0, 105.0, 125.0))
    rated_at = rng.choice((None, 20.0, 60.0, 80.0)) if rating is not None else None
    takes = rng.choice(((None, None), (0.5, 2.5), (1.0, 6.0)))
    return ConnectorSpec(
        ways=ways, contact=rng.choice((None, *TABS)), rating_a=rating, rated_at_c=rated_at,
        class_c=class_c, least_mm2=takes[0], most_mm2=takes[1],
        back="none" if rng.random() < 0.2 else None,
    )  # fmt: skip


def _said(result: Result, rule: str, name: str) -> bool:
    return any(f.rule == rule and f.subject == name for f in result.findings)


def _bears(spec: ConnectorSpec, ambient_c: float) -> float:
    if spec.rating_a is None:
        return 0.0
    class_c = 105.0 if spec.class_c is None else spec.class_c
    rated_at = 20.0 if spec.rated_at_c is None else spec.rated_at_c
    if ambient_c <= rated_at:
        return spec.rating_a
    if ambient_c >= class_c:
        return 0.0
    return spec.rating_a * math.sqrt((class_c - ambient_c) / (class_c - rated_at))


def _judge(drafted: Plan, result: Result, circuit: Circuit, connector: Connector) -> list[str]:
    """Rules that should speak of it and do not, or the other way round."""
    given = next(a for a in drafted.accessories if a.name == connector.of)
    spec = given.connector
    assert spec is not None
    for place in drafted.places:
        if place.name == given.place:
            assert connector.ambient_c == place.ambient_c
    wires = {r.id: r for r in circuit.runs}
    mine = [wires[c.run] for c in connector.cavities if c.run is not None]
    assert [r.role for r in mine][:1] == ["feed"]
    assert len(mine) == (1 if spec.ways == 1 or spec.back == "none" else 2)
    assert all(connector.of in (r.from_, r.to) for r in mine)
    bears = _bears(spec, connector.ambient_c)
    carried = max(r.thermal_a for r in mine)
    fuse = next((f for f in circuit.fuses if f.id == mine[0].protected_by), None)
    wanted = {"S08": (carried, bears)}
    if fuse is not None and spec.rating_a is not None and not fuse.short_circuit_only:
        wanted["S09"] = (fuse.rating_a, bears)
    least, most = spec.least_mm2, spec.most_mm2
    if least is None and spec.contact is not None:
        least, most = (float(TABS[spec.contact][k]) for k in ("from_mm2", "to_mm2"))
    if least is not None and most is not None:
        over = max(max(r.area_mm2 / most, least / r.area_mm2) for r in mine)
        wanted["S10"] = (over, 1.0)
    return [
        f"{connector.of}: {rule} {found:.4g} against {limit:.4g}"
        for rule, (found, limit) in wanted.items()
        if abs(found - limit) > NEAR and (found > limit) != _said(result, rule, connector.of)
    ]


@pytest.mark.parametrize("seed", range(PLANS))
def test_nothing_wrong_with_a_connector_is_passed_over(seed: int) -> None:
    drafted = plan(seed)
    result = design(drafted, ()).result
    found = [(c, k) for c in result.circuits for k in c.connectors]
    wanted = {a.name for a in drafted.accessories if a.connector is not None}
    assert {k.of for _, k in found} == wanted
    assert sorted(k.id for _, k in found) == sorted(f"X{n + 1}" for n in range(len(wanted)))
    assert [w for c, k in found for w in _judge(drafted, result, c, k)] == []


def test_each_verdict_is_met_often_enough() -> None:
    said = {rule: [0, 0] for rule in ("S08", "S09", "S10")}
    for seed in range(PLANS):
        result = design(plan(seed), ()).result
        for name in {k.of for c in result.circuits for k in c.connectors}:
            for rule, count in said.items():
                count[_said(result, rule, name)] += 1
    assert all(min(count) > 10 for count in said.values()), said
