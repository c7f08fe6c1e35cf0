"""Heating of wires and starting of motors against ngspice, each in its electrical analogue.

Wire: temperature is a voltage, heat a current; the heat capacity is a capacitor, the path to the
air a resistor, the loss a source that follows the temperature. Motor: speed is the voltage of a
capacitor J/k² behind winding and loop resistance, the load torque a constant current out of it.
Without ngspice the tests are skipped, but they fail where CI is set.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from circuitplan.physics import loads, starting, transient

NGSPICE = shutil.which("ngspice")
CASES = 12
RELATIVE = 2e-4
OPTIONS = ".options reltol=1e-6 abstol=1e-9 vntol=1e-9 method=gear"


def run(lines: list[str], ends: list[tuple[str, float]], folder: Path) -> list[float]:
    """Value of each (expression, time), found by a transient analysis of the whole netlist."""
    if NGSPICE is None:
        if os.environ.get("CI"):
            pytest.fail("ngspice is not installed, and CI is set")
        pytest.skip("ngspice is not installed")
    longest = max(time for _, time in ends)
    measures = [
        f".measure tran m{n} find {what} at={time!r}" for n, (what, time) in enumerate(ends)
    ]
    stop = longest * 1.01
    text = "\n".join(
        ["* analogue", *lines, OPTIONS, f".tran {stop / 4000!r} {stop!r} 0 {stop / 4000!r} uic",
         *measures, ".end"]
    )  # fmt: skip
    source = folder / "analogue.cir"
    source.write_text(text + "\n", encoding="ascii")
    done = subprocess.run(
        [NGSPICE, "-b", str(source)], capture_output=True, text=True, timeout=60, check=False
    )
    found = dict(re.findall(r"^m(\d+)\s*=\s*(\S+)", done.stdout, re.MULTILINE))
    assert len(found) == len(ends), done.stdout + done.stderr
    return [float(found[str(n)]) for n in range(len(ends))]


@dataclass(frozen=True)
class Wire:
    body: transient.Body
    start_c: float
    current_a: float
    seconds: float


def wires() -> list[Wire]:
    """Thin to thick wires, from a light load to a short; numbers drawn, not from any table."""
    rng = np.random.default_rng(31)
    made = []
    for n in range(CASES):
        area = float(rng.choice([0.75, 1.5, 2.5, 6.0, 16.0, 35.0]))
        ambient = float(rng.uniform(20.0, 85.0))
        body = transient.Body(
            0.0185 / area, 0.00393, float(rng.uniform(2.0, 12.0)),
            transient.heat_capacity_j_per_m_k(area, 1.2 * area**0.5, 1.2 * area**0.5 + 1.4),
            ambient,
        )  # fmt: skip
        density = float(rng.uniform(4.0, 40.0))
        seconds = float(rng.uniform(0.2, 1.2)) * min(300.0, 2e4 / density**2)
        start = ambient + float(rng.uniform(0.0, 40.0)) * (n % 2)
        made.append(Wire(body, start, density * area, seconds))
    return made


def loss(wire: Wire, node: str) -> str:
    r20, alpha = wire.body.r20_ohm_per_m, wire.body.alpha_per_k
    return f"{wire.current_a!r}^2*{r20!r}*(1+{alpha!r}*(v({node})-20))"


@pytest.mark.parametrize("wire", wires(), ids=lambda w: f"{w.current_a:.0f}A-{w.seconds:.0f}s")
def test_heating_equals_its_analogue(wire: Wire, tmp_path: Path) -> None:
    lines = [
        f"B1 0 t i={loss(wire, 't')}",
        f"C1 t 0 {wire.body.heat_capacity_j_per_m_k!r} ic={wire.start_c!r}",
        f"R1 t air {wire.body.thermal_k_m_per_w!r}",
        f"V1 air 0 {wire.body.ambient_c!r}",
    ]
    times = [wire.seconds * share for share in (0.1, 0.4, 1.0)]
    found = run(lines, [("v(t)", time) for time in times], tmp_path)
    for time, volts in zip(times, found, strict=True):
        closed = transient.temperature_after(wire.body, wire.start_c, wire.current_a, time)
        assert closed == pytest.approx(volts, rel=RELATIVE)
        if volts > wire.start_c + 1.0:
            reached = transient.time_to(wire.body, wire.start_c, wire.current_a, volts)
            # The steady end of a heating is flat: there a whole stretch has one temperature.
            again = transient.temperature_after(wire.body, wire.start_c, wire.current_a, reached)
            assert again == pytest.approx(volts, rel=1e-6)


def test_the_wires_get_hot_enough_to_tell() -> None:
    """A lost term of the equation would show: most of them rise by over 50 K."""
    rises = [
        transient.temperature_after(w.body, w.start_c, w.current_a, w.seconds) - w.start_c
        for w in wires()
    ]
    assert sorted(rises)[CASES // 2] > 50.0


def test_duty_cycle_equals_its_analogue(tmp_path: Path) -> None:
    """35 mm² (R20 0.527 mΩ/m) at 400 A, 60 s in 10 min from 60 °C: the peak after many cycles."""
    body = transient.Body(
        0.527e-3, 0.00393, 3.6, transient.heat_capacity_j_per_m_k(35.0, 8.5, 10.4), 60.0
    )
    on, off = 60.0, 540.0
    cycle = on + off
    lines = [
        f"V2 g 0 pulse(0 1 0 1e-3 1e-3 {on!r} {cycle!r})",
        "B1 0 t i=v(g)*400^2*0.527e-3*(1+0.00393*(v(t)-20))",
        f"C1 t 0 {body.heat_capacity_j_per_m_k!r} ic=60",
        "R1 t air 3.6",
        "V1 air 0 60",
    ]
    (found,) = run(lines, [("v(t)", 5 * cycle + on)], tmp_path)
    peak = transient.periodic_peak(body, 400.0, on, off)
    assert peak == pytest.approx(found, rel=2e-3)  # the edges of the pulse fall between steps


@dataclass(frozen=True)
class Motor:
    volts_v: float
    winding_ohm: float
    loop_ohm: float
    inertia: float
    constant: float
    running_a: float


def motors() -> list[Motor]:
    rng = np.random.default_rng(32)
    made = []
    for _ in range(CASES):
        winding = float(rng.uniform(0.03, 0.6))
        loop = float(rng.uniform(0.0, 0.5)) * winding
        volts = float(rng.choice([11.5, 14.4, 28.8]))
        made.append(
            Motor(volts, winding, loop, float(rng.uniform(2e-5, 8e-4)),
                  float(rng.uniform(0.01, 0.06)),
                  float(rng.uniform(0.1, 0.4)) * volts / (winding + loop))
        )  # fmt: skip
    return made


@pytest.mark.parametrize("motor", motors(), ids=lambda m: f"{m.running_a:.0f}A")
def test_motor_start_equals_its_analogue(motor: Motor, tmp_path: Path) -> None:
    """Current at three moments, and the I²t that a fuse must let pass."""
    start = starting.motor_start(
        motor.volts_v, motor.winding_ohm, motor.loop_ohm, motor.inertia, motor.constant,
        motor.running_a,
    )  # fmt: skip
    mass = motor.inertia / motor.constant**2  # J/k² [F]
    lines = [
        f"V1 s 0 {motor.volts_v!r}",
        f"Rw s a {motor.winding_ohm!r}",
        f"Rl a w {motor.loop_ohm + 1e-9!r}",
        f"C1 w 0 {mass!r} ic=0",
        f"I1 w 0 {motor.running_a!r}",
        "B2 0 e i=i(V1)^2",  # the I²t so far is the voltage of 1 F
        "C2 e 0 1 ic=0",
        "R2 e 0 1e12",
    ]
    times = [share * start.tau_s for share in (0.3, 1.0, 4.0)]
    last = times[-1]
    found = run(lines, [("i(V1)", time) for time in times] + [("v(e)", last)], tmp_path)
    for time, current in zip(times, found, strict=False):
        assert start.current_a(time) == pytest.approx(-current, rel=5e-4)
        assert start.lasts_s(start.current_a(time)) == pytest.approx(time, rel=1e-9)
    excess = start.peak_a - start.running_a
    gone = 1.0 - np.exp(-last / start.tau_s)
    gone2 = 1.0 - np.exp(-2.0 * last / start.tau_s)
    i2t = (
        start.running_a**2 * last + 2.0 * start.running_a * excess * start.tau_s * gone
        + excess**2 * start.tau_s / 2.0 * gone2
    )  # fmt: skip
    assert i2t == pytest.approx(found[-1], rel=2e-3)


def test_the_same_start_behind_wire_is_that_of_the_motor() -> None:
    """A peak and fading measured at the motor, moved behind a loop, are the loop's own."""
    for motor in motors():
        bare = starting.motor_start(
            motor.volts_v, motor.winding_ohm, 0.0, motor.inertia, motor.constant, 0.0
        )
        moved = starting.behind_wire(
            bare.peak_a, motor.volts_v, bare.tau_s, motor.running_a, 1.2 * motor.volts_v,
            motor.loop_ohm,
        )  # fmt: skip
        whole = starting.motor_start(
            1.2 * motor.volts_v, motor.winding_ohm, motor.loop_ohm, motor.inertia,
            motor.constant, motor.running_a,
        )  # fmt: skip
        assert moved.peak_a == pytest.approx(whole.peak_a)
        assert moved.tau_s == pytest.approx(whole.tau_s)


def test_a_motor_that_cannot_start_is_refused() -> None:
    with pytest.raises(ValueError, match="does not start"):
        starting.motor_start(12.0, 0.5, 0.1, 1e-4, 0.02, 20.0)


@pytest.mark.parametrize("farads", [470e-6, 4700e-6, 0.1])
def test_capacitor_inrush_equals_its_analogue(farads: float, tmp_path: Path) -> None:
    volts, loop = 14.4, 0.06
    tau = loop * farads
    lines = [
        f"V1 s 0 {volts!r}", f"R1 s c {loop!r}", f"C1 c 0 {farads!r} ic=0",
        "B2 0 e i=i(V1)^2*1e3", "C2 e 0 1e-3 ic=0", "R2 e 0 1e12",
    ]  # fmt: skip
    found = run(lines, [("v(c)", tau), ("v(e)", 8.0 * tau)], tmp_path)
    assert loads.capacitor_v(volts, loop, farads, tau) == pytest.approx(found[0], rel=1e-3)
    # I²t in A²s: 1e3 times the current into 1 mF is 1e6 times it into 1 F.
    assert loads.capacitor_i2t(volts, farads, loop) == pytest.approx(found[1] / 1e6, rel=3e-3)
