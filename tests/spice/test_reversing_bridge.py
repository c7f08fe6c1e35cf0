"""The two relays of a reversing motor as ngspice sees them: every contact drawn, open or closed.

The netlist knows both buses, four contacts and both wires; the design reckons one way only. Without
ngspice the tests are skipped, but they fail where CI is set.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from pathlib import Path

import pytest

from circuitplan.design.bench.chain import Chain, chains, sized
from circuitplan.planfile import read_text
from circuitplan.planner import study

NGSPICE = shutil.which("ngspice")
OPEN_OHM = 1e9
PLAN = """
circuitplan: 1
system: 12 V
wire: {insulation: 105 °C PVC}
supply: {battery: {type: agm, capacity: 95 Ah, cranking: 850 A, place: shed}}
places: {shed: 30 °C}
panels: {main: {place: shed, fed_from: battery, length: 1 m, size: 16 mm2}}
switches: {S1: {type: TYPE, rating: 30 A, place: shed, lead: {length: 1 m}}}
accessories:
  - {name: Vane, current: 8 A, inrush: 30 A, load: torque motor, motor: MOTOR, place: shed,
     length: 3 m, fed_from: main, return: wire, switch: S1}
"""


def simulated(lines: list[str], wanted: list[str], folder: Path) -> list[float]:
    """Voltages of an operating point."""
    if NGSPICE is None:
        assert not os.environ.get("CI"), "ngspice is missing"
        pytest.skip("no ngspice")
    source = folder / "bridge.cir"
    control = [".control", "set numdgt=15", "op", *(f"print {w}" for w in wanted), ".endc", ".end"]
    options = ".options reltol=1e-9 abstol=1e-12 vntol=1e-10 gmin=1e-15"
    source.write_text("\n".join(["* bridge", *lines, options, *control]) + "\n", encoding="ascii")
    run = subprocess.run([NGSPICE, "-b", str(source)], capture_output=True, text=True, timeout=60,
                         check=False)
    found = [float(t) for t in re.findall(r"^v\(\S+ = (\S+)$", run.stdout, re.MULTILINE)]
    assert len(found) == len(wanted), run.stdout + run.stderr
    return found


def bridge(chain: Chain, emf_v: float, pulled: str, motor: str) -> list[str]:
    """The whole circuit, built from the stretches of the "up" chain: feeder and lead to the bus of
    87, wires A and B, the negative's bus and back. ``motor``: what lies between a and b."""
    feeder, lead, a = chain.plus
    b, back, feeder_back = chain.minus
    make, rest = 2e-3, 3e-3  # high-current change-over relay, as designed (judgement)
    ohm = {s.wire: s.hot_ohm + s.contact_ohm for s in (*chain.plus, *chain.minus)}
    ohm[a.wire] -= make
    ohm[b.wire] -= rest

    def contact(relay: str) -> tuple[float, float]:
        """(87 to 30, 87a to 30) of a relay."""
        return (make, OPEN_OHM) if relay == pulled else (OPEN_OHM, rest)

    (a87, a87a), (b87, b87a) = contact("up"), contact("down")
    return [
        f"V1 p 0 {emf_v!r}",
        f"R1 p panel {ohm[feeder.wire]!r}", f"R2 panel bus {ohm[lead.wire]!r}",
        f"R3 bus qa {a87!r}", f"R4 nbus qa {a87a!r}", f"R5 bus qb {b87!r}", f"R6 nbus qb {b87a!r}",
        f"R7 qa a {ohm[a.wire]!r}", f"R8 qb b {ohm[b.wire]!r}", motor,
        f"R9 nbus npanel {ohm[back.wire]!r}", f"R10 npanel 0 {ohm[feeder_back.wire]!r}",
    ]


@pytest.mark.parametrize(("pulled", "sign"), [("up", 1.0), ("down", -1.0)])
def test_volts_at_the_motor_in_both_directions(pulled: str, sign: float, tmp_path: Path) -> None:
    """8 A whatever the volts, from a to b or from b to a: what the study guarantees, either way."""
    text = PLAN.replace("TYPE", "relay").replace("MOTOR", "reversing")
    found = {c.position: c for c in chains(sized(read_text(text)))}
    drop = study(read_text(text)).circuits[0].drop
    assert drop is not None
    ends = ("a", "b") if sign > 0 else ("b", "a")
    lines = bridge(found["up"], drop.supply_v, pulled, f"I1 {ends[0]} {ends[1]} 8")
    volts = simulated(lines, [f"v({ends[0]})-v({ends[1]})"], tmp_path)[0]
    assert volts == pytest.approx(drop.accessory_v, rel=1e-6)
    chain = found[pulled]
    lost = 8.0 * sum(s.hot_ohm + s.contact_ohm for s in (*chain.plus, *chain.minus))
    assert volts == pytest.approx(drop.supply_v - lost, rel=1e-6)


@pytest.mark.parametrize("pulled", ["up", "down"])
def test_volts_along_the_way_are_those_of_the_fault_finding(pulled: str, tmp_path: Path) -> None:
    """Fed and earthed terminal of the motor, against the sums of the chain of that position."""
    text = PLAN.replace("TYPE", "relay").replace("MOTOR", "reversing")
    found = {c.position: c for c in chains(sized(read_text(text)))}
    ends = ("a", "b") if pulled == "up" else ("b", "a")
    lines = bridge(found["up"], 12.6, pulled, f"I1 {ends[0]} {ends[1]} 8")
    fed, earthed = simulated(lines, [f"v({ends[0]})", f"v({ends[1]})"], tmp_path)
    plus = sum(s.hot_ohm + s.contact_ohm for s in found[pulled].plus)
    minus = sum(s.hot_ohm + s.contact_ohm for s in found[pulled].minus)
    assert fed == pytest.approx(12.6 - 8.0 * plus, rel=1e-6)
    assert earthed == pytest.approx(8.0 * minus, rel=1e-6)


def test_at_rest_the_motor_is_shorted_through_both_break_contacts(tmp_path: Path) -> None:
    """A turning motor of 10 V and 1 ohm drives nearly 10 A round both wires and break contacts:
    it brakes. Nothing of it reaches the feed."""
    text = PLAN.replace("TYPE", "relay").replace("MOTOR", "reversing")
    chain = next(c for c in chains(sized(read_text(text))) if c.position == "up")
    lines = bridge(chain, 12.6, "none", "V2 a x 10\nR11 x b 1")
    ends = simulated(lines, ["v(x)-v(b)", "v(panel)"], tmp_path)
    round_ohm = sum(s.hot_ohm + s.contact_ohm for s in (chain.plus[-1], chain.minus[0])) + 1e-3
    assert -ends[0] == pytest.approx(10.0 / (1.0 + round_ohm), rel=1e-3)
    assert ends[1] == pytest.approx(12.6, rel=1e-6)


def test_both_coils_on_put_no_short_on_the_feed(tmp_path: Path) -> None:
    """Both ends of the motor on the feed: it stands, and nothing flows."""
    text = PLAN.replace("TYPE", "relay").replace("MOTOR", "reversing")
    chain = next(c for c in chains(sized(read_text(text))) if c.position == "up")
    lines = bridge(chain, 12.6, "up", "R11 a b 1")
    both = [line.replace("R5 bus qb 1000000000.0", "R5 bus qb 0.002")
            .replace("R6 nbus qb 0.003", "R6 nbus qb 1e9") for line in lines]
    assert both != lines
    panel, across = simulated(both, ["v(panel)", "v(a)-v(b)"], tmp_path)
    assert panel == pytest.approx(12.6, rel=1e-6)
    assert across == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("type_", ["relay", "direct"])
def test_low_speed_loses_less_than_full_speed(type_: str, tmp_path: Path) -> None:
    """5 A by the other wire of the same size: ngspice and the chain agree, and the study's limit,
    reckoned at 8 A, covers it."""
    text = PLAN.replace("TYPE", type_).replace("MOTOR", "two-speed, low_speed: 5 A")
    found = {c.position: c for c in chains(sized(read_text(text)))}
    low, high = found["low"], found["high"]
    assert [s.wire for s in low.plus] != [s.wire for s in high.plus]
    lines, node = ["V1 n0 0 12.6"], 0
    for s in low.plus:
        lines.append(f"R{node} n{node} n{node + 1} {s.hot_ohm + s.contact_ohm!r}")
        node += 1
    lines.append(f"I1 n{node} m0 5")
    for k, s in enumerate(low.minus):
        end = "0" if s is low.minus[-1] else f"m{k + 1}"
        lines.append(f"RM{k} m{k} {end} {s.hot_ohm + s.contact_ohm!r}")
    volts = simulated(lines, [f"v(n{node})-v(m0)"], tmp_path)[0]
    ohm = sum(s.hot_ohm + s.contact_ohm for s in (*high.plus, *high.minus))
    assert 12.6 - volts == pytest.approx(5.0 * ohm, rel=1e-6)
    drop = study(read_text(text)).circuits[0].drop
    assert drop is not None
    assert 12.6 - volts < drop.total_v
