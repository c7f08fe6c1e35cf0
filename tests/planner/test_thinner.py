"""W04: the size that the holder takes, with the drop it gives, offered where it passed."""

from __future__ import annotations

import pytest

from circuitplan.model.result import Finding
from circuitplan.planfile import read_text
from circuitplan.planfile.changes import change
from circuitplan.planfile.edits import apply
from circuitplan.planner import advised, study

PLAN = """circuitplan: 1
system: 12 V
supply: {battery: {type: agm, capacity: 95 Ah, place: engine bay}}
panels:
  cab panel: {place: cab, fed_from: battery, length: 2 m, ways: 10}
switches: {S1: {rating: 20 A, place: cab, type: relay}}
accessories:
  - {name: Locker, kind: locker, length: 4 m, switch: S1, fed_from: cab panel}
"""


def w04(text: str) -> list[Finding]:
    return [f for f in advised(read_text(text)).findings if f.rule == "W04"]


def test_the_thinner_wire_is_offered_and_passes_when_it_is_tried() -> None:
    (finding,) = w04(PLAN)
    assert "Or: 6 mm² gives " in finding.remedy
    assert finding.change is not None
    assert finding.change.startswith("Locker drop ")
    plan = read_text(PLAN)
    text = apply(PLAN, change(plan, finding.change))
    after = advised(read_text(text))
    assert after.answer == study(plan).answer == "ok"
    assert not [f for f in after.findings if f.rule == "W04"]
    (circuit,) = [c for c in after.circuits if c.label == "Locker"]
    (feed,) = [r for r in circuit.runs if r.role == "feed"]
    assert feed.size == "6 mm²"
    said = float(finding.remedy.split("gives ")[1].split(" %")[0])
    (drop,) = circuit.drops
    assert drop.percent <= said < drop.percent + 0.2
    assert said <= drop.limit_percent


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("length: 4 m", "length: 4 m, size: 10 mm2"),  # the plan's own size stays
        ("length: 4 m", "length: 4 m, critical: yes"),  # what lives hang on keeps its volts
        ("length: 4 m", "length: 4 m, min_voltage: 11 V"),  # thinner: too few volts
        ("length: 4 m", "length: 4 m, min_voltage: 11.3 V"),  # too few volts as it is
        ("length: 4 m", "length: 12 m"),  # more than may be allowed
    ],
)
def test_nothing_is_offered_where_it_would_not_do(old: str, new: str) -> None:
    found = w04(PLAN.replace(old, new))
    assert found or "critical" in new
    for finding in found:
        assert finding.change is None
        assert "allow it with drop" not in finding.remedy


def test_study_alone_tries_nothing() -> None:
    plain = study(read_text(PLAN))
    assert [f.change for f in plain.findings if f.rule == "W04"] == [None]
