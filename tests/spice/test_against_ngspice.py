"""Random networks solved here and by ngspice, a general circuit simulator: equal within 1e-6.

Feeds and returns are two separate random trees, so loads may share one and not the other. Every
load exponent occurs. Without ngspice the tests are skipped, but they fail where CI is set.
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

from circuitplan.physics import network

NETWORKS = 60
PER_RUN = 20
RELATIVE = 1e-6
EXPONENTS = (-1.0, 0.0, 0.55, 1.0, 1.65)
NGSPICE = shutil.which("ngspice")


@dataclass(frozen=True)
class Tree:
    """Node 0 is the source's post; segment k leads from ``parent[k]`` to node k + 1."""

    parent: list[int]
    ohm: list[float]

    def path(self, node: int) -> list[int]:
        segments = []
        while node:
            segments.append(node - 1)
            node = self.parent[node - 1]
        return segments


@dataclass(frozen=True)
class Case:
    emf_v: float
    feed: Tree
    back: Tree
    ends: list[tuple[int, int]]
    rated_a: network.Floats
    rated_v: network.Floats
    exponent: network.Floats

    def port_matrix(self) -> network.Floats:
        feeds = len(self.feed.ohm)
        paths = np.zeros((len(self.ends), feeds + len(self.back.ohm)))
        for row, (plus, minus) in enumerate(self.ends):
            paths[row, self.feed.path(plus)] = 1.0
            paths[row, [feeds + segment for segment in self.back.path(minus)]] = 1.0
        return network.port_matrix(paths, np.array(self.feed.ohm + self.back.ohm))


def random_tree(rng: np.random.Generator) -> Tree:
    segments = int(rng.integers(2, 8))
    parent = [int(rng.integers(0, node + 1)) for node in range(segments)]
    return Tree(parent, [float(ohm) for ohm in rng.uniform(0.5e-3, 25e-3, segments)])


def random_case(seed: int) -> Case:
    rng = np.random.default_rng(seed)
    emf_v = float(rng.choice([11.5, 12.0, 14.4, 28.8]))
    feed, back = random_tree(rng), random_tree(rng)
    count = int(rng.integers(5, 9))
    ends = [
        (int(rng.integers(1, len(feed.ohm) + 1)), int(rng.integers(1, len(back.ohm) + 1)))
        for _ in range(count)
    ]
    # The first five loads have one exponent each, so that every network has all of them.
    exponent = np.array([*EXPONENTS, *rng.choice(EXPONENTS, count - 5)])
    rated_v = np.full(count, 24.0 if emf_v > 20.0 else 12.0)
    return Case(emf_v, feed, back, ends, rng.uniform(0.5, 15.0, count), rated_v, exponent)


def netlist(cases: list[Case]) -> str:
    lines = ["* random vehicle networks, one beside the other"]
    prints = []
    for n, case in enumerate(cases):
        lines.append(f"V{n} f{n}_0 b{n}_0 {case.emf_v!r}")
        lines.append(f"Rground{n} b{n}_0 0 1e-3")
        nodes = " ".join(f"v(f{n}_{k})={case.emf_v!r}" for k in range(len(case.feed.ohm) + 1))
        lines.append(f".nodeset {nodes}")
        for letter, tree in (("f", case.feed), ("b", case.back)):
            lines += [
                f"R{letter}{n}_{k + 1} {letter}{n}_{parent} {letter}{n}_{k + 1} {ohm!r}"
                for k, (parent, ohm) in enumerate(zip(tree.parent, tree.ohm, strict=True))
            ]
        for k, (plus, minus) in enumerate(case.ends):
            across = f"v(f{n}_{plus},b{n}_{minus})"
            # The guard keeps the power law finite while ngspice starts from zero volts.
            law = f"pow(max({across},1)/{case.rated_v[k]!s},{case.exponent[k]!s})"
            lines.append(f"B{n}_{k} f{n}_{plus} b{n}_{minus} i={float(case.rated_a[k])!r}*{law}")
            prints.append(f"print v(f{n}_{plus})-v(b{n}_{minus})")
    options = ".options reltol=1e-9 abstol=1e-9 vntol=1e-10 gmin=1e-15 itl1=2000"
    control = [".control", "set numdgt=15", "op", *prints, ".endc", ".end"]
    return "\n".join([*lines, options, *control]) + "\n"


def simulate(cases: list[Case], folder: Path) -> list[list[float]]:
    assert NGSPICE is not None
    source = folder / "networks.cir"
    source.write_text(netlist(cases), encoding="ascii")
    run = subprocess.run(
        [NGSPICE, "-b", str(source)], capture_output=True, text=True, timeout=60, check=False
    )
    found = [float(text) for text in re.findall(r"^v\(f\S+ = (\S+)$", run.stdout, re.MULTILINE)]
    assert len(found) == sum(len(case.ends) for case in cases), run.stdout + run.stderr
    volts = []
    for case in cases:
        volts.append(found[: len(case.ends)])
        found = found[len(case.ends) :]
    return volts


@pytest.mark.parametrize("first", range(0, NETWORKS, PER_RUN))
def test_equals_ngspice(first: int, tmp_path: Path) -> None:
    if NGSPICE is None:
        if os.environ.get("CI"):
            pytest.fail("ngspice is not installed, and CI is set")
        pytest.skip("ngspice is not installed")
    cases = [random_case(seed) for seed in range(first, first + PER_RUN)]
    for case, volts in zip(cases, simulate(cases, tmp_path), strict=True):
        point = network.solve(
            case.emf_v, case.port_matrix(), case.rated_a, case.rated_v, case.exponent
        )
        assert point.found
        assert point.volts == pytest.approx(volts, rel=RELATIVE)


def test_networks_are_loaded_enough_to_tell() -> None:
    """A wrong load law or a lost shared segment would show: most networks drop over 3 %."""
    drops = []
    for seed in range(NETWORKS):
        case = random_case(seed)
        point = network.solve(
            case.emf_v, case.port_matrix(), case.rated_a, case.rated_v, case.exponent
        )
        drops.append(1.0 - float(point.volts.min()) / case.emf_v)
    assert np.median(drops) > 0.03
    assert max(drops) > 0.1
