"""Where no fuse both lets the load start and clears a short in time, the wire comes first.

The load runs 285 A for a minute and on average 19 A, in a place of 82 °C. A fuse that lets 285 A
pass for 60 s (120 s least melting up to 1.35 times, ISO 8820 gates from memory) is rated 225 A:
1.27 times; 200 A is at 1.43 times and may melt in 2 s. The small cold battery drives about 500 A
into a far-end short, 2.2 times 225 A, where the gates allow 15 s: three times the 5 s allowed.
"""

from __future__ import annotations

from circuitplan.planfile import read_text
from circuitplan.planner import design

PLAN = """circuitplan: 1
system: 12 V
supply:
  battery: {type: flooded, capacity: 60 Ah, cranking: 540 A, place: bay}
panels: {main: {place: bay, fed_from: battery}}
places: {bay: {ambient: 82 °C}}
accessories:
  - {name: Lift, power: 570 W, peak: 285 A, duty: 60 s in 600 s, length: 2 m, drop: 5 %%%s}
"""


def test_the_wire_is_guarded_and_the_start_is_said_to_fail() -> None:
    result = design(read_text(PLAN % ""), ()).result
    circuit = result.circuits[0]
    fuse = circuit.fuses[0]
    assert fuse.rating_a <= min(run.ampacity_a for run in circuit.runs)
    assert circuit.fault is not None
    assert circuit.fault.clears_s is not None
    assert circuit.fault.clears_s <= circuit.fault.allowed_s
    failing = {f.rule for f in result.findings if f.fails and f.subject == "Lift"}
    assert failing == {"F09"}
    assert fuse.why == "the largest that its wires allow; the start may blow it"


def test_no_smaller_fuse_is_proposed_that_the_start_would_blow() -> None:
    result = design(read_text(PLAN % ", fuse: 225 A SF51, size: 35 mm2"), ()).result
    found = next(f for f in result.findings if f.rule == "F01")
    assert found.remedy == (
        "Use 70 mm² instead of 35 mm²: a smaller fuse would blow when the load starts."
    )


def test_a_smaller_fuse_is_proposed_where_no_start_is_known() -> None:
    gentle = (PLAN % ", fuse: 225 A SF51, size: 35 mm2").replace(
        "power: 570 W, peak: 285 A, duty: 60 s in 600 s", "power: 60 W"
    )
    found = next(f for f in design(read_text(gentle), ()).result.findings if f.rule == "F01")
    assert "it still carries the load." in found.remedy


def test_a_load_beyond_every_fuse_is_said_and_nothing_crashes() -> None:
    huge = PLAN.replace("power: 570 W, peak: 285 A, duty: 60 s in 600 s", "current: 3000 A") % ""
    result = design(read_text(huge), ()).result
    assert any(f.fails and f.subject == "Lift" for f in result.findings)
