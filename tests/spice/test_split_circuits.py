"""Plans whose circuits split, solved whole here and by ngspice from the names of the wires' ends.

The netlist knows nothing of the project's paths: each stretch is a resistor between the two ends
that it names, feeds on one side and returns on the other. Loads draw constant currents, so that
the answer is one linear solution. Without ngspice the tests are skipped, but fail where CI is set.
"""

from __future__ import annotations

import os
import random
import re
import shutil
import subprocess
from pathlib import Path

import pytest

from circuitplan.design import compose, paths
from circuitplan.design.assume import Ledger
from circuitplan.design.state import State
from circuitplan.planfile import read_text

PLANS = 12
NGSPICE = shutil.which("ngspice")


def plan_text(seed: int) -> str:
    """Three circuits that split: by number, by number behind a relay, behind a direct switch."""
    draw = random.Random(seed)
    lines = [
        "circuitplan: 1", "system: 12 V",
        "supply: {battery: {type: agm, capacity: 95 Ah, cranking: 850 A, place: bay}}",
        "places: {bay: 50 °C, cab: 40 °C, bed: 40 °C, tail: 40 °C}",
        f"legs: [[bay, cab, {draw.uniform(1, 3):.1f} m], [cab, bed, {draw.uniform(1, 4):.1f} m], "
        f"[bed, tail, {draw.uniform(0.5, 2):.1f} m]]",
        "panels: {main: {place: cab, fed_from: battery}}",
        "switches: {S1: {type: relay, rating: 2 A, place: cab}, "
        "S2: {rating: 60 A, place: cab, split: bed}}",
        "circuits: {1: {split: bed}, 2: {split: bed}}",
        "accessories:",
    ]
    for circuit, works in (("1", ""), ("2", ", switch: S1"), ("3", ", switch: S2")):
        for n in range(draw.randint(2, 4)):
            number = "" if circuit == "3" else f", number: {circuit}"
            lines.append(
                f"  - {{name: A{circuit}{n}{number}, current: {draw.uniform(1, 8):.1f} A, "
                f"load: constant current, place: {draw.choice(['bed', 'tail'])}, fed_from: main, "
                f"drop: 8 %, return: wire{works}}}"
            )
    return "\n".join(lines) + "\n"


def netlist(state: State) -> str:
    """Every stretch between its two ends; the ends of the battery are held at 0 V."""
    net = paths.network(state)
    ends: dict[str, str] = {"battery+": "0", "battery-": "0"}

    def node(name: str, back: bool) -> str:
        return ends.setdefault(f"{name}{'-' if back else '+'}", f"n{len(ends)}")

    lines = ["* circuits that split"]
    for k, link in enumerate(net.links):
        s = link.segment
        ohm = float(net.wire_ohm[k] + net.contact_ohm[k])
        lines.append(f"R{k} {node(s.start, s.is_return)} {node(s.end, s.is_return)} {ohm!r}")
    prints = []
    for n, load in enumerate(state.wiring.loads):
        plus, minus = node(load.name, False), node(load.name, True)
        lines.append(f"I{n} {plus} {minus} {float(state.demand.worst_a[n])!r}")
        prints.append(f"print v({minus})-v({plus})")
    control = [".control", "set numdgt=15", "op", *prints, ".endc", ".end"]
    return "\n".join([*lines, ".options reltol=1e-9 gmin=1e-15", *control]) + "\n"


@pytest.mark.parametrize("seed", range(PLANS))
def test_the_drop_to_every_load_equals_ngspice(seed: int, tmp_path: Path) -> None:
    if NGSPICE is None:
        if os.environ.get("CI"):
            pytest.fail("ngspice is not installed, and CI is set")
        pytest.skip("ngspice is not installed")
    state, _ = compose.sized(read_text(plan_text(seed)), Ledger(()))
    assert sum(c.shared is not None for c in state.wiring.circuits) == 2
    source = tmp_path / "split.cir"
    source.write_text(netlist(state), encoding="ascii")
    done = subprocess.run(
        [NGSPICE, "-b", str(source)], capture_output=True, text=True, timeout=60, check=False
    )
    lost = [float(v) for v in re.findall(r"^v\(n\S+ = (\S+)$", done.stdout, re.MULTILINE)]
    assert len(lost) == len(state.wiring.loads), done.stdout + done.stderr
    net = paths.network(state)
    ohm = net.wire_ohm + net.contact_ohm
    amps = net.paths.T @ state.demand.worst_a  # everything on, as in the netlist
    assert list(net.paths @ (ohm * amps)) == pytest.approx(lost, rel=1e-6)
    assert max(lost) > 0.3
