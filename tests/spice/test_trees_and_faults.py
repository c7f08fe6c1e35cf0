"""200 random trees of wire, loaded and shorted, solved here and by ngspice.

Each tree has a feeding side and a return side of its own shape, source resistance, and loads of
every exponent. Then a bolted short is put across each load's ends in turn, with all loads off.
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

from circuitplan.physics import network

TREES = 200
PER_RUN = 25
RELATIVE = 1e-6
EXPONENTS = (-1.0, 0.0, 0.55, 1.0, 1.65)
NGSPICE = shutil.which("ngspice")


@dataclass(frozen=True)
class Side:
    """Segment k leads from node ``parent[k]`` to node k + 1; node 0 is the source's post."""

    parent: list[int]
    ohm: list[float]

    def way(self, node: int) -> set[int]:
        found = set()
        while node:
            found.add(node - 1)
            node = self.parent[node - 1]
        return found


@dataclass(frozen=True)
class Tree:
    emf_v: float
    source_ohm: float
    feed: Side
    back: Side
    ends: list[tuple[int, int]]
    rated_a: list[float]
    exponent: list[float]

    def z(self) -> network.Floats:
        """Shared resistance of every two loads, written out pair by pair."""
        count = len(self.ends)
        found = np.full((count, count), self.source_ohm)
        for i, (plus, minus) in enumerate(self.ends):
            for j, (other_plus, other_minus) in enumerate(self.ends):
                found[i, j] += sum(
                    self.feed.ohm[k] for k in self.feed.way(plus) & self.feed.way(other_plus)
                )
                found[i, j] += sum(
                    self.back.ohm[k] for k in self.back.way(minus) & self.back.way(other_minus)
                )
        return found

    def port_matrix(self) -> network.Floats:
        """The same from the project's paths; the source's resistance is one more segment."""
        feeds = len(self.feed.ohm)
        paths = np.zeros((len(self.ends), feeds + len(self.back.ohm) + 1))
        paths[:, -1] = 1.0
        for row, (plus, minus) in enumerate(self.ends):
            paths[row, list(self.feed.way(plus))] = 1.0
            paths[row, [feeds + k for k in self.back.way(minus)]] = 1.0
        ohm = np.array([*self.feed.ohm, *self.back.ohm, self.source_ohm])
        return network.port_matrix(paths, ohm)


def random_side(rng: np.random.Generator) -> Side:
    segments = int(rng.integers(1, 10))
    parent = [int(rng.integers(0, node + 1)) for node in range(segments)]
    return Side(parent, [float(ohm) for ohm in rng.uniform(0.2e-3, 20e-3, segments)])


def random_tree(seed: int) -> Tree:
    rng = np.random.default_rng([77, seed])
    feed, back = random_side(rng), random_side(rng)
    count = int(rng.integers(1, 7))
    ends = [
        (int(rng.integers(1, len(feed.ohm) + 1)), int(rng.integers(1, len(back.ohm) + 1)))
        for _ in range(count)
    ]
    return Tree(
        float(rng.choice([11.5, 13.0, 14.4])), float(rng.uniform(1e-3, 15e-3)), feed, back, ends,
        [float(a) for a in rng.uniform(0.5, 12.0, count)],
        [float(m) for m in rng.choice(EXPONENTS, count)],
    )  # fmt: skip


def wires(tree: Tree, name: str) -> list[str]:
    lines = [f"V{name} p{name} b{name}_0 {tree.emf_v!r}",
             f"Rs{name} p{name} f{name}_0 {tree.source_ohm!r}",
             f"Rg{name} b{name}_0 0 1e-3"]  # fmt: skip
    for letter, side in (("f", tree.feed), ("b", tree.back)):
        lines += [
            f"R{letter}{name}_{k + 1} {letter}{name}_{parent} {letter}{name}_{k + 1} {ohm!r}"
            for k, (parent, ohm) in enumerate(zip(side.parent, side.ohm, strict=True))
        ]
    return lines


def netlist(trees: list[Tree]) -> str:
    lines, prints = ["* trees, loaded and shorted"], []
    for n, tree in enumerate(trees):
        lines += wires(tree, f"{n}w")
        starts = [f"v(f{n}w_{k})={tree.emf_v!r}" for k in range(len(tree.feed.ohm) + 1)]
        lines.append(".nodeset " + " ".join(starts))
        for k, (plus, minus) in enumerate(tree.ends):
            across = f"v(f{n}w_{plus},b{n}w_{minus})"
            # The guard keeps the power law finite while ngspice starts from zero volts.
            law = f"pow(max({across},1)/12,{tree.exponent[k]!r})"
            lines.append(f"Bl{n}_{k} f{n}w_{plus} b{n}w_{minus} i={tree.rated_a[k]!r}*{law}")
            prints.append(f"print v(f{n}w_{plus})-v(b{n}w_{minus})")
        for k, (plus, minus) in enumerate(tree.ends):
            name = f"{n}s{k}"
            lines += wires(tree, name)
            lines.append(f"Vx{name} f{name}_{plus} b{name}_{minus} 0")  # the short, and its meter
            prints.append(f"print i(vx{name})")
    options = ".options reltol=1e-9 abstol=1e-9 vntol=1e-10 gmin=1e-15 itl1=2000"
    control = [".control", "set numdgt=15", "op", *prints, ".endc", ".end"]
    return "\n".join([*lines, options, *control]) + "\n"


def simulate(trees: list[Tree], folder: Path) -> list[tuple[list[float], list[float]]]:
    """(volts of the loads, current of each short) of every tree."""
    assert NGSPICE is not None
    source = folder / "trees.cir"
    source.write_text(netlist(trees), encoding="ascii")
    done = subprocess.run(
        [NGSPICE, "-b", str(source)], capture_output=True, text=True, timeout=120, check=False
    )
    values = re.findall(r"^(?:v\(f|i\(vx)\S+ = (\S+)$", done.stdout, re.MULTILINE)
    found = [float(text) for text in values]
    assert len(found) == 2 * sum(len(t.ends) for t in trees), done.stdout[-2000:] + done.stderr
    results = []
    for tree in trees:
        count = len(tree.ends)
        results.append((found[:count], found[count : 2 * count]))
        found = found[2 * count :]
    return results


@pytest.mark.parametrize("first", range(0, TREES, PER_RUN))
def test_loaded_and_shorted_trees_equal_ngspice(first: int, tmp_path: Path) -> None:
    if NGSPICE is None:
        if os.environ.get("CI"):
            pytest.fail("ngspice is not installed, and CI is set")
        pytest.skip("ngspice is not installed")
    trees = [random_tree(seed) for seed in range(first, first + PER_RUN)]
    for tree, (volts, shorts) in zip(trees, simulate(trees, tmp_path), strict=True):
        z = tree.port_matrix()
        assert z == pytest.approx(tree.z(), rel=1e-12)
        point = network.solve(
            tree.emf_v, z, np.array(tree.rated_a), np.full(len(tree.ends), 12.0),
            np.array(tree.exponent),
        )  # fmt: skip
        assert point.found
        assert point.volts == pytest.approx(volts, rel=RELATIVE)
        assert tree.emf_v / np.diag(z) == pytest.approx(shorts, rel=RELATIVE)


def test_faults_are_spread_over_what_vehicles_have() -> None:
    faults = np.concatenate([random_tree(s).emf_v / np.diag(random_tree(s).z())
                             for s in range(TREES)])  # fmt: skip
    assert len(faults) > 500
    assert faults.min() < 250.0
    assert faults.max() > 1000.0
